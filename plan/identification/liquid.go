package identification

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/polymer/identify"
	"hopperful/process"
	"hopperful/quantity"
	"hopperful/shop"
)

// LiquidRequest asks how to mix a liquid: of a density or of a strength.
type LiquidRequest struct {
	Liquid      identify.Liquid
	Density     float64 // wanted [kg/m³]; 0: by strength
	Strength    float64 // mass share of what goes into the water [1]
	Temperature float64 // at which it is used [K]; 0: UsualTemperature
}

// LiquidMix is how to mix a liquid, and what floats in it, as the page draws it.
type LiquidMix struct {
	answer.Document
	Density float64         // [kg/m³]
	Floats  []figure.Figure // chance that a solid chip of each material floats
	Spread  []figure.Figure // how dense each material's grades are, lightest first
}

// UsualTemperature is taken for a liquid nobody measured [K]: 20 °C, where most tables of
// densities stand. Source: common practice, no source.
const UsualTemperature = zeroCelsius + 20

// solute is what goes into the water of a liquid, and what to mind.
func solute(l identify.Liquid) (what, mind fact.Saying) {
	switch l {
	case identify.Brine:
		return fact.Say("identification.salt"), mind
	case identify.Ethanol:
		return fact.Say("identification.pure_ethanol"), fact.Say("identification.mind_ethanol")
	case identify.Propanol:
		return fact.Say("identification.pure_propanol"), fact.Say("identification.mind_propanol")
	case identify.Sugar:
		return fact.Say("identification.pure_sugar"), mind
	}
	return fact.Say("identification.dry_chloride"), fact.Say("identification.mind_chloride")
}

// Liquid says how to mix a liquid and what floats in it.
func Liquid(r LiquidRequest) (LiquidMix, error) {
	if r.Temperature == 0 {
		r.Temperature = UsualTemperature
	}
	mix, err := identify.RecipeOf(r.Liquid, r.Strength, r.Temperature)
	if r.Density != 0 {
		if r.Liquid == identify.Water {
			return LiquidMix{}, shop.Refuse(shop.Invalid, "density", fact.Say("identification.water_is_water"), fact.Say("identification.name_another_liquid"))
		}
		mix, err = identify.RecipeFor(r.Liquid, r.Density, r.Temperature)
	}
	if err != nil {
		return LiquidMix{}, liquidRefusal(err)
	}
	out := LiquidMix{Density: mix.Density}
	figures := mixFigures(mix)
	at := fact.Set("at", quantity.Temperature, mix.Temperature)
	out.Figures = figures
	if r.Liquid == identify.Water {
		out.Head = answer.Found(fact.Say("identification.water_of", at, densityFact(mix.Density)))
	} else {
		what, mind := solute(r.Liquid)
		out.Head = answer.Found(fact.Say("identification.mix", fact.Measured("mass", quantity.Mass, mix.PerLitre), fact.Parts("what", what), densityFact(mix.Density), at))
		out.Steps = append(out.Steps, answer.Action{Do: fact.Say("identification.weigh_it"), Why: fact.Say("identification.check_it")})
		if !mind.Empty() {
			out.Cautions = append(out.Cautions, answer.Found(mind))
		}
	}
	if r.Liquid == identify.Sugar {
		out.Spoilers = append(out.Spoilers, answer.Found(fact.Say("identification.thick")))
	}
	return out, out.floating(mix.Density)
}

// LiquidDensity is how dense a liquid of a strength by mass is [kg/m³].
func LiquidDensity(l identify.Liquid, strength, temperature float64) (float64, error) {
	rho, err := identify.Density(l, strength, temperature)
	if err != nil {
		return 0, liquidRefusal(err)
	}
	return rho, nil
}

func mixFigures(mix identify.Recipe) []figure.Figure {
	cite := func(f figure.Figure) figure.Figure {
		for _, key := range mix.Liquid.Sources() {
			f = f.Cite(key, "")
		}
		return f
	}
	at := figure.Exact("temperature", "identification.temperature", quantity.Temperature, mix.Temperature, figure.Entered)
	rho := cite(figure.Exact("density", "identification.liquid_density", quantity.Density, mix.Density, figure.Reckoned).From("identification.how_table", at))
	fall := cite(figure.Exact("fall", "identification.fall", quantity.Density, mix.PerKelvin, figure.Reckoned).From("identification.how_fall", at))
	if mix.Liquid == identify.Water {
		return []figure.Figure{rho, fall}
	}
	w := cite(figure.Exact("strength", "identification.strength", quantity.Share, mix.Strength, figure.Reckoned).From("identification.how_strength", rho))
	per := figure.Exact("per_litre", "identification.per_litre", quantity.Mass, mix.PerLitre, figure.Reckoned).From("m = w/(1 − w) · ρ_water", w)
	return []figure.Figure{rho, w, per, fall}
}

// floating lists the chance of floating for every material.
func (m *LiquidMix) floating(rho float64) error {
	book := identify.Books()
	chances, err := book.Chances(identify.Finding{Test: "floats", Yes: true, At: rho})
	if err != nil {
		return liquidRefusal(err)
	}
	t := answer.Table{Key: "floats", Leads: true, Columns: []answer.Column{{Key: "material"}, {Key: "floats", Numbers: true}}}
	for i, c := range book.Candidates {
		if c.Grade != "" || c.Name == "other" {
			continue
		}
		f := figure.Exact("floats_"+keyOf(c.Name), c.Name, quantity.Share, chances[i], figure.Reckoned).
			From("p = 0.02 + 0.96 · Φ((ρ − μ)/σ)", m.Figures[0]).Cite("judgement", "densities of grades")
		m.Floats = append(m.Floats, f)
		mean, sd := c.Density()
		spread := figure.Exact("spread_"+keyOf(c.Name), c.Name, quantity.Density, mean, figure.Books).Cite("judgement", "densities of grades")
		spread.Low, spread.High = mean-answer.Ninety*sd, mean+answer.Ninety*sd
		m.Spread = append(m.Spread, spread)
		t.Rows = append(t.Rows, []fact.Fact{fact.Name("material", c.Name), fact.Figure("floats", f)})
	}
	m.Tables = append(m.Tables, t)
	slices.SortStableFunc(m.Spread, func(a, b figure.Figure) int { return cmp.Compare(a.Value, b.Value) })
	m.Reasons = append(m.Reasons, answer.Section{Key: "liquid", Figures: append(slices.Clone(m.Floats), m.Spread...)})
	return nil
}

// liquidRefusal says which answer about a liquid is out of range.
func liquidRefusal(err error) error {
	var out *process.RangeError
	if errors.As(err, &out) {
		switch out.Unit {
		case "K":
			return shop.OutOfRange("temperature", fact.Say("identification.is_temperature"), err)
		case "kg/m³":
			return shop.OutOfRange("density", fact.Say("identification.is_density"), err)
		case "":
			return shop.OutOfRange("strength", fact.Say("identification.is_strength"), err)
		}
	}
	return shop.OutOfRange("liquid", fact.Saying{}, err)
}

// densityFact is a liquid's density with the four digits that it is mixed to.
func densityFact(rho float64) fact.Fact {
	step := 1.0
	if rho < 1000 {
		step = 10
	}
	return fact.Exactly("density", quantity.Density, math.Round(step*rho)/step)
}

// liquidTyped is a density as people type it.
func liquidTyped(rho float64) string { return fmt.Sprintf("%gg/cm3", rho/1000) }
