package polymer

import "hopperful/quantity"

// zero is 0 °C in K: the bands below are easier to judge in °C.
const zero = 273.15

// The bands are judgement unless they name a reason: wide enough for any
// unfilled thermoplastic a printer takes, narrow enough to catch a wrong unit.
const judged = "judgement"

// descriptions is the list of properties. The order is that of the pages.
var descriptions = []Description{
	{Density, "ρ", quantity.Density, 850, 1750, judged, LogNormal, 1.008},
	{GlassTransition, "T_g", quantity.Temperature, zero - 130, zero + 160, judged, Normal, 5},
	{MeltingPoint, "T_m", quantity.Temperature, zero + 100, zero + 290, judged, Normal, 5},
	{Crystallinity, "χ", quantity.Share, 0, 0.85, judged, Logit, 1.25},
	{HeatDeflection, "HDT", quantity.Temperature, zero + 40, zero + 200, judged, Normal, 5},
	{Softening, "T_s", quantity.Temperature, zero + 40, zero + 180, judged, Normal, 3},
	{SpecificHeatSolid, "c_p", quantity.SpecificHeat, 800, 2500, judged, LogNormal, 1.1},
	{SpecificHeatMelt, "c_m", quantity.SpecificHeat, 1300, 3200, judged, LogNormal, 1.1},
	{Conductivity, "λ", quantity.Conductivity, 0.05, 1, judged, LogNormal, 1.15},
	{HeatOfFusion, "Δh", quantity.SpecificEnergy, 50e3, 320e3, judged, LogNormal, 1.08},
	{WaterRoom, "w_23/50", quantity.Share, 0, 0.12, judged, Logit, 1.4},
	{WaterSaturated, "w_sat", quantity.Share, 0, 0.15, judged, Logit, 1.3},
	{WaterDiffusivity, "D", quantity.Diffusivity, 1e-14, 1e-9, judged, LogNormal, 2},
	{WaterActivation, "E_D", quantity.Number, 10e3, 120e3, judged, LogNormal, 1.15},
	{DryingTemperature, "T_dry", quantity.Temperature, zero + 35, zero + 180, judged, Normal, 3},
	{DryingTime, "t_dry", quantity.Duration, 1800, 24 * 3600, judged, LogNormal, 1.3},
	{MoistureLimit, "w_max", quantity.Share, 10e-6, 0.005, judged, Logit, 1.3},
	{MeltLow, "T_lo", quantity.Temperature, zero + 150, zero + 290, judged, Normal, 5},
	{MeltHigh, "T_hi", quantity.Temperature, zero + 180, zero + 350, judged, Normal, 5},
	{MeltCeiling, "T_max", quantity.Temperature, zero + 180, zero + 350, judged, Normal, 5},
	{PrintTemperature, "T_p", quantity.Temperature, zero + 160, zero + 310, judged, Normal, 8},
	{TensileStrength, "σ", quantity.Pressure, 10e6, 100e6, judged, LogNormal, 1.15},
	{ImpactNotched, "a_n", quantity.ImpactStrength, 1e3, 200e3, judged, LogNormal, 1.4},
	{ImpactUnnotched, "a_u", quantity.ImpactStrength, 5e3, 300e3, judged, LogNormal, 1.3},
	{GrindDifficulty, "g", quantity.Number, 1, 5, "the scale", LogNormal, 1.15},
	{BreakageResistance, "f", quantity.Number, 0.5, 30, judged, LogNormal, 1.4142135623730951},
	{MeltFlowRate, "MFR", quantity.MeltFlow, 0.1 / 6e5, 100 / 6e5, judged, LogNormal, 2},
	{BulkChips, "ρ_b", quantity.Density, 200, 800, judged, LogNormal, 1.12},
	{BulkThin, "ρ_b", quantity.Density, 120, 600, judged, LogNormal, 1.15},
	{BulkPellets, "ρ_b", quantity.Density, 450, 950, judged, LogNormal, 1.05},
	{RefractiveIndex, "n_D", quantity.Number, 1.4, 1.65, judged, LogNormal, 1.003},
	{CrossN, "n", quantity.Number, 0.01, 1, "the model's range", Exact, 1},
	{CrossD1, "D1", quantity.Viscosity, 10, 1e13, judged, LogNormal, 2},
	{CrossD2, "D2", quantity.Temperature, 300, 620, judged, Exact, 0},
	{CrossA1, "A1", quantity.Number, 1, 1e6, judged, Exact, 1},
	{CrossA2, "A2", quantity.TemperatureDifference, 10, 1e8, judged, Exact, 0},
	{CrossTau, "τ*", quantity.Pressure, 1e3, 1e6, judged, Exact, 1},
	{PowerM, "m", quantity.Viscosity, 100, 1e5, judged, LogNormal, 2},
	{PowerN, "n", quantity.Number, 0.1, 1, "the model's range", Exact, 1},
	{PowerFold, "ΔT_e", quantity.TemperatureDifference, 20, 1000, judged, Exact, 0},
	{PowerT0, "T0", quantity.Temperature, zero + 150, zero + 320, judged, Exact, 0},
	{Greenhouse, "g", quantity.Number, 0.1, 12, judged, LogNormal, 1.2},
	{CradleEnergy, "E", quantity.SpecificEnergy, 20e6, 150e6, judged, LogNormal, 1.15},
}
