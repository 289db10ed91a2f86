package traceability

import (
	"errors"
	"time"

	"hopperful/fact"
	"hopperful/polymer"
	"hopperful/process"
	"hopperful/process/ageing"
	"hopperful/shop"
)

// The past of what came from outside and was printed before: as from a shop
// that feeds back this share of its own scrap, so that its mean is 1 to 2
// passes, 1.1 at the median. Judgement: most scrap people bring is of bought
// filament.
const (
	outsideLoop     = 0.1
	outsideLoopHigh = 0.5
)

// Ager derives ages, and the melt flow they make; what was reckoned once is
// remembered.
type Ager struct {
	s        *shop.State
	table    *polymer.Table
	known    map[shop.LotID]Spread
	melts    map[shop.RecordID]cuts // of the records by which plastic was melted
	dryings  map[shop.LotID][]stay
	plastics map[string]plastic
	flows    map[shop.LotID]flowMeasure // the newest melt-flow test of each lot
	tests    []flowMeasure              // all of them, in the order of the records
	roots    map[shop.LotID]shares      // what each lot goes back to: measured lots, or what came from outside
	grades   map[shop.LotID]shares      // the same, past lots that were measured
	taught   map[string]taught          // the factor of a pass, by polymer
}

// NewAger derives the ages of a shop's lots, each once.
func NewAger(s *shop.State) (*Ager, error) {
	w := &Ager{s: s, known: map[shop.LotID]Spread{}, melts: map[shop.RecordID]cuts{}, dryings: map[shop.LotID][]stay{},
		plastics: map[string]plastic{}, flows: map[shop.LotID]flowMeasure{}, roots: map[shop.LotID]shares{}, grades: map[shop.LotID]shares{},
		taught: map[string]taught{}}
	var err error
	if w.table, err = s.Table(); err != nil {
		return nil, err
	}
	for _, r := range s.Records.Of((*shop.FlowTested)(nil)) {
		w.measured(r, r.Body.(*shop.FlowTested))
	}
	return w, nil
}

// meltedBy is what water did in the printing of that number; false where it is none.
func (w *Ager) meltedBy(id shop.RecordID) (cuts, bool, error) {
	if c, ok := w.melts[id]; ok || !w.s.Records.IsOf(id, (*shop.Printed)(nil)) {
		return c, ok, nil
	}
	r, _ := w.s.Record(id)
	c, err := w.cutsIn(r.At, r.Body.(*shop.Printed))
	w.melts[id] = c
	return c, true, err
}

// dried are a lot's stays in a dryer.
func (w *Ager) dried(id shop.LotID) []stay {
	list, ok := w.dryings[id]
	if !ok {
		for _, r := range w.s.RecordsOf([]shop.LotID{id}, (*shop.Dried)(nil)) {
			list = append(list, stay{r.At, r.At.Add(time.Duration(r.Body.(*shop.Dried).Time * float64(time.Second)))})
		}
		w.dryings[id] = list
	}
	return list
}

// Of is the age of a lot: well mixed over all that ever came into it, as
// [shop.State.Composition] takes it.
func (w *Ager) Of(l *shop.Lot) (Spread, error) {
	if done, ok := w.known[l.ID]; ok {
		return done, nil
	}
	var low, mid, high []ageing.Part
	judged, said, unsaid, whole := 0.0, 0.0, 0.0, wholeOf(l)
	add := func(a Spread, mass float64) {
		low = append(low, ageing.Part{Age: a.low, Mass: mass})
		mid = append(mid, ageing.Part{Age: a.mid, Mass: mass})
		high = append(high, ageing.Part{Age: a.high, Mass: mass})
		judged += a.judged * mass
		said, unsaid = said+a.said*mass, unsaid+a.unsaid*mass
	}
	if outside := outsideOf(l); outside > 0 || whole == 0 {
		a, err := w.ageOutside(l)
		if err != nil {
			return a, err
		}
		if whole == 0 { // a scale's digit was taken out of an empty lot
			outside, whole = 1, 1
		}
		add(a, outside)
	}
	for _, e := range l.Parents {
		a, err := w.Of(w.s.Lots.At(e.Lot))
		if err != nil {
			return a, err
		}
		c, ok, err := w.meltedBy(e.Record)
		if err != nil {
			return a, err
		}
		if ok {
			if a, err = a.melted(c); err != nil {
				return a, tooOld(l.ID, err)
			}
		}
		add(a, e.Mass)
	}
	a := Spread{judged: min(1, judged/whole), said: said / whole, unsaid: unsaid / whole}
	for _, one := range []struct {
		into  *ageing.Age
		parts []ageing.Part
	}{{&a.low, low}, {&a.mid, mid}, {&a.high, high}} {
		var err error
		if *one.into, err = ageing.Blend(one.parts...); err != nil {
			return a, err
		}
	}
	w.known[l.ID] = a
	return a, nil
}

// ageOutside is the age of what comes into the shop, by its class: granulate
// as bought was never printed, everything else at least once, but a blend made
// elsewhere may hold new granulate. It was melted dry but at the high end.
func (w *Ager) ageOutside(l *shop.Lot) (Spread, error) {
	if l.Class == shop.Virgin {
		return Spread{low: ageing.Virgin(), mid: ageing.Virgin(), high: ageing.Virgin()}, nil
	}
	a := Spread{judged: 1}
	var err error
	if a.low, err = ageing.Passed(1); err != nil {
		return a, err
	}
	if l.Class == shop.Blend {
		a.low = ageing.Virgin()
	}
	if a.mid, err = ageing.Steady(outsideLoop, 0); err != nil {
		return a, err
	}
	damp, err := w.cutsOutside(w.plasticOf(l.Polymer))
	if err != nil {
		return a, err
	}
	a.high, err = ageing.Steady(outsideLoopHigh, damp)
	return a, err
}

// tooOld refuses a lot beyond what ages are followed to.
func tooOld(id shop.LotID, err error) error {
	var out *process.RangeError
	if !errors.As(err, &out) {
		return err
	}
	return shop.Refuse(shop.Invalid, "lot", fact.Say("age.printed_too_often", fact.Lot("lot", string(id), "")), fact.Say("age.look_through_prints"))
}
