package plan

import (
	"errors"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/process"
	"hopperful/quantity"
)

// Document is what the records have taught, as every answer is laid out.
func (l Learning) Document() answer.Document {
	d := answer.Document{Head: answer.Found(l.Head(), l.Calibration.Verdict, l.Wear.Verdict)}
	if l.Runs > 0 {
		d.Charts = append(d.Charts, l.Wear.Chart)
	}
	if l.Changed != nil {
		d.Spoilers = append(d.Spoilers, l.Changed.Says)
	}
	for _, s := range l.Suspicious {
		d.Spoilers = append(d.Spoilers, s.Says)
	}
	if c, ok := l.Calibration.Chart(); ok {
		d.Charts = append(d.Charts, c)
	}
	d.Figures = []figure.Figure{l.Wear.Ground, l.Wear.Now}
	if l.Wear.Left != nil {
		d.Figures = append(d.Figures, *l.Wear.Left)
	}
	if l.Calibration.Readings > 0 {
		d.Figures = append(d.Figures, l.Calibration.Inside)
	}
	if len(l.Forecasts) > 0 {
		d.Tables = append(d.Tables, l.foretold())
	}
	if t := l.believed(); len(t.Rows) > 0 {
		d.Tables = append(d.Tables, t)
	}
	var left []fact.Saying
	for _, u := range l.Unread {
		said := fact.Say("learn.unread", fact.Count("record", int(u.Record)), fact.Parts("why", u.Why))
		if u.Asked {
			d.Spoilers = append(d.Spoilers, answer.Found(said))
			continue
		}
		left = append(left, said)
	}
	if len(left) > 0 {
		d.Reasons = []answer.Section{{Key: "unread", Notes: left}}
	}
	return d
}

// Head sums the learning up.
func (l Learning) Head() fact.Saying {
	if l.Runs == 0 {
		return fact.Say("learn.none", fact.Name("mill", l.Mill))
	}
	learned := 0
	for _, p := range l.Parameters {
		if p.Now.Runs > 0 {
			learned++
		}
	}
	return fact.Say("learn.taught", fact.Count("runs", l.Runs), fact.Count("learned", learned), fact.Count("all", len(l.Parameters)), fact.Name("mill", l.Mill))
}

// foretold holds the last runs against what was forecast of them.
func (l Learning) foretold() answer.Table {
	t := answer.Table{Key: "foretold", Columns: []answer.Column{{Key: "of_record"}, {Key: "look_when"}, {Key: "reading"},
		{Key: "foretold", Numbers: true}, {Key: "foretold_range", Numbers: true}, {Key: "actual", Numbers: true}, {Key: "inside"}}}
	for _, c := range l.Forecasts {
		record, when := fact.Count("", int(c.Record)), fact.Moment("", c.At)
		if c.Stalled {
			t.Rows = append(t.Rows, []fact.Fact{record, when, fact.Word("", "learn.the_run"), fact.Name("", ""), fact.Name("", ""), fact.Word("", "learn.stalled"), fact.Name("", "")})
		}
		for _, b := range c.Read {
			t.Rows = append(t.Rows, []fact.Fact{record, when, fact.Word("", b.Actual.Name), fact.Figure("", b.Forecast), within(b.Forecast), fact.Figure("", b.Actual), b.place()})
		}
	}
	return t
}

// within is a figure's range as a cell.
func within(f figure.Figure) fact.Fact {
	return fact.Parts("", fact.Say("learn.range", fact.Figure("of", f)))
}

// place says where a reading lay.
func (b Readback) place() fact.Fact {
	switch {
	case b.Inside:
		return fact.Word("place", "learn.inside")
	case b.Actual.Value > b.Forecast.High:
		return fact.Word("place", "learn.above")
	}
	return fact.Word("place", "learn.below")
}

// believed sets what is believed beside what the books say.
func (l Learning) believed() answer.Table {
	t := answer.Table{Key: "believed", Columns: []answer.Column{{Key: "parameter"}, {Key: "books_say", Numbers: true}, {Key: "books_range", Numbers: true},
		{Key: "now_is", Numbers: true}, {Key: "now_range", Numbers: true}, {Key: "now_from"}, {Key: "moved_by"}}}
	for _, p := range l.Parameters {
		var moved []fact.Saying
		for _, m := range p.Moved {
			moved = append(moved, fact.Say("learn.record", fact.Count("record", int(m.Record))))
		}
		book := p.Book
		book.Name = "learn.book"
		now := p.Now.From(p.Now.How, book)
		t.Rows = append(t.Rows, []fact.Fact{fact.Parts("", fact.Say("learn.named", fact.Figure("of", now))), fact.Parts("", fact.Say("learn.value", fact.Figure("of", p.Book))), within(p.Book),
			fact.Figure("", now), within(now), fact.Parts("", fact.Say("learn.origin", fact.Figure("of", now))), fact.Parts("", moved...)})
	}
	return t
}

// fewestRanks is how many readings it takes to see anything. Judgement.
const fewestRanks = 5

// Chart shows whether readings lie where they should: sorted, they climb along the
// diagonal. False when there are too few to see anything.
func (c Calibration) Chart() (answer.Chart, bool) {
	if len(c.Ranks) < fewestRanks {
		return answer.Chart{}, false
	}
	ends := []float64{0, 1}
	chart := answer.Chart{Key: "ranks", Title: "learn.ranks", Summary: c.Verdict.Code, Facts: c.Verdict.Facts, XName: "learn.ranks_x", YName: "learn.ranks_y",
		XKind: quantity.Share, YKind: quantity.Share, XUnit: quantity.Share.SI(), YUnit: quantity.Share.SI(),
		Curves: []answer.Curve{{Key: "diagonal", Name: "learn.ranks_should", X: ends, Low: ends, Mid: ends, High: ends}}}
	points := answer.Points{Key: "readings", Name: "learn.ranks_readings"}
	for i, rank := range c.Ranks {
		points.X, points.Y = append(points.X, (float64(i)+0.5)/float64(len(c.Ranks))), append(points.Y, rank)
	}
	chart.Points = []answer.Points{points}
	return chart, true
}

// Told says of each reading of a run what was foretold.
func (c Compared) Told() []fact.Saying {
	var all []fact.Saying
	for _, b := range c.Read {
		all = append(all, fact.Say("learn.foretold", fact.Word("what", b.Actual.Name), fact.Figure("actual", b.Actual), fact.Figure("forecast", b.Forecast), b.place()))
	}
	return all
}

// unread says why a run teaches nothing.
func unread(s estimate.Skipped) fact.Saying {
	var out *process.RangeError
	if !errors.As(s.Why, &out) {
		return fact.Say("learn.unread_polymer")
	}
	kind, ok := out.Quantity()
	if !ok {
		kind = quantity.Number
	}
	return fact.Say("learn.unread_range", fact.Word("what", out.Name), fact.Set("value", kind, out.Value), fact.Set("low", kind, out.Lo), fact.Set("high", kind, out.Hi))
}
