package identification

import (
	"hopperful/answer"
	"hopperful/fact"
	"hopperful/polymer/identify"
	"hopperful/shop"
)

// leastBits is what a test must be expected to tell to be worth its time, and
// enough the entropy below which nothing more need be tried [bit]. Judgement.
const (
	leastBits = 0.01
	enough    = 0.1
)

// mostShown is how many polymers a person can take in at once.
const mostShown = 6

// tests lists what could be tried, unless everything stops.
func (q *inquiry) tests() error {
	if q.out.Stopped = !q.stopped().Empty(); q.out.Stopped {
		return nil
	}
	q.out.MayHeat = q.book.MayHeat(q.shares)
	ranked, err := q.book.Rank(q.shares, q.opt.Findings)
	if err != nil {
		return shop.OutOfRange("findings", fact.Saying{}, err)
	}
	for _, w := range ranked {
		if w.Bits < leastBits {
			continue
		}
		t, err := q.test(w)
		if err != nil {
			return err
		}
		if q.out.Next == nil && (q.out.Unsure.Value > enough || len(q.opt.Findings) == 0) {
			q.out.Next = &t
			continue
		}
		q.out.Tests = append(q.out.Tests, t)
	}
	return q.part()
}

// document puts the answer together.
func (q *inquiry) document() {
	d := &q.out.Document
	if q.out.Stopped {
		bar := shop.Bar{Code: shop.BarHalogen}
		why, instead := bar.Says()
		d.Head = answer.Found(q.stopped(), instead)
		d.Cautions = []answer.Finding{answer.Found(why)}
		if q.lot != nil && !q.lot.Suspected() && weighed(q.lot) > 0 {
			d.Steps = append(d.Steps, answer.Action{Do: marking(q.lot)})
		}
		return
	}
	tried := len(q.opt.Findings) > 0 && !q.book.LooksOnly(q.opt.Findings)
	d.Verdict = answer.Judge(q.out.Materials[0].Share.Value, tried)
	d.Head = q.head()
	if _, err := Keep(q.state, q.opt, q.out); err == nil && q.lot != nil {
		d.Steps = append(d.Steps, answer.Action{Do: fact.Say("do.keep_piece", answer.Lot("lot", q.lot))})
	}
	if t := q.out.Next; t != nil {
		d.Steps = append(d.Steps, answer.Action{Do: t.Do(), Why: t.How, Takes: &t.Time})
		if !t.Mind.Empty() {
			d.Cautions = append(d.Cautions, answer.Found(t.Mind))
		}
	}
	if p := q.out.Part; p != nil {
		f := answer.Found(fact.Say("identification.parting", PolymerName("light", p.Light), PolymerName("heavy", p.Heavy), liquidFact(p.Test.Liquid), densityFact(p.Test.At)))
		if mix := p.Test.Mix(); !mix.Empty() {
			f.Remedies = append(f.Remedies, mix)
		}
		d.Spoilers = append(d.Spoilers, f)
	}
	q.spoilers()
	q.tables()
	s := answer.Section{Key: "piece", Notes: []fact.Saying{fact.Say("identification.prior", fact.Parts("prior", q.out.Prior))}}
	if q.out.Next == nil && len(q.opt.Findings) > 0 {
		s.Notes = append(s.Notes, fact.Say("identification.no_further_test"))
	}
	for _, m := range q.out.Materials {
		s.Figures = append(append(s.Figures, m.Share), m.Grades...)
	}
	s.Figures = append(s.Figures, q.out.Unsure)
	if q.out.Next != nil {
		s.Figures = append(s.Figures, q.out.Next.Rate)
	}
	d.Reasons = append(d.Reasons, s)
}

// tables are the shares, what each finding moved, and the tests.
func (q *inquiry) tables() {
	shares := answer.Table{Key: "pieces", Leads: true, Columns: []answer.Column{{Key: "material"}, {Key: "chemistry"}, {Key: "share", Numbers: true}}}
	for _, m := range q.out.Materials[:min(mostShown, len(q.out.Materials))] {
		shares.Rows = append(shares.Rows, []fact.Fact{PolymerName("material", m.Polymer), fact.Parts("chemistry", m.Words), Percent("share", m.Share.Value)})
	}
	q.out.Tables = append(q.out.Tables, shares)
	if len(q.out.Moved) > 0 {
		moved := answer.Table{Key: "found", Leads: true, Columns: []answer.Column{{Key: "finding"}, {Key: "moves_most"}, {Key: "before", Numbers: true}, {Key: "after", Numbers: true}}}
		for _, m := range q.out.Moved {
			moved.Rows = append(moved.Rows, []fact.Fact{fact.Parts("finding", m.Finding), PolymerName("moves", m.Polymer), Percent("before", m.Before.Value), Percent("after", m.After.Value)})
		}
		q.out.Tables = append(q.out.Tables, moved)
	}
	all := q.out.Tests
	if q.out.Next != nil {
		all = append([]Test{*q.out.Next}, all...)
	}
	if len(all) == 0 {
		return
	}
	tests := answer.Table{Key: "tests", Columns: []answer.Column{{Key: "test"}, {Key: "takes", Numbers: true}, {Key: "chance_of_yes", Numbers: true}, {Key: "bits_a_minute", Numbers: true}, {Key: "yes_means"}, {Key: "no_means"}}}
	for _, t := range all {
		tests.Rows = append(tests.Rows, []fact.Fact{fact.Parts("test", t.Ask), fact.Figure("takes", t.Time), fact.Figure("yes", t.Chance), fact.Figure("rate", t.Rate), fact.Parts("if_yes", t.IfYes), fact.Parts("if_no", t.IfNo)})
	}
	q.out.Tables = append(q.out.Tables, tests)
}

// liquidFact is a liquid by its name in the catalogue.
func liquidFact(l identify.Liquid) fact.Fact { return fact.Parts("liquid", LiquidName(l)) }

// LiquidName is what a liquid is called.
func LiquidName(l identify.Liquid) fact.Saying {
	switch l {
	case identify.Water:
		return fact.Say("identification.water")
	case identify.Brine:
		return fact.Say("identification.brine")
	case identify.Ethanol:
		return fact.Say("identification.ethanol")
	case identify.Propanol:
		return fact.Say("identification.propanol")
	case identify.Sugar:
		return fact.Say("identification.sugar")
	case identify.Chloride:
		return fact.Say("identification.chloride")
	}
	return fact.Verbatim(string(l))
}

// Note is what was found as the note of a record; empty where nothing was.
func (i Identification) Note() fact.Saying {
	var all []fact.Saying
	for _, m := range i.Moved {
		all = append(all, m.Finding)
	}
	if len(all) == 0 {
		return fact.Saying{}
	}
	return fact.Say("identification.note", fact.Parts("found", all...))
}
