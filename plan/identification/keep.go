package identification

import (
	"math"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/quantity"
	"hopperful/shop"
)

// Keep is the record that keeps an answer with its lot: all of the lot becomes a
// lot of its own, with the polymer and how sure that is. What is too little to
// keep is a [shop.Error] that says what to do.
func Keep(s *shop.State, opt Options, out Identification) (shop.Record, error) {
	lot, err := keepable(s, opt.Lot)
	if err != nil {
		return shop.Record{}, err
	}
	refuse := func(what, advice fact.Saying) (shop.Record, error) {
		return shop.Record{}, shop.Refuse(shop.Conflict, "lot", what, advice)
	}
	try := fact.Say("identification.try_another")
	if out.Next != nil {
		try = fact.Say("identification.try_first", fact.Parts("ask", out.Next.Ask))
	}
	share := out.Materials[0].Share.Value
	switch {
	case out.Stopped && lot.Suspected():
		return refuse(fact.Say("identification.all_stops"), fact.Say("identification.set_aside"))
	case out.Stopped:
		return refuse(fact.Say("identification.all_stops"), marking(lot))
	case len(opt.Findings) == 0:
		return refuse(fact.Say("identification.nothing_new"), try)
	case out.Polymer == "":
		return refuse(fact.Say("identification.none_listed"), fact.Say("identification.repeat_or_keep"))
	case share < answer.LikelyShare:
		return refuse(fact.Say("identification.still_open", fact.Name("polymer", out.Polymer), Percent("share", share)), try)
	}
	sure := min(mostSure, math.Round(100*share)/100)
	return whole(lot, shop.Part{Polymer: out.Polymer, Sure: &sure}), nil
}

// mostSure is the surest an answer is written down as [1]: nothing at a bench is
// certain. Judgement.
const mostSure = 0.99

// Suspect is the record that marks all of a lot as suspected of chlorine.
func Suspect(s *shop.State, opt Options, out Identification) (shop.Record, error) {
	lot, err := keepable(s, opt.Lot)
	switch {
	case err != nil:
		return shop.Record{}, err
	case !out.Stopped:
		return shop.Record{}, shop.Refuse(shop.Conflict, "chlorine", fact.Say("identification.no_chlorine"), fact.Say("identification.say_what_speaks"))
	case lot.Suspected():
		_, instead := lot.Bar().Says()
		return shop.Record{}, shop.Refuse(shop.Conflict, "lot", fact.Say("identification.marked_already", answer.Lot("lot", lot)), instead)
	}
	return whole(lot, shop.Part{Halogen: shop.Yes}), nil
}

// keepable is the lot an answer is kept with.
func keepable(s *shop.State, id shop.LotID) (*shop.Lot, error) {
	if id == "" {
		return nil, shop.Refuse(shop.Invalid, "lot", fact.Say("identification.no_lot_said"), fact.Say("identification.name_the_lot"))
	}
	lot, ok := s.Lot(id)
	if !ok {
		return nil, shop.NoLot("lot", id)
	}
	if weighed(lot) <= 0 {
		return nil, shop.Refuse(shop.Conflict, "lot", fact.Say("identification.nothing_left", answer.Lot("lot", lot)), fact.Say("identification.take_to_heir"))
	}
	return lot, nil
}

// whole sorts all of a lot into one heap.
func whole(lot *shop.Lot, part shop.Part) shop.Record {
	part.Mass, part.Name = weighed(lot), lot.Name
	return shop.Record{Body: &shop.Sorted{From: lot.ID, Into: []shop.Part{part}}}
}

// weighed is all of a lot to a milligram, below what any scale of a shop shows:
// sums and differences of weighings leave a tail behind.
func weighed(lot *shop.Lot) float64 { return math.Round(lot.Mass*1e6) / 1e6 }

// marking says how a lot is marked.
func marking(lot *shop.Lot) fact.Saying {
	return fact.Say("do.mark_chlorine", answer.Lot("lot", lot), fact.Name("mass", quantity.Mass.Exact(weighed(lot))))
}
