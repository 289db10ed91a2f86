package piece

import (
	"fmt"
	"math"

	"hopperful/figure"
	"hopperful/polymer/identify"
	"hopperful/quantity"
	"hopperful/shop"
)

// test shows what a test would tell.
func (q *inquiry) test(w identify.Worth) (Test, error) {
	t := Test{Kind: w.Kind, Liquid: w.Liquid, Test: w.Name, Say: flagOf(w.Test), Ask: w.Ask, How: w.How, Caution: w.Caution,
		Finding: identify.Finding{Test: w.Name, Yes: true, At: w.At}}
	t.Time = figure.Exact("time", "time it takes, everything at hand", quantity.Duration, w.Seconds, figure.Books).Cite("judgement", "table of tests")
	t.Yes = figure.Exact("yes", "chance of yes", quantity.Share, w.Yes, figure.Reckoned).
		From("Σ share × chance of yes").Cite("judgement", "table of chances")
	t.Bits = figure.Exact("bits", "expected to be learned, in bits", quantity.Number, w.Bits, figure.Reckoned).
		From("entropy now less the entropy expected after the answer", q.out.Unsure).Cite("Shannon1948", "")
	t.Rate = figure.Exact("rate", "bits a minute", quantity.Number, w.PerMinute, figure.Reckoned).
		From("bits ÷ minutes", t.Bits, t.Time)
	var err error
	if t.IfYes, err = q.then(t.Finding); err != nil {
		return t, err
	}
	no := t.Finding
	no.Yes = false
	t.IfNo, err = q.then(no)
	return t, err
}

// flagOf is a test as it is typed when its answer is yes.
func flagOf(t identify.Test) string {
	switch t.Kind {
	case identify.Float:
		if t.Liquid == identify.Water {
			return "--floats water=yes --solid yes"
		}
		return fmt.Sprintf("--floats %gg/cm3=yes --solid yes", t.At/1000)
	case identify.Hot:
		return fmt.Sprintf("--sticks %.0f°C=yes", t.At-zeroCelsius)
	}
	return "--" + t.Name + " yes"
}

// Mix is the command that says how to mix the liquid of a float test; empty for
// water and for other tests.
func (t Test) Mix() string {
	if t.Kind != identify.Float || t.Liquid == identify.Water {
		return ""
	}
	return fmt.Sprintf("hopperful identify liquid %s %gg/cm3", t.Liquid, t.Finding.At/1000)
}

// zeroCelsius is 0 °C [K].
const zeroCelsius = 273.15

// sizing is how well the volume of a print is known from its slice [1]. A
// judgement: flow is off by a per cent on most printers.
const sizing = 0.01

// WeighedFinding is the density of a solid print: its mass over its sliced
// volume, with the error of scale and volume. resolution is the scale's [kg].
func WeighedFinding(mass, volume, resolution float64) (identify.Finding, error) {
	bad := func(field, say, hint string) (identify.Finding, error) {
		return identify.Finding{}, &shop.Error{Code: shop.Invalid, Field: field, Say: say, Hint: hint}
	}
	switch {
	case !(mass > 0 && volume > 0):
		return bad("mass", "Mass and volume must both be above zero.", "Weigh the solid piece; the slicer or its mesh gives the volume.")
	case !(resolution > 0) || resolution > mass/10:
		return bad("scale", fmt.Sprintf("A scale that reads to %s is too coarse for %s.", quantity.Mass.Show(resolution), quantity.Mass.Show(mass)), "Weigh at least ten times what the scale reads to, several pieces together if need be.")
	}
	rho := mass / volume
	step := resolution / math.Sqrt(12) / mass // a scale rounds anywhere within its step
	f := identify.Finding{Test: identify.Weighed, Yes: true, At: rho, Within: rho * math.Hypot(sizing, step)}
	if _, err := identify.Books().Chances(f); err != nil {
		return identify.Finding{}, identifyRefusal("volume", err)
	}
	return f, nil
}
