package sieving

import (
	"slices"
	"sort"

	"hopperful/shop"
)

// What a screen's book asks of the latest runs is carried on: forty stacks, each of a
// lot of forty runs, are otherwise a thousand records read from the log for one answer.

// runsCarried at least of the latest runs are carried, and up to twice as many: more than
// the stacks that a screen is judged by ask for. Judgement.
const runsCarried = 2048

// ranInto is a run as far as a screen is concerned.
type ranInto struct {
	id     shop.RecordID
	into   shop.LotID
	mill   string
	hole   *float64 // nil: not noted
	charge float64
}

func asRan(id shop.RecordID, d *shop.Ground) ranInto {
	return ranInto{id, d.Into, d.Mill, d.Hole, d.Charge}
}

// latestRuns are the latest runs, in their order.
type latestRuns struct {
	runs []ranInto
	cut  bool // earlier ones are not carried any more
}

var ran = shop.Carry("screen", takeRun, func(l *latestRuns) latestRuns { return latestRuns{slices.Clip(l.runs), l.cut} }, (*shop.Ground)(nil))

func takeRun(l *latestRuns, _ *shop.State, r shop.Record) {
	l.add(asRan(r.ID, r.Body.(*shop.Ground)), runsCarried)
}

// add keeps at least so many runs.
func (l *latestRuns) add(r ranInto, least int) {
	if len(l.runs) == 2*least {
		l.runs, l.cut = slices.Clone(l.runs[least:]), true
	}
	l.runs = append(l.runs, r)
}

// carried are the runs into a lot, in their order; false when one of them is not among
// the carried ones.
func (b *screenBook) carried(known *latestRuns, lot shop.LotID) ([]screenRun, bool) {
	l, ok := b.state.Lot(lot)
	if !ok {
		return nil, true
	}
	place := func(id shop.RecordID) int { i, _ := b.state.Records.Place(id); return i }
	begin := 0
	if known.cut {
		begin = place(known.runs[0].id)
	}
	var all []screenRun
	for _, id := range l.Records {
		if !b.state.Records.IsOf(id, (*shop.Ground)(nil)) {
			continue
		}
		at := place(id)
		if at < begin {
			return nil, false
		}
		i := sort.Search(len(known.runs), func(i int) bool { return place(known.runs[i].id) >= at })
		if i < len(known.runs) && known.runs[i].id == id && known.runs[i].into == lot {
			all = append(all, b.run(at, known.runs[i]))
		}
	}
	slices.SortFunc(all, func(a, b screenRun) int { return a.place - b.place })
	return all, true
}
