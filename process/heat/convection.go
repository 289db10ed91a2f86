package heat

// Free convection from plates and cylinders.

import (
	"math"

	"hopperful/process"
)

func checkFlow(ra, raMax, pr float64) error {
	if err := process.Within("Rayleigh number", ra, 0, raMax, "", "ChurchillChu1975"); err != nil {
		return err
	}
	return process.Within("Prandtl number", pr, 1e-3, 1e4, "", "judgement")
}

// NusseltPlate returns the mean Nusselt number of a vertical plate [–].
//
//	ra  Rayleigh number of its height [–], 0 to 1e12
//	pr  Prandtl number [–], 1e-3 to 1e4
//
// Equation: Nu = (0.825 + 0.387 Ra^(1/6)/(1 + (0.492/Pr)^(9/16))^(8/27))².
// Holds for: laminar and turbulent flow; a vertical cylinder counts as a plate where D/L ≥ 35/Gr^¼ and loses more heat where it is slimmer.
// Source: ChurchillChu1975.
// Errors: RangeError for ra or pr out of range.
// Checks: NusseltPlate rows of checks.csv (2 published).
func NusseltPlate(ra, pr float64) (float64, error) {
	if err := checkFlow(ra, 1e12, pr); err != nil {
		return 0, err
	}
	root := 0.825 + 0.387*math.Pow(ra, 1./6)/math.Pow(1+math.Pow(0.492/pr, 9./16), 8./27)
	return root * root, nil
}

// NusseltLid returns the mean Nusselt number of a horizontal plate that is
// warm on top [–].
//
//	ra  Rayleigh number of area over perimeter [–], 0 to 1e11
//
// Equation: Nu = 0.54 Ra^¼ up to Ra = 1e7, then 0.15 Ra^⅓.
// Holds for: Ra of 1e4 to 1e11; below it reads low.
// Source: from memory.
// Errors: RangeError for ra out of range.
// Checks: NusseltLid rows of checks.csv (2 from memory).
func NusseltLid(ra float64) (float64, error) {
	if err := process.Within("Rayleigh number", ra, 0, 1e11, "", "from memory"); err != nil {
		return 0, err
	}
	if ra <= 1e7 {
		return 0.54 * math.Pow(ra, 0.25), nil
	}
	return 0.15 * math.Cbrt(ra), nil
}
