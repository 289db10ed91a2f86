package piece

import (
	"fmt"
	"math"
	"strings"

	"hopperful/quantity"
	"hopperful/shop"
)

// Keep is the record that keeps an answer with its lot: all of the lot becomes a
// lot of its own, with the polymer, how sure that is, and the findings as a
// note. What is too little to keep is a [shop.Error] that says what to do.
func Keep(s *shop.State, opt Options, out Identification) (shop.Record, error) {
	lot, err := keepable(s, opt.Lot)
	if err != nil {
		return shop.Record{}, err
	}
	refuse := func(say, hint string) (shop.Record, error) {
		return shop.Record{}, &shop.Error{Code: shop.Conflict, Field: "lot", Say: say, Hint: hint}
	}
	try := "Try another test first."
	if out.Next != nil {
		try = "Try this first: " + out.Next.Ask
	}
	switch {
	case out.Stop != "":
		return refuse("Everything stops here, so no plastic is written down.", strings.TrimSpace("Set the lot aside. "+marking(lot)))
	case len(opt.Findings) == 0:
		return refuse("Nothing was tried yet, so there is nothing new to write down.", try)
	case out.Polymer == "":
		return refuse("It is none of the plastics listed, so nothing is written down.", "Keep it with the unknown, or repeat the finding that surprises most.")
	case out.Sure == "unclear":
		return refuse(fmt.Sprintf("It is unclear what it is (%s at %s), so nothing is written down.", out.Polymer, Percent(out.Materials[0].Share.Value)), try)
	}
	sure := min(mostSure, math.Round(100*out.Materials[0].Share.Value)/100)
	return whole(lot, shop.Part{Polymer: out.Polymer, Sure: &sure}, out), nil
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
	case out.Stop == "":
		return shop.Record{}, &shop.Error{Code: shop.Conflict, Field: "chlorine", Say: "Nothing speaks of chlorine so far, so the lot is not marked.", Hint: "Say what speaks of it: a marking, a smell, a maker's word."}
	case lot.Suspected():
		return shop.Record{}, &shop.Error{Code: shop.Conflict, Field: "lot", Say: fmt.Sprintf("Lot %s is marked already.", lot.ID), Hint: lot.Bar().Instead()}
	}
	return whole(lot, shop.Part{Halogen: shop.Yes}, out), nil
}

// keepable is the lot an answer is kept with.
func keepable(s *shop.State, id shop.LotID) (*shop.Lot, error) {
	if id == "" {
		return nil, &shop.Error{Code: shop.Invalid, Field: "lot", Say: "Nobody said which lot the piece is from.", Hint: "Name the lot; the stock lists them."}
	}
	lot, ok := s.Lot(id)
	if !ok {
		return nil, &shop.Error{Code: shop.NotFound, Field: "lot", Say: fmt.Sprintf("There is no lot %s.", id), Hint: "The stock lists the lots."}
	}
	if weighed(lot) <= 0 {
		return nil, &shop.Error{Code: shop.Conflict, Field: "lot", Say: fmt.Sprintf("Nothing is left of lot %s.", id), Hint: "Take the answer to the lot that came of it."}
	}
	return lot, nil
}

// whole sorts all of a lot into one heap.
func whole(lot *shop.Lot, part shop.Part, out Identification) shop.Record {
	part.Mass, part.Name = weighed(lot), lot.Name
	r := shop.Record{Body: &shop.Sorted{From: lot.ID, Into: []shop.Part{part}}}
	if len(out.Findings) > 0 {
		r.Note = "Found: " + strings.Join(out.Findings, "; ") + "."
	}
	return r
}

// weighed is all of a lot to a milligram, below what any scale of a shop shows:
// sums and differences of weighings leave a tail behind.
func weighed(lot *shop.Lot) float64 { return math.Round(lot.Mass*1e6) / 1e6 }

// writeDown is the command that keeps the answer with the lot.
func (q *inquiry) writeDown() {
	if q.lot == nil {
		return
	}
	if r, err := Keep(q.state, q.opt, q.out); err == nil {
		p := r.Body.(*shop.Sorted).Into[0]
		q.out.WriteDown = sorting(q.lot, fmt.Sprintf("polymer=%s,sure=%.0f%%", p.Polymer, 100**p.Sure))
	}
}

// marking says how a lot is marked; empty for one that is.
func marking(lot *shop.Lot) string {
	if lot.Suspected() {
		return ""
	}
	return fmt.Sprintf("To mark it: %s", sorting(lot, "halogen=yes"))
}

// sorting is the command that sorts all of a lot into one heap.
func sorting(lot *shop.Lot, what string) string {
	return fmt.Sprintf("hopperful record sorted --from %s --into %s,%s", lot.ID, strings.ReplaceAll(quantity.Mass.Exact(weighed(lot)), " ", ""), what)
}
