package identification

import (
	"slices"

	"hopperful/fact"
	"hopperful/polymer/identify"
	"hopperful/quantity"
	"hopperful/shop"
)

// before is what is thought of the piece before any test: the books' shares
// moved towards the shop's own lots, then the label's word.
func (q *inquiry) before() error {
	counts, lots := q.counts()
	var err error
	if q.prior, err = q.book.WithCounts(counts); err != nil {
		return shop.OutOfRange("prior", fact.Saying{}, err)
	}
	q.out.Prior = fact.Say("identification.prior_books")
	if lots > 0 {
		q.out.Prior = fact.Say("identification.prior_own", fact.Count("n", lots))
	}
	label, right := q.label()
	if label == "" {
		return nil
	}
	q.out.Prior = fact.Say("identification.prior_label", fact.Name("label", label), fact.Set("right", quantity.Share, right))
	if q.prior, err = q.book.WithLabel(q.prior, label, right); err != nil {
		return shop.OutOfRange("label", fact.Saying{}, err)
	}
	return nil
}

// counts counts the shop's scrap lots by polymer, each by how sure its owner
// was. It leaves out the lot in question, and heaps sorted out of a lot that was
// counted as the same polymer already.
func (q *inquiry) counts() (counts map[string]float64, lots int) {
	counts = map[string]float64{}
	for _, id := range q.state.Order {
		l := q.state.Lots.At(id)
		if l.Class != shop.Scrap || l.Polymer == "" || l.ID == q.opt.Lot || q.counted(l) {
			continue
		}
		sure := 1.0
		if l.Sure != nil {
			sure = *l.Sure
		}
		counts[l.Polymer] += sure
		lots++
		if !slices.Contains(q.records, int64(l.Born)) { // one sorting may give several lots
			q.records = append(q.records, int64(l.Born))
		}
	}
	return counts, lots
}

// counted reports whether a lot came out of scrap of the same polymer.
func (q *inquiry) counted(l *shop.Lot) bool {
	return slices.ContainsFunc(l.Parents, func(e shop.Edge) bool {
		from, ok := q.state.Lot(e.Lot)
		return ok && from.Class == shop.Scrap && from.Polymer == l.Polymer
	})
}

// The least and most a label is believed: below a handful of tests can always
// speak against it, and no owner's word is certain. Judgement.
const (
	leastLabel = 0.05
	mostLabel  = 0.98
)

// label is what the label or the lot's owner says, and how far to believe it.
func (q *inquiry) label() (name string, right float64) {
	name, right = q.opt.Label, q.opt.LabelRight
	if name == "" && q.lot != nil {
		name = q.lot.Polymer
		if q.lot.Sure != nil {
			right = min(max(*q.lot.Sure, leastLabel), mostLabel)
		}
	}
	if right == 0 {
		right = identify.HandLabel
	}
	return name, right
}
