package books

import (
	"iter"
	"maps"
	"math"
	"slices"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/quantity"
	"hopperful/shop"
)

// The electricity of what comes after the mill: drying and printing. Where a meter was
// read its record counts; else it is foretold as a range, from the same way's own
// readings, or from what is usual.

// span is a value with the ends of its 80 % range.
type span struct{ value, low, high float64 }

func (s span) times(by float64) span { return span{s.value * by, s.low * by, s.high * by} }

func (s span) and(o span) span { return span{s.value + o.value, s.low + o.low, s.high + o.high} }

// drawn is what each way of drying draws at the socket, over its hours [W]. A small box
// takes 40 to 80 W, an oven switches itself on for a fifth to a half of the time.
// Judgement, no source.
var drawn = map[shop.Way]span{
	shop.Oven: {300, 150, 600}, shop.Dehydrator: {180, 80, 350}, shop.DesiccantBox: {40, 5, 80}, shop.DryAir: {250, 100, 600},
}

// anyWay is what a dryer draws of which no more is known [W]. Judgement, no source.
var anyWay = span{200, 20, 600}

// usualPrinting is what a kilogram takes at the printer's socket [J/kg]: 0.5 to 2 kWh on
// larger screw heads, up to 6 on desktop machines with a heated bed; 0.09 to 0.17 of it
// is the heat that melts it. Judgement, no source.
var usualPrinting = span{1.5 * kWh, 0.5 * kWh, 5 * kWh}

// likeOurs is how far what the same dryer or printer takes another time may lie from
// what it took when a meter was read. Judgement.
const likeOurs = 1.5

// stage is what one step took in a time.
type stage struct {
	key   string
	mass  float64 // that went through it [kg]
	total span    // [J]
	read  int     // records whose energy a meter told
	all   int
}

// perKilogram is the energy of a kilogram of it [J/kg].
func (s stage) perKilogram() span { return s.total.times(1 / s.mass) }

// metered sums what was read, so that what was not can be told from it.
type metered struct{ energy, of float64 }

func (m metered) each() (span, bool) {
	if m.energy <= 0 || m.of <= 0 {
		return span{}, false
	}
	v := m.energy / m.of
	return span{v, v / likeOurs, v * likeOurs}, true
}

// dried is the drying of a time.
func dried(s *shop.State, o Options) stage {
	own := map[shop.Way]metered{} // J and s, of the latest
	for _, r := range s.Records.NewestOf(mostDried, (*shop.Dried)(nil)) {
		if b := r.Body.(*shop.Dried); b.Energy != nil {
			m := own[b.Way]
			own[b.Way] = metered{m.energy + *b.Energy, m.of + b.Time}
		}
	}
	st := stage{key: "drying"}
	lost := lossesOf(s, o)
	for _, r := range between(s, o, (*shop.Dried)(nil)) {
		b := r.Body.(*shop.Dried)
		st.all++
		if st.mass += driedMass(s, r, b, lost); b.Energy != nil {
			st.read++
			st.total = st.total.and(span{*b.Energy, *b.Energy, *b.Energy})
			continue
		}
		watt, known := own[b.Way].each()
		if !known {
			if watt, known = drawn[b.Way]; !known {
				watt = anyWay
			}
		}
		st.total = st.total.and(watt.times(b.Time))
	}
	return st
}

// driedMass is what lay in the dryer: as weighed, else what the lot then held.
func driedMass(s *shop.State, r shop.Record, b *shop.Dried, lost map[shop.LotID][]shop.Loss) float64 {
	switch {
	case b.In != nil:
		return *b.In
	case b.Out != nil:
		return *b.Out
	}
	l, ok := s.Lot(b.Lot)
	if !ok {
		return 0
	}
	held, after := l.Mass, s.Records.Began(r.At.Add(1)) // less what came, and with what went, since
	since := func(id shop.RecordID) bool {
		place, ok := s.Records.Place(id)
		return ok && place >= after
	}
	for _, e := range l.Parents {
		if since(e.Record) {
			held -= e.Mass
		}
	}
	for _, e := range l.Children {
		if since(e.Record) {
			held += e.Mass
		}
	}
	for _, x := range lost[b.Lot] {
		if since(x.Record) {
			held += x.Mass
		}
	}
	return math.Max(0, held)
}

