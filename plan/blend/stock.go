package blend

import (
	"slices"
	"strings"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/plan/fit"
	"hopperful/plan/traceability"
	"hopperful/polymer"
	"hopperful/quantity"
	"hopperful/shop"
)

// blendLot is a lot that may go into a blend, and what it brings.
type blendLot struct {
	*shop.Lot
	*known
	water  *fit.Water           // nil: not known, or not limited
	metal  *figure.Figure       // the same
	price  float64              // currency/kg
	strays []traceability.Stray // other plastics in it
}

// gather sorts the stock into lots that may go in and lots left aside.
func (j *blendJob) gather() error {
	j.shelf.busy.Lock()
	defer j.shelf.busy.Unlock()
	var err error
	if j.brings, err = j.shelf.bringsAt(j.req.Now); err != nil {
		return err
	}
	for _, id := range j.state.Order {
		lot := j.state.Lots.At(id)
		named := slices.Contains(j.req.Lots, id)
		if why := j.passed(lot, named); !why.Empty() {
			if j.asked(id) {
				j.aside = append(j.aside, answer.Aside{Lot: id, Name: lot.Name, Why: why})
			}
			continue
		}
		b, err := j.lot(lot)
		if err != nil {
			return err
		}
		why, remedy, lacks, quiet := j.unfit(b, named)
		switch {
		case !why.Empty() && quiet && !named && !j.asked(id):
		case !why.Empty():
			j.aside = append(j.aside, answer.Aside{Lot: id, Name: lot.Name, Why: why, Remedy: remedy, Lacks: lacks})
		default:
			j.lots = append(j.lots, b)
		}
	}
	j.tellPrices()
	return nil
}

// lot is a lot as this question sees it.
func (j *blendJob) lot(lot *shop.Lot) (blendLot, error) {
	b := blendLot{Lot: lot, strays: j.shelf.made.Strays(lot, j.polymer.Name)}
	if len(b.strays) == 0 && !strings.EqualFold(lot.Polymer, j.polymer.Name) { // its label counts, whatever its scrap was called
		b.strays = []traceability.Stray{{Polymer: answer.OrUnnamed(lot.Polymer), Share: 1}}
	}
	if j.req.Order == Cheapest {
		b.price = j.shelf.made.Price(lot)
	}
	var err error
	if b.known, err = j.shelf.know(lot); err != nil {
		return b, err
	}
	if j.limitsFlow() {
		if err = j.shelf.flowOf(lot, b.known); err != nil {
			return b, err
		}
	}
	if j.req.Moisture != nil {
		if b.water, err = j.shelf.waterOf(lot); err != nil {
			return b, err
		}
	}
	if j.req.Metal != nil {
		b.metal, err = j.shelf.metalOf(lot)
	}
	return b, err
}

// unfit says why a lot cannot go in; quiet reasons are told only to who asked
// for the lot.
func (j *blendJob) unfit(b blendLot, named bool) (why, remedy fact.Saying, lacks answer.Lack, quiet bool) {
	host := j.polymer.Name
	other := !strings.EqualFold(b.Polymer, host) && b.Polymer != "" && !strings.EqualFold(b.Polymer, polymer.Unknown)
	if why, remedy, _ = answer.Unfit(j.state, b.Lot, orWordOf(other && named, b.Polymer, host), j.word); !why.Empty() {
		switch bar := b.Lot.Bar(); {
		case bar != nil && bar.Code == shop.BarHalogen:
			lacks = answer.LacksSort
		case bar == nil && b.Metal != "":
			lacks = answer.LacksMagnet
		}
		return why, remedy, lacks, other
	}
	switch {
	case !traceability.Granulate(b.Class):
		return fact.Say("blend.no_granulate", answer.Class("class", b.Class)), fact.Say("blend.grind_first"), answer.LacksGrind, false
	case b.Metal != "":
		return fact.Say("answer.metal", fact.Name("metal", b.Metal)), fact.Say("blend.magnet_till_clean"), answer.LacksMagnet, false
	case j.wanted != nil && b.tint.Basis == traceability.ColourUnknown:
		return fact.Say("blend.no_colour"), fact.Say("blend.take_colour"), answer.LacksColour, false
	case j.req.OldestAge != nil:
		if b.oldest.High > *j.req.OldestAge {
			return fact.Say("blend.too_old", fact.About("passes", quantity.Number, b.oldest.High)), fact.Say("blend.allow_older"), "", false
		}
	}
	switch {
	case j.limitsFlow() && b.flow == nil:
		return fact.Say("blend.no_flow"), fact.Say("blend.measure_flow"), answer.LacksFlow, false
	case j.req.Fines != nil && b.fines == nil:
		return fact.Say("blend.no_dust"), fact.Say("blend.sieve_sample"), answer.LacksSieve, false
	case j.req.Moisture != nil && b.water == nil:
		return fact.Say("blend.no_water"), fact.Say("blend.weigh_drying"), answer.LacksDrying, false
	case j.req.Metal != nil && b.metal == nil:
		return fact.Say("blend.no_magnet"), fact.Say("blend.pass_magnet"), answer.LacksMagnet, false
	}
	return why, remedy, "", false
}

func orWordOf(first bool, a, b string) string {
	if first {
		return a
	}
	return b
}
