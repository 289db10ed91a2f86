package identification

import (
	"math"
	"slices"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/polymer"
	"hopperful/polymer/identify"
	"hopperful/quantity"
	"hopperful/shop"
)

// said is a finding as a saying.
func (q *inquiry) said(f identify.Finding) fact.Saying {
	is := fact.Word("answer", "identification.no")
	if f.Yes {
		is = fact.Word("answer", "identification.yes")
	}
	switch f.Test {
	case identify.Weighed:
		return fact.Say("identification.weighs", fact.Measured("density", quantity.Density, f.At), fact.Measured("within", quantity.Density, f.Within))
	case "floats":
		return fact.Say("identification.floated", densityFact(f.At), is)
	case "sticks":
		return fact.Say("identification.found", fact.Parts("ask", fact.Say("identification.ask_sticks", fact.Set("at", quantity.Temperature, f.At))), is)
	}
	return fact.Say("identification.found", fact.Parts("ask", bench[f.Test].ask), is)
}

// materials lists the polymers, likeliest first.
func (q *inquiry) materials() error {
	table, err := q.state.Table()
	if err != nil {
		return err
	}
	sums := q.book.ByPolymer(q.shares)
	for _, name := range q.polymers() {
		p, err := table.Find(name)
		if err != nil {
			return err
		}
		m := Material{Polymer: p.Name, Words: fact.Saying{Code: p.Words}, Share: q.share("share", p.Name, sums[name])}
		if p.Name == polymer.Unknown {
			m.Words = fact.Say("identification.not_listed")
		}
		if q.was != nil {
			was := q.share("was", p.Name, q.was[name])
			m.Was = &was
		}
		for i, c := range q.book.Candidates {
			if c.Polymer == name && q.graded(name) {
				m.Grades = append(m.Grades, q.share("grade", c.Name, q.shares[i]))
			}
		}
		q.out.Materials = append(q.out.Materials, m)
	}
	slices.SortStableFunc(q.out.Materials, func(a, b Material) int {
		switch {
		case a.Share.Value > b.Share.Value:
			return -1
		case a.Share.Value < b.Share.Value:
			return 1
		}
		return 0
	})
	if best := q.out.Materials[0].Polymer; best != polymer.Unknown {
		q.out.Polymer = best
	}
	return nil
}

// graded reports whether a polymer is listed in more than one grade.
func (q *inquiry) graded(name string) bool {
	n := 0
	for _, c := range q.book.Candidates {
		if c.Polymer == name {
			n++
		}
	}
	return n > 1
}

// Percent is a share in whole per cents: more digits than the tables behind it
// bear would only look sure.
func Percent(name string, share float64) fact.Fact {
	n := math.Floor(100*share + 0.5)
	switch {
	case n < 1:
		return fact.Word(name, "identification.under_one")
	case n > 99:
		return fact.Word(name, "identification.over_most")
	}
	return fact.Set(name, quantity.Share, n/100)
}

// PolymerName is a polymer as answers about a piece call it: what is not listed
// has no name.
func PolymerName(name, polymerName string) fact.Fact {
	if polymerName == polymer.Unknown {
		return fact.Word(name, "identification.other")
	}
	return fact.Name(name, polymerName)
}

// with is a polymer with its share.
func with(name string, share float64) fact.Saying {
	return fact.Say("identification.with_share", PolymerName("polymer", name), Percent("share", share))
}

// head is the answer.
func (q *inquiry) head() answer.Finding {
	best := q.out.Materials[0]
	is, share := PolymerName("polymer", best.Polymer), Percent("share", best.Share.Value)
	label, _ := q.label()
	switch {
	case q.out.Polymer == "":
		return answer.Found(fact.Say("identification.nothing_fits", share), fact.Say("identification.repeat_or_keep"))
	case len(q.opt.Findings) == 0 && label == "":
		return answer.Found(fact.Say("identification.nothing_tried", share, is))
	case len(q.opt.Findings) == 0:
		return answer.Found(fact.Say("identification.by_label", is, share), fact.Say("identification.one_test"))
	case q.book.LooksOnly(q.opt.Findings):
		return answer.Found(fact.Say("identification.by_looks", is, share), fact.Say("identification.try_a_test"))
	}
	switch q.out.Verdict {
	case answer.Yes:
		return answer.Found(fact.Say("identification.is", is, share), fact.Say("identification.never_certain"))
	case answer.Likely:
		return answer.Found(fact.Say("identification.likely", is, share), fact.Say("identification.never_certain"))
	}
	var few []fact.Saying
	for _, m := range q.out.Materials[:min(4, len(q.out.Materials))] {
		if m.Share.Value >= 0.03 || len(few) < 2 {
			few = append(few, with(m.Polymer, m.Share.Value))
		}
	}
	return answer.Found(fact.Say("identification.open", fact.Parts("few", few...)))
}

// stopped is why everything stops; empty while the piece cannot give off chlorine.
func (q *inquiry) stopped() fact.Saying {
	switch {
	case q.opt.Chlorine == shop.Yes:
		return fact.Say("identification.stop_said")
	case q.lot != nil && q.lot.Suspected():
		return fact.Say("identification.stop_lot", answer.Lot("lot", q.lot))
	case q.book.Suspect(q.shares):
		other, share := q.beside("PVC")
		return fact.Say("identification.stop_pvc", Percent("share", q.book.ByPolymer(q.shares)["PVC"]), fact.Name("other", other), Percent("other_share", share))
	}
	return fact.Saying{}
}

// beside is the polymer but one that the findings speak for most, however seldom it
// is printed.
func (q *inquiry) beside(but string) (name string, share float64) {
	sums, before, best := q.book.ByPolymer(q.shares), q.book.ByPolymer(q.prior), 0.0
	for _, p := range q.polymers() {
		if odds := sums[p] / before[p]; p != but && p != polymer.Unknown && odds > best {
			name, share, best = p, sums[p], odds
		}
	}
	return name, share
}

// spoilers are what the answer does not know.
func (q *inquiry) spoilers() {
	add := func(s fact.Saying, remedies ...fact.Saying) {
		q.out.Spoilers = append(q.out.Spoilers, answer.Found(s, remedies...))
	}
	if other := q.book.ByPolymer(q.shares)[polymer.Unknown]; other >= 0.2 && q.out.Polymer != "" {
		add(fact.Say("identification.fits_nothing_well"), fact.Say("identification.repeat"))
	}
	if slices.ContainsFunc(q.opt.Findings, func(f identify.Finding) bool { return f.Test == "floats" || f.Test == identify.Weighed }) {
		add(fact.Say("identification.filled_reads_wrong"))
	}
	add(fact.Say("identification.one_of_a_lot"))
}
