package lineage

import (
	"errors"
	"fmt"

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

// Ager derives ages; known remembers lots already reckoned, melts the records
// by which plastic was melted.
type Ager struct {
	s     *shop.State
	known map[shop.LotID]Spread
	melts map[shop.RecordID]bool
}

// NewAger derives the ages of a shop's lots, each once.
func NewAger(s *shop.State) *Ager {
	w := &Ager{s: s, known: map[shop.LotID]Spread{}, melts: map[shop.RecordID]bool{}}
	for _, r := range s.Records {
		if _, ok := r.Body.(*shop.Printed); ok {
			w.melts[r.ID] = true
		}
	}
	return w
}

// Of is the age of a lot: well mixed over all that ever came into it, as
// [shop.State.Composition] takes it.
func (w *Ager) Of(l *shop.Lot) (Spread, error) {
	if done, ok := w.known[l.ID]; ok {
		return done, nil
	}
	var low, mid, high []ageing.Part
	judged, whole := 0.0, wholeOf(l)
	add := func(a Spread, mass float64) {
		low = append(low, ageing.Part{Age: a.low, Mass: mass})
		mid = append(mid, ageing.Part{Age: a.mid, Mass: mass})
		high = append(high, ageing.Part{Age: a.high, Mass: mass})
		judged += a.judged * mass
	}
	if outside := outsideOf(l); outside > 0 || whole == 0 {
		a, err := ageOutside(l.Class)
		if err != nil {
			return a, err
		}
		if whole == 0 { // a scale's digit was taken out of an empty lot
			outside, whole = 1, 1
		}
		add(a, outside)
	}
	for _, e := range l.Parents {
		a, err := w.Of(w.s.Lots[e.Lot])
		if err != nil {
			return a, err
		}
		if w.melts[e.Record] {
			if a, err = a.melted(); err != nil {
				return a, tooOld(l.ID, err)
			}
		}
		add(a, e.Mass)
	}
	a := Spread{judged: min(1, judged/whole)}
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
// elsewhere may hold new granulate.
func ageOutside(c shop.Class) (Spread, error) {
	if c == shop.Virgin {
		return Spread{low: ageing.Virgin(), mid: ageing.Virgin(), high: ageing.Virgin()}, nil
	}
	a := Spread{judged: 1}
	var err error
	if a.low, err = ageing.Passed(1); err != nil {
		return a, err
	}
	if c == shop.Blend {
		a.low = ageing.Virgin()
	}
	if a.mid, err = ageing.Steady(outsideLoop, 0); err != nil {
		return a, err
	}
	a.high, err = ageing.Steady(outsideLoopHigh, 0)
	return a, err
}

// melted is the age after one more pass. The water in it then is not in the
// records, so no chains are counted as cut.
func (a Spread) melted() (Spread, error) {
	for _, x := range []*ageing.Age{&a.low, &a.mid, &a.high} {
		var err error
		if *x, err = x.Melted(0); err != nil {
			return a, err
		}
	}
	return a, nil
}

// tooOld refuses a lot beyond what ages are followed to.
func tooOld(id shop.LotID, err error) error {
	var out *process.RangeError
	if !errors.As(err, &out) {
		return err
	}
	return &shop.Error{Code: shop.Invalid, Field: "lot", Say: fmt.Sprintf("By the records part of lot %s was printed more than a thousand times.", id),
		Hint: "Look through its prints; one may be written down more than once."}
}
