package identification

import (
	"math"

	"hopperful/fact"
	"hopperful/figure"
	"hopperful/polymer/identify"
	"hopperful/quantity"
	"hopperful/shop"
)

// Test is a test that could be done.
type Test struct {
	identify.Worth
	Ask, How    fact.Saying
	Mind        fact.Saying // what can hurt; empty: nothing out of the ordinary
	Time        figure.Figure
	Chance      figure.Figure // of yes
	Learned     figure.Figure // expected [bit]
	Rate        figure.Figure // of it, a minute
	IfYes, IfNo fact.Saying   // the likeliest after that answer
}

// Finding is what an answer to the test would be.
func (t Test) Finding(yes bool) identify.Finding {
	return identify.Finding{Test: t.Name, Yes: yes, At: t.At}
}

// Do is the test as a thing to do.
func (t Test) Do() fact.Saying {
	return fact.Say("do.try_test", fact.Parts("ask", t.Ask), fact.Name("test", Spell(t.Finding(true))))
}

// Mix is how to come to the liquid of a float test; empty for water and for
// other tests.
func (t Test) Mix() fact.Saying {
	if t.Kind != identify.Float || t.Liquid == identify.Water {
		return fact.Saying{}
	}
	return fact.Say("do.mix_liquid", fact.Name("liquid", string(t.Liquid)), fact.Name("density", liquidTyped(t.At)))
}

// bench are the words of the tests by hand.
var bench = map[string]struct{ ask, how, mind fact.Saying }{
	"rubbery": {fact.Say("identification.ask_rubbery"), fact.Say("identification.how_rubbery"), fact.Saying{}},
	"snaps":   {fact.Say("identification.ask_snaps"), fact.Say("identification.how_snaps"), fact.Say("identification.mind_snaps")},
	"whitens": {fact.Say("identification.ask_whitens"), fact.Say("identification.how_whitens"), fact.Say("identification.mind_whitens")},
	"limp70":  {fact.Say("identification.ask_limp70"), fact.Say("identification.how_limp70"), fact.Say("identification.mind_limp70")},
	"limp100": {fact.Say("identification.ask_limp100"), fact.Say("identification.how_limp100"), fact.Say("identification.mind_limp100")},
	"acetone": {fact.Say("identification.ask_acetone"), fact.Say("identification.how_acetone"), fact.Say("identification.mind_acetone")},
	"rings":   {fact.Say("identification.ask_rings"), fact.Say("identification.how_rings"), fact.Saying{}},
	"waxy":    {fact.Say("identification.ask_waxy"), fact.Say("identification.how_waxy"), fact.Saying{}},
}

// Asked is the question of a test.
func Asked(t identify.Test) fact.Saying {
	switch {
	case t.Kind == identify.Hot:
		return fact.Say("identification.ask_sticks", fact.Set("at", quantity.Temperature, t.At))
	case t.Kind == identify.Float && t.Liquid == identify.Water:
		return fact.Say("identification.ask_water")
	case t.Kind == identify.Float:
		return fact.Say("identification.ask_float", liquidFact(t.Liquid), densityFact(t.At))
	}
	return bench[t.Name].ask
}

// done says how a test is done, and what can hurt.
func done(t identify.Test) (how, mind fact.Saying) {
	if t.Kind == identify.Hot {
		return fact.Say("identification.how_sticks"), fact.Say("identification.mind_sticks")
	}
	if t.Kind != identify.Float {
		return bench[t.Name].how, bench[t.Name].mind
	}
	switch t.Liquid {
	case identify.Water:
		return fact.Say("identification.how_water"), mind
	case identify.Ethanol:
		return fact.Say("identification.how_ethanol"), fact.Say("identification.mind_ethanol")
	case identify.Sugar:
		return fact.Say("identification.how_sugar"), mind
	case identify.Chloride:
		return fact.Say("identification.how_chloride"), fact.Say("identification.mind_chloride")
	}
	return fact.Say("identification.how_brine"), mind
}

// test shows what a test would tell.
func (q *inquiry) test(w identify.Worth) (Test, error) {
	t := Test{Worth: w, Ask: Asked(w.Test)}
	t.How, t.Mind = done(w.Test)
	t.Time = figure.Exact("time", "identification.time", quantity.Duration, w.Seconds, figure.Books).Cite("judgement", "table of tests")
	t.Chance = figure.Exact("yes", "identification.chance", quantity.Share, w.Yes, figure.Reckoned).
		From("Σ share × chance", q.out.Unsure).Cite("judgement", "table of chances")
	t.Learned = figure.Exact("bits", "identification.learned", quantity.Number, w.Bits, figure.Reckoned).
		From("identification.how_learned", q.out.Unsure).Cite("Shannon1948", "")
	t.Rate = figure.Exact("rate", "identification.rate", quantity.Number, w.PerMinute, figure.Reckoned).From("identification.how_rate", t.Learned, t.Time)
	var err error
	if t.IfYes, err = q.then(t.Finding(true)); err != nil {
		return t, err
	}
	t.IfNo, err = q.then(t.Finding(false))
	return t, err
}

// zeroCelsius is 0 °C [K].
const zeroCelsius = 273.15

// sizing is how well the volume of a print is known from its slice [1]. A
// judgement: flow is off by a per cent on most printers.
const sizing = 0.01

// WeighedFinding is the density of a solid print: its mass over its sliced
// volume, with the error of scale and volume. resolution is the scale's [kg].
func WeighedFinding(mass, volume, resolution float64) (identify.Finding, error) {
	switch {
	case !(mass > 0 && volume > 0):
		return identify.Finding{}, shop.Refuse(shop.Invalid, "mass", fact.Say("identification.no_mass"), fact.Say("identification.weigh_solid"))
	case !(resolution > 0) || resolution > mass/10:
		return identify.Finding{}, shop.Refuse(shop.Invalid, "scale", fact.Say("identification.coarse_scale", fact.Measured("step", quantity.Mass, resolution), fact.Measured("mass", quantity.Mass, mass)),
			fact.Say("identification.weigh_more"))
	}
	rho := mass / volume
	step := resolution / math.Sqrt(12) / mass // a scale rounds anywhere within its step
	f := identify.Finding{Test: identify.Weighed, Yes: true, At: rho, Within: rho * math.Hypot(sizing, step)}
	if _, err := identify.Books().Chances(f); err != nil {
		return identify.Finding{}, shop.OutOfRange("volume", fact.Say("identification.is_density"), err)
	}
	return f, nil
}
