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
		row("mean_age", "mean passes (high end)", quantity.Number, 0.5, -open, *j.req.MeanAge, func(l blendLot) float64 { return l.mean.High })
	}
	if j.req.Fines != nil {
		row("fines", "dust", quantity.Share, 0.01, -open, *j.req.Fines, func(l blendLot) float64 { return *l.fines })
	}
	if j.req.Moisture != nil {
		row("moisture", "water after drying (high end)", quantity.Share, 0.25**j.req.Moisture, -open, *j.req.Moisture, func(l blendLot) float64 { return l.water.Dried.High })
		j.tellWater()
	}
	if j.req.Metal != nil {
		row("metal", "metal (high end)", quantity.Share, 0.5**j.req.Metal, -open, *j.req.Metal, func(l blendLot) float64 { return l.metal.High })
	}
	if j.limitsFlow() {
		lo, hi := -open, open
		if j.req.FlowLow != nil {
			lo = math.Log(*j.req.FlowLow)
		}
		if j.req.FlowHigh != nil {
			hi = math.Log(*j.req.FlowHigh)
		}
		row("melt_flow", "melt flow rate", quantity.MeltFlow, math.Log(1.1), lo, hi, func(l blendLot) float64 { return math.Log(l.flow.Value) })
		j.rows[len(j.rows)-1].logs = true
		j.note("The melt flow of lots nobody measured is a forecast that may be off by a factor of two.")
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
			return blendRefusal("polymer", answer.Sentence(answer.Capital(err.Error())), "")
		}
		most := pair.Visual
		if j.req.Sturdy {
			most = pair.Structural
		}
		row("stray_"+snake(name), name+" in "+j.polymer.Name, quantity.Share, 0.01, math.Inf(-1), most, func(l blendLot) float64 {
			sum := 0.0
			for _, x := range l.strays {
				if strings.EqualFold(x.Polymer, name) {
					sum += x.Share
				}
			}
			return sum
		})
		j.strays = append(j.strays, answer.Found(fact.Say("identification.becomes", fact.Name("stray", pair.Stray), fact.Name("host", pair.Host), fact.Word("what", pair.What))))
	}
	return nil
}

// dryerWords name the ways to dry in a sentence.
var dryerWords = map[shop.Way]string{shop.Oven: "in an oven", shop.Dehydrator: "in a food dehydrator", shop.DesiccantBox: "in a desiccant box",
	shop.DryAir: "in a dry-air dryer", shop.OtherWay: "in a dryer"}

// tellWater says what the water is reckoned by, and where drying alone cannot
// reach the limit.
func (j *blendJob) tellWater() {
	j.note("Water is what each lot has by its records, or once it is dried %s as its polymer wants, if that is less.", dryerWords[j.brings.Dryer()])
	for _, l := range j.lots {
		if strings.EqualFold(l.Polymer, j.polymer.Name) && l.water.Rest > *j.req.Moisture {
			j.note("Dried %s in the air of this room, %s keeps %s of water after any time; drier air takes out more.", dryerWords[j.brings.Dryer()], j.polymer.Name, quantity.Share.Rough(l.water.Rest))
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
func (j *blendJob) conflict(c *recipe.Conflict) []string {
	if c == nil {
		return nil
	}
	var names []string
	for _, x := range []struct {
		in   bool
		name string
	}{{c.Stock, "the stock"}, {c.Most, "the number of lots"}, {c.Steps, "whole steps"}, {c.Small, "the smallest amount worth weighing"}} {
		if x.in {
			names = append(names, x.name)
		}
	}
	for _, i := range c.Low {
		names = append(names, "the least "+j.rows[i].name)
	}
	for _, i := range c.High {
		names = append(names, "the most "+j.rows[i].name)
	}
	if len(c.Curve) > 0 {
		names = append(names, "the colour")
	}
	return names
}
