package blend

import (
	"math"

	"hopperful/figure"
	"hopperful/process/recipe"
	"hopperful/quantity"
)

// bring adds water and metal with their ranges, where they are limited.
func (j *blendJob) bring(out *Recipe, uses []recipe.Use, total float64) {
	for _, x := range []struct {
		asked     bool
		key, name string
		of        func(blendLot) figure.Figure
	}{
		{j.req.Moisture != nil, "moisture", "blend.water", func(l blendLot) figure.Figure { return l.water.Dried }},
		{j.req.Metal != nil, "metal", "blend.metal", func(l blendLot) figure.Figure { return *l.metal }},
	} {
		if !x.asked {
			continue
		}
		f := figure.Exact(x.key, x.name, quantity.Share, 0, figure.Reckoned).From("blend.by_mass")
		for _, u := range uses {
			one, s := x.of(j.lots[u.Lot]), u.Mass/total
			f.Value, f.Low, f.High = f.Value+s*one.Value, f.Low+s*one.Low, f.High+s*one.High
			for _, ref := range one.Sources {
				f = f.Cite(ref.Key, ref.Place)
			}
			f.Records = append(f.Records, one.Records...)
		}
		f.Low, f.High = math.Min(f.Low, f.Value), math.Max(f.High, f.Value) // the last digit of the sums
		out.Figures = append(out.Figures, f)
	}
}
