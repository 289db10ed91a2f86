package traceability

import (
	"math"
	"time"

	"hopperful/answer"
	"hopperful/polymer"
	"hopperful/process/ageing"
	"hopperful/process/moisture"
	"hopperful/shop"
)

// What a pass was like where nobody wrote down how damp the granulate was.
// Judgement.
const (
	driedWithin = 24 * time.Hour // before a print counts; after longer nobody knows how it stood
	dampMiddle  = 0.5            // of the way from dry to rest with the room's air
	mostCut     = 10.0           // [mol/kg] every other bond of the plastic; more changes nothing
)

// plastic is what ageing needs to know of a lot's polymer.
type plastic struct {
	polymer.Polymer
	known    bool            // the books have it
	cut      bool            // water cuts it
	chain    ageing.Chain    // when cut
	reacts   ageing.Reaction // when cut
	dry      float64         // water of dried plastic, which the factor of a pass holds already [1]
	rest     float64         // water at rest with the room's air [1]
	restFrom polymer.Value   // whose number that is
}

// plasticOf looks a lot's polymer up, once.
func (w *Ager) plasticOf(name string) plastic {
	if p, ok := w.plastics[name]; ok {
		return p
	}
	var p plastic
	if found, err := w.table.Find(name); err == nil {
		p = w.described(found)
	}
	w.plastics[name] = p
	return p
}

func (w *Ager) described(found polymer.Polymer) plastic {
	p := plastic{Polymer: found, known: true}
	if p.chain, p.cut = ageing.Hydrolyses(found.Name); !p.cut {
		return p
	}
	p.reacts = ageing.Reacts(found.Name)
	if v, err := found.Value(polymer.MoistureLimit); err == nil {
		p.dry = v.Value
	}
	humidity := answer.Humidity
	if w.s.Shop.RoomHumidity != nil {
		humidity = *w.s.Shop.RoomHumidity
	}
	v, err := found.Value(polymer.WaterSaturated)
	if err != nil {
		return p
	}
	sorption := moisture.Sorption{Saturated: v.Value}
	if room, err := found.Value(polymer.WaterRoom); err == nil && room.Value < 0.99*v.Value {
		sorption.Room = room.Value
	}
	if rest, err := moisture.EquilibriumWater(sorption, humidity); err == nil {
		p.rest, p.restFrom = rest, v
	}
	return p
}

// stay is one in a dryer.
type stay struct{ from, to time.Time }

// cuts are the chains water cuts in one pass [mol/kg], low ≤ mid ≤ high; said
// tells whether somebody wrote down how damp it was.
type cuts struct {
	low, mid, high float64
	said           bool
}

// cutsIn are the chains cut in a print. Only water beyond that of dried plastic
// counts. Where nobody wrote it down, the low end is dry; at the high end one of
// water and the share that reacts stands at its end and the other in the middle,
// for both at once would be plastic as thin as water.
func (w *Ager) cutsIn(at time.Time, b *shop.Printed) (cuts, error) {
	p := w.plasticOf(w.s.Lots.At(b.From).Polymer)
	if !p.cut {
		return cuts{said: true}, nil
	}
	c := cuts{said: b.Moisture != nil}
	var err error
	by := func(water, extent float64) float64 {
		v, e := ageing.CutsBy(math.Min(water, 0.1), extent)
		if e != nil {
			err = e
		}
		return v
	}
	if c.said {
		beyond := math.Max(0, *b.Moisture-p.dry)
		c.low, c.mid, c.high = by(beyond, p.reacts.Low), by(beyond, p.reacts.Share), by(beyond, p.reacts.High)
		return c, err
	}
	most := math.Max(0, p.rest-p.dry)
	middle := dampMiddle * most
	if w.driedBefore(b.From, at) {
		middle = 0
	}
	c.mid, c.high = by(middle, p.reacts.Share), math.Max(by(most, p.reacts.Share), by(middle, p.reacts.High))
	return c, err
}

// cutsOutside are the chains cut in a pass elsewhere at the high end [mol/kg]:
// bought filament comes sealed, but an open spool is half way to rest with the
// air. Judgement.
func (w *Ager) cutsOutside(p plastic) (float64, error) {
	if !p.cut {
		return 0, nil
	}
	return ageing.CutsBy(dampMiddle*math.Max(0, p.rest-p.dry), p.reacts.Share)
}

// driedBefore reports whether a lot came out of a dryer within a day before.
func (w *Ager) driedBefore(id shop.LotID, at time.Time) bool {
	for _, d := range w.dried(id) {
		if !at.Before(d.from) && at.Sub(d.to) <= driedWithin {
			return true
		}
	}
	return false
}

// melted is the age after one more pass in which water cut chains.
func (a Spread) melted(c cuts) (Spread, error) {
	for _, x := range []struct {
		age *ageing.Age
		by  float64
	}{{&a.low, c.low}, {&a.mid, c.mid}, {&a.high, c.high}} {
		var err error
		if *x.age, err = x.age.Melted(math.Min(x.by, mostCut-x.age.Cuts)); err != nil {
			return a, err
		}
	}
	if c.said {
		a.said++
	} else {
		a.unsaid++
	}
	return a, nil
}
