package sieving

import (
	"math"
	"slices"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/plan"
	"hopperful/shop"
)

// forecastRuns are the newest runs into the lot that a forecast is made of;
// more say the same.
const forecastRuns = 6

// forecast is what the breakage model says the sieved product should be, as a
// band: the run it came out of, or the newest runs into its lot. why says what
// stands in the way where runs are on record.
func (f *sifting) forecast(at []float64) (c *answer.Curve, why fact.Saying, err error) {
	runs, why, err := f.runs()
	if len(runs) == 0 || err != nil {
		return nil, why, err
	}
	x := forecastSizes(at, runs)
	shares, err := plan.ProductSizes(f.state, runs, x, f.opt.Books)
	if err != nil {
		return nil, why, err
	}
	curve := answer.Band("forecast", "sieving.forecast", x, shares)
	return &curve, why, nil
}

// runs are those the forecast is made of.
func (f *sifting) runs() (runs []plan.Run, why fact.Saying, err error) {
	if f.stack.Lot == "" {
		return nil, why, nil
	}
	materials, err := f.state.Table()
	if err != nil {
		return nil, why, err
	}
	for _, r := range f.state.Records.LatestOf((*shop.Ground)(nil)) {
		g, ok := r.Body.(*shop.Ground)
		if !ok || f.stack.Run != 0 && r.ID != f.stack.Run || f.stack.Run == 0 && g.Into != f.stack.Lot || len(runs) == forecastRuns {
			continue
		}
		one := plan.Run{Ground: g, ID: r.ID, Scrap: f.state.Lots.At(g.From)}
		if one.Mill, ok = f.state.Mill(g.Mill); !ok || one.Scrap == nil {
			continue
		}
		if then, stands := f.state.MillAt(r.ID); stands {
			one.Mill.Mill = then
		}
		if one.Polymer, err = materials.Find(one.Scrap.Polymer); err != nil {
			return nil, fact.Say("sieving.no_forecast_polymer"), nil
		}
		if g.Level == nil && one.Mill.Controller != nil && one.Mill.Controller.Levels > 0 {
			return nil, fact.Say("sieving.no_forecast_level"), nil
		}
		runs = append(runs, one)
	}
	return runs, why, nil
}

// forecastSizes are the sieves and sizes between and around them.
func forecastSizes(at []float64, runs []plan.Run) []float64 {
	lo, hi := at[0]/2, at[len(at)-1]
	for _, r := range runs {
		h := r.Hole
		if h == nil {
			h = r.Mill.Screen.Hole
		}
		if h != nil {
			hi = math.Max(hi, 1.01**h)
		}
	}
	x := slices.Clone(at)
	const steps = 24
	for k := range steps + 1 {
		x = append(x, lo*math.Pow(hi/lo, float64(k)/steps))
	}
	slices.Sort(x)
	return slices.Compact(x)
}
