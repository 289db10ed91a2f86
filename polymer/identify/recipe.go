package identify

import (
	"hopperful/process"
)

// Recipe is how to mix a liquid of a wanted density.
type Recipe struct {
	Liquid      Liquid
	Strength    float64 // mass share of what goes into the water [1]
	Density     float64 // what comes out [kg/m³]
	Temperature float64 // at which that holds [K]
	PerLitre    float64 // of it to a litre of water at that temperature [kg]
	PerKelvin   float64 // fall of the density as it warms by one kelvin [kg/(m³ K)]
}

// StrengthFor returns the strength at which a liquid has a density [1].
//
//	l  one of [Liquids] but water
//	rho  wanted density [kg/m³], between the liquid's ends at T
//	T  temperature [K], 283.15 to 308.15
//
// Equation: the root of ρ(w, T) = ρ by halving; ρ rises or falls with w throughout.
// Holds for: as Density.
// Source: own derivation
// Errors: RangeError for a density the liquid does not reach.
// Checks: StrengthFor rows of checks.csv.
func StrengthFor(l Liquid, rho, T float64) (float64, error) {
	lo, hi := l.Span()
	first, err := Density(l, lo, T)
	if err != nil {
		return 0, err
	}
	last, err := Density(l, hi, T)
	if err != nil {
		return 0, err
	}
	if err := process.Within("density of "+string(l), rho, min(first, last), max(first, last), "kg/m³", l.Sources()[0]); err != nil {
		return 0, err
	}
	for range 60 { // halves to below the last digit of a float64
		mid := lo + (hi-lo)/2
		at, err := Density(l, mid, T)
		if err != nil {
			return 0, err
		}
		if (at < rho) == (first < last) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo + (hi-lo)/2, nil
}

// RecipeFor returns how to mix a liquid of a density.
//
//	l  one of [Liquids]
//	rho  wanted density [kg/m³], between the liquid's ends at T
//	T  temperature [K], 283.15 to 308.15
//
// Equation: m = w/(1 − w) ρ_water(T) for each m³ of water, so kg to a litre after ÷ 1000.
// Holds for: as Density; weigh, because a heap of salt is not a measure.
// Source: own derivation
// Errors: RangeError for a density the liquid does not reach, or that needs it without any water.
// Checks: RecipeFor rows of checks.csv.
func RecipeFor(l Liquid, rho, T float64) (Recipe, error) {
	w, err := StrengthFor(l, rho, T)
	if err != nil {
		return Recipe{}, err
	}
	if err := process.Within("strength of "+string(l), w, 0, 0.98, "", "own derivation"); err != nil {
		return Recipe{}, err // nearly pure: grams to a litre of water mean nothing
	}
	return RecipeOf(l, w, T)
}

// RecipeOf returns how to mix a liquid of a strength.
//
//	l  one of [Liquids]
//	w  strength, mass share [1], within the liquid's Span, below 1
//	T  temperature [K], 283.15 to 308.15
//
// Equation: as RecipeFor.
// Holds for: as Density.
// Source: own derivation
// Errors: RangeError for a strength or temperature outside.
// Checks: RecipeOf rows of checks.csv.
func RecipeOf(l Liquid, w, T float64) (Recipe, error) {
	rho, err := Density(l, w, T)
	if err != nil {
		return Recipe{}, err
	}
	if err := process.Within("strength of "+string(l), w, 0, 0.999, "", "own derivation"); err != nil {
		return Recipe{}, err
	}
	water, err := WaterDensity(T)
	if err != nil {
		return Recipe{}, err
	}
	step := 0.5 // K, inside the range on one side at least
	if T+step > warmest {
		step = -step
	}
	other, err := Density(l, w, T+step)
	if err != nil {
		return Recipe{}, err
	}
	return Recipe{
		Liquid: l, Strength: w, Density: rho, Temperature: T,
		PerLitre: w / (1 - w) * water / 1000, PerKelvin: (rho - other) / step,
	}, nil
}
