package piece

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

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
	Temperature float64 // at which it is used [K]; 0: 20 °C
}

// LiquidMix is how to mix a liquid, and what floats in it.
type LiquidMix struct {
	Answer   string          `json:"answer"`
	Liquid   identify.Liquid `json:"liquid"`
	Figures  []figure.Figure `json:"figures"` // density, strength, mass to a litre of water, fall a kelvin
	Floats   []figure.Figure `json:"floats"`  // chance that a solid chip of each material floats
	Spread   []figure.Figure `json:"spread"`  // how dense each material's grades are, lightest first
	Cautions []string        `json:"cautions"`
	Notes    []string        `json:"notes"`
}

// roomTemperature is where most tables of densities stand [K].
const roomTemperature = zeroCelsius + 20

// solutes is what goes into the water of each liquid, and what to mind.
var solutes = map[identify.Liquid]struct{ words, caution string }{
	identify.Brine:    {"table salt", ""},
	identify.Ethanol:  {"pure ethanol", "Ethanol burns: no flame, spark or hot nozzle near, open window, lid on."},
	identify.Propanol: {"pure 2-propanol", "2-Propanol burns: no flame, spark or hot nozzle near, open window, lid on, gloves."},
	identify.Sugar:    {"sugar", ""},
	identify.Chloride: {"calcium chloride, weighed dry", "Dissolving it gives off much heat: add it to cold water little by little, gloves and eye protection."},
}

// Liquid says how to mix a liquid and what floats in it.
func Liquid(r LiquidRequest) (LiquidMix, error) {
	if r.Temperature == 0 {
		r.Temperature = roomTemperature
	}
	mix, err := identify.RecipeOf(r.Liquid, r.Strength, r.Temperature)
	if r.Density != 0 {
		if r.Liquid == identify.Water {
			return LiquidMix{}, &shop.Error{Code: shop.Invalid, Field: "density", Say: "Water has the density it has.", Hint: "Name brine, sugar, calcium-chloride, ethanol or 2-propanol for another."}
		}
		mix, err = identify.RecipeFor(r.Liquid, r.Density, r.Temperature)
	}
	if err != nil {
		return LiquidMix{}, identifyRefusal(liquidField(err), err)
	}
	out := LiquidMix{Liquid: r.Liquid, Cautions: []string{}, Notes: []string{}, Floats: []figure.Figure{}, Spread: []figure.Figure{}}
	out.Figures = mixFigures(mix)
	what := solutes[r.Liquid]
	if r.Liquid == identify.Water {
		out.Answer = fmt.Sprintf("Water of %s: %s.", quantity.Temperature.Show(mix.Temperature), LiquidWords(mix.Density))
	} else {
		out.Answer = fmt.Sprintf("%s of %s to a litre of water makes %s at %s.", quantity.Mass.Show(mix.PerLitre), what.words,
			LiquidWords(mix.Density), quantity.Temperature.Show(mix.Temperature))
		out.Notes = append(out.Notes, "Weigh, do not measure by volume. Check it with a hydrometer, or weigh a full flask of known volume.")
	}
	if what.caution != "" {
		out.Cautions = append(out.Cautions, what.caution)
	}
	if r.Liquid == identify.Sugar {
		out.Notes = append(out.Notes, "It is thick: wait some minutes before you believe a chip.")
	}
	return out, out.floating(mix.Density)
}

// LiquidDensity is how dense a liquid of a strength by mass is [kg/m³].
func LiquidDensity(l identify.Liquid, strength, temperature float64) (float64, error) {
	rho, err := identify.Density(l, strength, temperature)
	if err != nil {
		return 0, identifyRefusal(liquidField(err), err)
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
	at := figure.Exact("temperature", "temperature", quantity.Temperature, mix.Temperature, figure.Entered)
	rho := cite(figure.Exact("density", "density of the liquid", quantity.Density, mix.Density, figure.Reckoned).From("published table at its strength and temperature", at))
	fall := cite(figure.Exact("fall", "lighter by, for each kelvin warmer", quantity.Density, mix.PerKelvin, figure.Reckoned).From("difference over half a kelvin", at))
	if mix.Liquid == identify.Water {
		return []figure.Figure{rho, fall}
	}
	w := cite(figure.Exact("strength", "strength by mass", quantity.Share, mix.Strength, figure.Reckoned).From("the strength that has the density", rho))
	per := figure.Exact("per_litre", "to a litre of water", quantity.Mass, mix.PerLitre, figure.Reckoned).
		From("strength ÷ (1 − strength) × density of water", w)
	return []figure.Figure{rho, w, per, fall}
}

// tenth is how far, in standard deviations, one in ten lies from the mean of a
// normal distribution.
const tenth = 1.2816

// floating lists the chance of floating for every material.
func (m *LiquidMix) floating(rho float64) error {
	book := identify.Books()
	chances, err := book.Chances(identify.Finding{Test: "floats", Yes: true, At: rho})
	if err != nil {
		return identifyRefusal("liquid", err)
	}
	for i, c := range book.Candidates {
		if c.Grade != "" || c.Name == "other" {
			continue
		}
		f := figure.Exact("floats_"+keyOf(c.Name), c.Name, quantity.Share, chances[i], figure.Reckoned).
			From("0.02 + 0.96 Φ((liquid − mean density)/spread)", m.Figures[0]).Cite("judgement", "densities of grades on the market")
		m.Floats = append(m.Floats, f)
		mean, sd := c.Density()
		rho := figure.Exact("spread_"+keyOf(c.Name), c.Name, quantity.Density, mean, figure.Books).Cite("judgement", "densities of grades on the market")
		rho.Low, rho.High = mean-tenth*sd, mean+tenth*sd
		m.Spread = append(m.Spread, rho)
	}
	slices.SortStableFunc(m.Spread, func(a, b figure.Figure) int { return cmp.Compare(a.Value, b.Value) })
	return nil
}

// liquidField is which answer about a liquid is out of range.
func liquidField(err error) string {
	var out *process.RangeError
	if errors.As(err, &out) {
		if field, ok := map[string]string{"K": "temperature", "kg/m³": "density", "": "strength"}[out.Unit]; ok {
			return field
		}
	}
	return "liquid"
}

// LiquidWords is a liquid's density with the four digits that it is mixed to.
func LiquidWords(rho float64) string { return fmt.Sprintf("%.4g g/cm³", rho/1000) }
