package plan

import (
	"slices"

	"hopperful/estimate"
	"hopperful/shop"
	"hopperful/source"
)

// What the records have taught of the mill's draw at each level of its
// controller.

// levels lists the draw at every level that a run was noted at, before and
// after.
func (l *Learning) levels(log *logbook, f *estimate.Fitted, m shop.Mill, priors estimate.Beliefs) {
	var seen []int
	for _, r := range log.runs {
		if r.Load.Level > 0 && r.Load.Watts > 0 {
			seen = append(seen, r.Load.Level)
		}
	}
	slices.Sort(seen)
	for _, level := range slices.Compact(seen) {
		book, now := drawnAt(drawAt(m, level), f, priors)
		one := Learned{Book: belief(&book, estimate.PowerScale), Now: belief(&now, estimate.PowerScale), Moved: []Mover{}}
		for _, x := range f.ScaleMovers(drawAt(m, level).Load, mostMovers) {
			one.Moved = append(one.Moved, Mover{x.Record, x.By})
		}
		l.Parameters = append(l.Parameters, one)
	}
}

// drawnAt puts the draw in watts, as thought before the records and after, in
// the place of the power scale.
func drawnAt(d draw, f *estimate.Fitted, priors estimate.Beliefs) (book, now estimate.Beliefs) {
	book, now = priors, priors
	book[estimate.PowerScale] = estimate.DrawnAt(d.Load, estimate.BookScale(priors, d.Load))
	now[estimate.PowerScale] = estimate.DrawnAt(d.Load, f.ScaleAt(priors, d.Load))
	for _, b := range []*estimate.Beliefs{&book, &now} {
		b[estimate.PowerScale].Source = source.Ref{Key: "judgement", Place: d.how}
		if d.Spread < labelSpread { // the owner metered it, here or at the levels beside
			b[estimate.PowerScale].FromUser, b[estimate.PowerScale].Source = true, entered
		}
	}
	return book, now
}
