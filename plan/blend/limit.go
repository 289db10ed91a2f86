package blend

import (
	"math"
	"slices"
	"strings"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/process/recipe"
	"hopperful/quantity"
	"hopperful/shop"
)

// limits lays down the rows: age, dust, water, metal, melt flow where asked, and each other
// plastic by the table of pairs.
func (j *blendJob) limits() error {
	open := math.Inf(1)
	row := func(key, name string, kind quantity.Kind, relax, lo, hi float64, of func(blendLot) float64) {
		r := blendRow{key: key, name: name, kind: kind, relax: relax, Limit: recipe.Limit{Lo: lo, Hi: hi}}
		for _, l := range j.lots {
			r.Of = append(r.Of, of(l))
		}
		j.rows = append(j.rows, r)
	}
	if j.req.MeanAge != nil { // by the careful end of each lot's range
		row("mean_age", "blend.mean_passes_high", quantity.Number, 0.5, -open, *j.req.MeanAge, func(l blendLot) float64 { return l.mean.High })
	}
	if j.req.Fines != nil {
		row("fines", "blend.dust", quantity.Share, 0.01, -open, *j.req.Fines, func(l blendLot) float64 { return *l.fines })
	}
	if j.req.Moisture != nil {
		row("moisture", "blend.water_high", quantity.Share, 0.25**j.req.Moisture, -open, *j.req.Moisture, func(l blendLot) float64 { return l.water.Dried.High })
		j.tellWater()
	}
	if j.req.Metal != nil {
		row("metal", "blend.metal_high", quantity.Share, 0.5**j.req.Metal, -open, *j.req.Metal, func(l blendLot) float64 { return l.metal.High })
	}
	if j.limitsFlow() {
		lo, hi := -open, open
		if j.req.FlowLow != nil {
			lo = math.Log(*j.req.FlowLow)
		}
		if j.req.FlowHigh != nil {
			hi = math.Log(*j.req.FlowHigh)
		}
		row("melt_flow", "blend.melt_flow", quantity.MeltFlow, math.Log(1.1), lo, hi, func(l blendLot) float64 { return math.Log(l.flow.Value) })
		j.rows[len(j.rows)-1].logs = true
		j.note(fact.Say("blend.flow_is_forecast"))
	}
	return j.strayLimits(row)
}

// strayLimits adds a row for each other plastic in any of the lots.
func (j *blendJob) strayLimits(row func(string, string, quantity.Kind, float64, float64, float64, func(blendLot) float64)) error {
	var names []string
	for _, l := range j.lots {
		for _, x := range l.strays {
			if !slices.ContainsFunc(names, func(n string) bool { return strings.EqualFold(n, x.Polymer) }) {
				names = append(names, x.Polymer)
			}
		}
	}
	for _, name := range names {
		pair, err := j.table.Pair(j.polymer.Name, name)
		if err != nil {
			return shop.Refused(shop.Invalid, "polymer", err)
		}
		most := pair.Visual
		if j.req.Sturdy {
			most = pair.Structural
		}
		row("stray_"+snake(name), "blend.other_plastic", quantity.Share, 0.01, math.Inf(-1), most, func(l blendLot) float64 {
			sum := 0.0
			for _, x := range l.strays {
				if strings.EqualFold(x.Polymer, name) {
					sum += x.Share
				}
			}
			return sum
		})
		j.rows[len(j.rows)-1].about = name
		j.strays = append(j.strays, answer.Found(fact.Say("identification.becomes", fact.Name("stray", pair.Stray), fact.Name("host", pair.Host), fact.Word("what", pair.What))))
	}
	return nil
}

// tellWater says what the water is reckoned by, and where drying alone cannot
// reach the limit.
func (j *blendJob) tellWater() {
	in := fact.Parts("in", j.brings.In(j.polymer))
	j.note(fact.Say("blend.water_is", in.As("in")))
	for _, l := range j.lots {
		if strings.EqualFold(l.Polymer, j.polymer.Name) && l.water.Rest > *j.req.Moisture {
			j.note(fact.Say("blend.water_stays", in.As("in"), fact.Name("polymer", j.polymer.Name), fact.About("rest", quantity.Share, l.water.Rest)))
			return
		}
	}
}

// snake turns a material's name into a key: "PE-HD" into "pe_hd".
func snake(name string) string {
	return strings.Trim(strings.Map(func(r rune) rune {
		if 'a' <= r && r <= 'z' || '0' <= r && r <= '9' {
			return r
		}
		return '_'
	}, strings.ToLower(name)), "_")
}

// conflict names the conditions that contradict each other.
func (j *blendJob) conflict(c *recipe.Conflict) (names []fact.Saying) {
	if c == nil {
		return nil
	}
	for _, x := range []struct {
		in   bool
		name fact.Saying
	}{{c.Stock, fact.Say("blend.the_stock")}, {c.Most, fact.Say("blend.number_of_lots")}, {c.Steps, fact.Say("blend.whole_steps")}, {c.Small, fact.Say("blend.smallest_amount")}} {
		if x.in {
			names = append(names, x.name)
		}
	}
	for _, i := range c.Low {
		names = append(names, fact.Say("blend.least_of", j.rows[i].what()))
	}
	for _, i := range c.High {
		names = append(names, fact.Say("blend.most_of", j.rows[i].what()))
	}
	if len(c.Curve) > 0 {
		names = append(names, fact.Say("blend.the_colour"))
	}
	return names
}
