package blend

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"hopperful/figure"
	"hopperful/plan/answer"
	"hopperful/plan/fit"
	"hopperful/plan/lineage"
	"hopperful/polymer"
	"hopperful/process/colour"
	"hopperful/shop"
)

// blendLot is a lot that may go into a blend, and what it brings.
type blendLot struct {
	*shop.Lot
	age    lineage.Spread
	mean   figure.Figure
	flow   *figure.Figure // nil: not known
	fines  *float64       // [1]; nil: not known
	water  *fit.Water     // nil: not known, or not limited
	metal  *figure.Figure // the same
	tint   lineage.Tints
	body   colour.Body     // when the tint is known
	days   float64         // since it came, 0 for new granulate
	price  float64         // currency/kg
	strays []lineage.Stray // other plastics in it
}

// pelletFines is the dust in bought granulate. Judgement.
const pelletFines = 0.002

// gather sorts the stock into lots that may go in and lots left aside.
func (j *blendJob) gather() error {
	ages, err := lineage.NewAger(j.state)
	if err != nil {
		return err
	}
	if j.brings, err = fit.NewBrings(j.state, j.req.Now); err != nil {
		return err
	}
	j.colours = lineage.NewTinter(j.state)
	made := lineage.NewMadeOf(j.state)
	for _, id := range j.state.Order {
		lot := j.state.Lots[id]
		named := slices.Contains(j.req.Lots, id)
		if why := j.passed(lot, named); why != "" {
			if j.asked(id) {
				j.aside = append(j.aside, answer.Aside{Lot: id, Name: lot.Name, Why: why})
			}
			continue
		}
		b, err := j.known(lot, ages, made)
		if err != nil {
			return err
		}
		why, remedy, quiet := j.unfit(b, named)
		switch {
		case why != "" && quiet && !named && !j.asked(id):
		case why != "":
			j.aside = append(j.aside, answer.Aside{Lot: id, Name: lot.Name, Why: why, Remedy: remedy})
		default:
			j.lots = append(j.lots, b)
		}
	}
	j.tellPrices(made)
	return nil
}

// known is what is known of a lot, by the records and its family.
func (j *blendJob) known(lot *shop.Lot, ages *lineage.Ager, made *lineage.MadeOf) (blendLot, error) {
	b := blendLot{Lot: lot, strays: made.Strays(lot, j.polymer.Name), fines: finesOf(j.state, lot)}
	if len(b.strays) == 0 && !strings.EqualFold(lot.Polymer, j.polymer.Name) { // its label counts, whatever its scrap was called
		b.strays = []lineage.Stray{{Polymer: answer.OrUnnamed(lot.Polymer), Share: 1}}
	}
	if j.req.Order == Cheapest {
		b.price = made.Price(lot)
	}
	if lot.Class != shop.Virgin {
		b.days = j.daysOf(lot)
	}
	var err error
	if b.tint, err = j.colours.Of(lot); err != nil {
		return b, err
	}
	b.body = b.tint.Body
	if b.age, err = ages.Of(lot); err != nil {
		return b, err
	}
	if b.mean, err = b.age.Mean(); err != nil {
		return b, err
	}
	if j.limitsFlow() {
		if b.flow, err = ages.Flow(lot); err != nil {
			return b, err
		}
	}
	if j.req.Moisture != nil {
		if b.water, err = j.brings.Water(lot); err != nil {
			return b, err
		}
	}
	if j.req.Metal != nil {
		b.metal, err = j.brings.Metal(lot)
	}
	return b, err
}

// unfit says why a lot cannot go in; quiet reasons are told only to who asked
// for the lot.
func (j *blendJob) unfit(b blendLot, named bool) (why, remedy string, quiet bool) {
	host := j.polymer.Name
	other := !strings.EqualFold(b.Polymer, host) && b.Polymer != "" && !strings.EqualFold(b.Polymer, polymer.Unknown)
	if why, remedy, _ = lineage.Unfit(b.Lot, orWordOf(other && named, b.Polymer, host), j.word); why != "" {
		return why, remedy, other
	}
	switch {
	case !lineage.Granulate(b.Class):
		return "it is " + string(b.Class) + ", not granulate", "Grind it first.", false
	case b.Metal != "":
		return fmt.Sprintf("there is metal in it (%s)", b.Metal), "Let it over the magnet until nothing is caught, then correct the record.", false
	case j.wanted != nil && b.tint.Basis == lineage.ColourUnknown:
		return "nobody has taken its colour", "Take it beside a white card, or leave the colour open.", false
	case j.req.OldestAge != nil:
		oldest, err := b.age.Oldest()
		if err == nil && oldest.High > *j.req.OldestAge {
			return fmt.Sprintf("its oldest twentieth may have had %.0f passes", oldest.High), "Allow older plastic, or use it for parts that need not hold.", false
		}
	}
	switch {
	case j.limitsFlow() && b.flow == nil:
		return "nothing is known of its melt flow", "Measure it: a melt-flow test, or timed cuts at the printer's temperature.", false
	case j.req.Fines != nil && b.fines == nil:
		return "nobody knows how much dust is in it", "Sieve a sample, or leave the dust open.", false
	case j.req.Moisture != nil && b.water == nil:
		return "nothing is known of the water " + answer.OrUnknown(b.Polymer) + " takes up", "Weigh it before and after drying and record that, or leave the water open.", false
	case j.req.Metal != nil && b.metal == nil:
		return "nobody let it over a magnet", "Let it run over one in a thin stream, weigh what hangs there and record that, or leave the metal open.", false
	}
	return "", "", false
}

func orWordOf(first bool, a, b string) string {
	if first {
		return a
	}
	return b
}

// finesOf is the share of dust by the newest sieve analysis, less what was
// taken off since; bought granulate has little; nil where nobody knows.
func finesOf(s *shop.State, lot *shop.Lot) *float64 {
	for _, e := range s.Sievings(lot.ID) {
		a, err := fit.Analysis(e.Body)
		if err != nil {
			continue
		}
		fines, err := fit.Below(a, answer.FinesLimit)
		if err != nil {
			continue
		}
		for _, d := range s.Dedustings(lot.ID) {
			if d.At.After(e.At) && lot.Mass > 0 {
				fines = math.Max(0, fines-d.Body.Dust/(lot.Mass+d.Body.Dust))
			}
		}
		return &fines
	}
	if lot.Class == shop.Virgin {
		fines := pelletFines
		return &fines
	}
	return nil
}

// daysOf is how long a lot has been there.
func (j *blendJob) daysOf(lot *shop.Lot) float64 {
	r, ok := j.state.Record(lot.Born)
	if !ok {
		return 0
	}
	return math.Max(0, j.state.Last.Sub(r.At).Hours()/(24*time.Hour).Hours())
}
