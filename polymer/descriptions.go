package polymer

import "hopperful/quantity"

// zero is 0 °C in K: the bands below are easier to judge in °C.
const zero = 273.15

// The bands are judgement unless they name a reason: wide enough for any
// unfilled thermoplastic a printer takes, narrow enough to catch a wrong unit.
const judged = "judgement: any unfilled printing thermoplastic"

// descriptions is the list of properties. The order is that of the pages.
var descriptions = []Description{
	{Density, "ρ", "density of the solid", quantity.Density, 850, 1750,
		"judgement: polypropylene is the lightest, PVC the heaviest listed", LogNormal, 1.008, "mass from volume, packing share, float or sink"},
	{GlassTransition, "T_g", "glass transition", quantity.Temperature, zero - 130, zero + 160, judged, Normal, 5, "softening of amorphous plastic, drying limit"},
	{MeltingPoint, "T_m", "melting temperature", quantity.Temperature, zero + 100, zero + 290, judged, Normal, 5, "where crystals go"},
	{Crystallinity, "χ", "crystallinity", quantity.Share, 0, 0.85, judged, Logit, 1.25, "share of the heat of fusion that has to be paid"},
	{HeatDeflection, "HDT", "heat deflection or Vicat temperature", quantity.Temperature, zero + 40, zero + 200, judged, Normal, 5, "feeds the softening temperature"},
	{Softening, "T_s", "softening temperature", quantity.Temperature, zero + 40, zero + 180, judged, Normal, 3, "the limit of a charge in the mill"},
	{SpecificHeatSolid, "c_p", "specific heat of the solid", quantity.SpecificHeat, 800, 2500, judged, LogNormal, 1.1, "how fast a charge warms"},
	{SpecificHeatMelt, "c_m", "specific heat of the melt", quantity.SpecificHeat, 1300, 3200, judged, LogNormal, 1.1, "heater power"},
	{Conductivity, "λ", "heat conductivity", quantity.Conductivity, 0.05, 1, "judgement: no solid unfilled polymer is outside 0.05 to 1 W/(m K)", LogNormal, 1.15, "how fast a grain follows its surface"},
	{HeatOfFusion, "Δh", "heat of fusion of a full crystal", quantity.SpecificEnergy, 50e3, 320e3, judged, LogNormal, 1.08, "heater power; multiply by the crystallinity"},
	{WaterRoom, "w_23/50", "water taken up in room air", quantity.Share, 0, 0.12, judged, Logit, 1.4, "how wet a bin is that stood open"},
	{WaterSaturated, "w_sat", "water taken up under water", quantity.Share, 0, 0.15, judged, Logit, 1.3, "scale of the moisture model"},
	{WaterDiffusivity, "D", "diffusivity of water at 50 °C", quantity.Diffusivity, 1e-14, 1e-9, judged, LogNormal, 2, "drying time"},
	{WaterActivation, "E_D", "activation energy of that diffusion, in J/mol", quantity.Number, 10e3, 120e3, judged, LogNormal, 1.15, "drying time at other temperatures"},
	{DryingTemperature, "T_dry", "drying temperature", quantity.Temperature, zero + 35, zero + 180, judged, Normal, 3, "dryer setting"},
	{DryingTime, "t_dry", "drying time", quantity.Duration, 1800, 24 * 3600, judged, LogNormal, 1.3, "dryer setting"},
	{MoistureLimit, "w_max", "highest moisture for the melt", quantity.Share, 10e-6, 0.005, judged, Logit, 1.3, "when to dry"},
	{MeltLow, "T_lo", "lowest melt temperature", quantity.Temperature, zero + 150, zero + 290, judged, Normal, 5, "printing window"},
	{MeltHigh, "T_hi", "highest usual melt temperature", quantity.Temperature, zero + 180, zero + 350, judged, Normal, 5, "printing window"},
	{MeltCeiling, "T_max", "temperature not to exceed", quantity.Temperature, zero + 180, zero + 350, judged, Normal, 5, "where it breaks down"},
	{PrintTemperature, "T_p", "usual nozzle temperature", quantity.Temperature, zero + 160, zero + 310, judged, Normal, 8, "start value for a granule printer"},
	{TensileStrength, "σ", "tensile strength", quantity.Pressure, 10e6, 100e6, judged, LogNormal, 1.15, "what a part holds"},
	{ImpactNotched, "a_n", "notched impact strength", quantity.ImpactStrength, 1e3, 200e3, judged, LogNormal, 1.4, "fracture energy of a piece in the mill"},
	{ImpactUnnotched, "a_u", "un-notched impact strength", quantity.ImpactStrength, 5e3, 300e3, judged, LogNormal, 1.3, "toughness of smooth pieces; none where nothing breaks"},
	{GrindDifficulty, "g", "grinding difficulty", quantity.Number, 1, 5, "the scale: 1 easy, 5 hard", LogNormal, 1.15, "ordering aid, feeds the breakage resistance"},
	{BreakageResistance, "f", "resistance to breakage against PLA", quantity.Number, 0.5, 30, judged, LogNormal, 1.4142135623730951, "divides the breakage rate per specific energy"},
	{MeltFlowRate, "MFR", "melt flow rate", quantity.MeltFlow, 0.1 / 6e5, 100 / 6e5, judged, LogNormal, 2, "how runny the melt is"},
	{BulkChips, "ρ_b", "bulk density of chips", quantity.Density, 200, 800, judged, LogNormal, 1.12, "jar fill, feed of the screw"},
	{BulkThin, "ρ_b", "bulk density of ground thin walls", quantity.Density, 120, 600, judged, LogNormal, 1.15, "jar fill, feed of the screw"},
	{BulkPellets, "ρ_b", "bulk density of bought pellets", quantity.Density, 450, 950, judged, LogNormal, 1.05, "comparison with regrind"},
	{RefractiveIndex, "n_D", "refractive index", quantity.Number, 1.4, 1.65, judged, LogNormal, 1.003, "surface reflection in colour mixing"},
	{CrossN, "n", "Cross exponent", quantity.Number, 0.01, 1, "the model's own range", Exact, 1, "Cross–WLF viscosity"},
	{CrossD1, "D1", "Cross–WLF viscosity at the reference temperature", quantity.Viscosity, 10, 1e13, judged, LogNormal, 2, "Cross–WLF viscosity; carries the scatter of the set"},
	{CrossD2, "D2", "Cross–WLF reference temperature", quantity.Temperature, 300, 620, judged, Exact, 0, "Cross–WLF viscosity"},
	{CrossA1, "A1", "Cross–WLF A1", quantity.Number, 1, 1e6, judged, Exact, 1, "Cross–WLF viscosity"},
	{CrossA2, "A2", "Cross–WLF A2", quantity.TemperatureDifference, 10, 1e8, judged, Exact, 0, "Cross–WLF viscosity"},
	{CrossTau, "τ*", "Cross critical stress", quantity.Pressure, 1e3, 1e6, judged, Exact, 1, "Cross–WLF viscosity"},
	{PowerM, "m", "power-law viscosity at 1/s", quantity.Viscosity, 100, 1e5, judged, LogNormal, 2, "power-law viscosity; carries the scatter of the set"},
	{PowerN, "n", "power-law exponent", quantity.Number, 0.1, 1, "the model's own range for shear-thinning melts", Exact, 1, "power-law viscosity"},
	{PowerFold, "ΔT_e", "heating that thins the melt by a factor e", quantity.TemperatureDifference, 20, 1000, judged, Exact, 0, "power-law viscosity: 1/|a| of exp(a(T − T0))"},
	{PowerT0, "T0", "power-law reference temperature", quantity.Temperature, zero + 150, zero + 320, judged, Exact, 0, "power-law viscosity"},
	{Greenhouse, "g", "greenhouse gas of virgin resin, kg CO2e per kg", quantity.Number, 0.1, 12, judged, LogNormal, 1.2, "what re-use saves"},
	{CradleEnergy, "E", "energy to make virgin resin", quantity.SpecificEnergy, 20e6, 150e6, judged, LogNormal, 1.15, "what re-use saves"},
}