// mostDried is how many dryings, the latest, tell what a dryer draws. Judgement.
const mostDried = 128

// between are the records of a kind in the time of the books.
func between(s *shop.State, o Options, kind shop.Body) iter.Seq2[int, shop.Record] {
	return s.Records.First(s.Records.Began(o.To)).OfFrom(s.Records.Began(o.From), kind)
}

// lossesOf are the losses of the lots dried in the time of the books.
func lossesOf(s *shop.State, o Options) map[shop.LotID][]shop.Loss {
	m := map[shop.LotID][]shop.Loss{}
	for _, r := range between(s, o, (*shop.Dried)(nil)) {
		m[r.Body.(*shop.Dried).Lot] = nil
	}
	for x := range s.Losses.Of(slices.Collect(maps.Keys(m))...) {
		m[x.Lot] = append(m[x.Lot], x)
	}
	return m
}

// printedOf is the printing of a time.
func printedOf(s *shop.State, o Options) stage {
	var own metered // J and kg, of the latest
	for _, p := range s.Prints() {
		if p.Body.Energy != nil {
			own.energy, own.of = own.energy+*p.Body.Energy, own.of+p.Body.Mass
		}
	}
	st := stage{key: "printing"}
	for _, r := range between(s, o, (*shop.Printed)(nil)) {
		b := r.Body.(*shop.Printed)
		st.all++
		if st.mass += b.Mass; b.Energy != nil {
			st.read++
			st.total = st.total.and(span{*b.Energy, *b.Energy, *b.Energy})
			continue
		}
		each, known := own.each()
		if !known {
			each = usualPrinting
		}
		st.total = st.total.and(each.times(b.Mass))
	}
	return st
}

// figureOf is what a kilogram takes in a step, said where from.
func (s stage) figureOf(name string) figure.Figure {
	each := s.perKilogram()
	f := figure.Figure{Key: s.key + "_energy", Name: name, Kind: quantity.SpecificEnergy, Value: each.value, Low: each.low, High: each.high, Basis: figure.Reckoned, Runs: s.all}
	if s.read < s.all {
		f.Basis = figure.Assumed
	}
	return f.From("Σ E / Σ m")
}

// electricity is the table of all steps, and what it says of them.
func (j *job) electricity() {
	t := answer.Table{Key: "books_electricity", Columns: []answer.Column{{Key: "step"}, {Key: "step_mass", Numbers: true}, {Key: "step_energy", Numbers: true}}}
	var sum span
	for _, s := range []stage{j.grinding, j.drying, j.printing} {
		if s.all == 0 || s.mass <= 0 {
			continue
		}
		sum = sum.and(s.total)
		t.Rows = append(t.Rows, []fact.Fact{s.word(), fact.About("mass", quantity.Mass, s.mass),
			s.total.shown("energy", quantity.Energy)})
		if s.read < s.all {
			t.Notes = append(t.Notes, s.foretold(fact.Count("n", s.all-s.read), fact.Count("of", s.all)))
		}
	}
	if len(t.Rows) == 0 {
		return
	}
	t.Rows = append(t.Rows, []fact.Fact{fact.Word("step", "books.sum"), fact.Name("mass", ""), sum.shown("energy", quantity.Energy)})
	j.doc.Tables = append(j.doc.Tables, t)
}

// shown is a range as a person reads it, or the one value that it is.
func (s span) shown(name string, kind quantity.Kind) fact.Fact {
	if s.low == s.high {
		return fact.About(name, kind, s.value)
	}
	return fact.Parts(name, fact.Say("books.between", fact.About("low", kind, s.low), fact.About("high", kind, s.high)))
}

// word is what a step is called.
func (s stage) word() fact.Fact {
	switch s.key {
	case "drying":
		return fact.Word("step", "books.step_drying")
	case "printing":
		return fact.Word("step", "books.step_printing")
	}
	return fact.Word("step", "books.step_grinding")
}

// foretold says how many records of a step no meter told of, and what stands in.
func (s stage) foretold(n, of fact.Fact) fact.Saying {
	switch s.key {
	case "drying":
		return fact.Say("books.step_foretold_drying", n, of)
	case "printing":
		return fact.Say("books.step_foretold_printing", n, of)
	}
	return fact.Say("books.step_foretold_grinding", n, of)
}
