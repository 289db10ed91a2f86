package identify

import "hopperful/process"

// The constants of the international formula for ethanol and water: densities
// at 20 °C by powers of the mass share, water by powers of t − 20 °C, and the
// mixed terms, one row a power of t − 20 °C.
var (
	ethanolA = []float64{998.20123, -192.9769495, 389.1238958, -1668.103923, 13522.15441, -88292.78388,
		306287.4042, -613838.1234, 747017.2998, -547846.1354, 223446.0334, -39032.85426}
	ethanolB = []float64{0, -0.20618513, -5.2682542e-3, 3.6130013e-5, -3.8957702e-7, 7.169354e-9, -9.9739231e-11}
	ethanolC = [][]float64{
		{0, 0.1693443461530087, -10.46914743455169, 71.96353469546523, -704.7478054272792, 3924.090430035045, -12101.64659068747,
			22486.46550400788, -26055.62982188164, 18523.73922069467, -7420.201433430137, 1285.617841998974},
		{0, -0.01193013005057010, 0.2517399633803461, -2.170575700536993, 13.53034988843029, -50.29988758547014, 109.6355666577570,
			-142.2753946421155, 108.0435942856230, -44.14153236817392, 7.442971530188783},
		{0, -6.802995733503803e-4, 0.01876837790289664, -0.2002561813734156, 1.022992966719220, -2.895696483903638, 4.810060584300675,
			-4.672147440794683, 2.458043105903461, -0.5411227621436812},
		{0, 4.075376675622027e-6, -8.763058573471110e-6, 6.515031360099368e-6, -1.515784836987210e-6},
		{0, -2.788074354782409e-8, 1.345612883493354e-8},
	}
)

// EthanolDensity returns the density of a mixture of ethanol and water [kg/m³].
//
//	p  mass share of ethanol [1], 0 to 1
//	T  temperature [K], 273.15 to 313.15
//
// Equation: ρ = Σ A_k p^k + Σ B_k (t − 20)^k + Σ Σ C_ik p^k (t − 20)^i, t in °C.
// Holds for: pure ethanol and water; denatured spirit and sugar in it shift it,
// so a hydrometer goes before the formula. The law's range goes down to −20 °C
// where nothing freezes; here it ends at 0 °C.
// Source: OIML1973
// Errors: RangeError outside the ranges of p and T.
// Checks: EthanolDensity rows of checks.csv (2 published, 9 own derivation, 5 from memory, 2 errors).
func EthanolDensity(p, T float64) (float64, error) {
	if err := process.Within("ethanol share", p, 0, 1, "", "OIML1973"); err != nil {
		return 0, err
	}
	if err := process.Within("liquid temperature", T, zero, zero+40, "K", "OIML1973"); err != nil {
		return 0, err
	}
	t := T - zero - 20
	rho, power := powers(ethanolA, p)+powers(ethanolB, t), 1.0
	for _, row := range ethanolC {
		power *= t
		rho += power * powers(row, p)
	}
	return rho, nil
}

// powers is c0 + c1 x + c2 x² and so on, by Horner's rule.
func powers(c []float64, x float64) float64 {
	sum := 0.0
	for i := len(c) - 1; i >= 0; i-- {
		sum = sum*x + c[i]
	}
	return sum
}
