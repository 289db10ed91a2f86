package shop

import (
	"math"
	"time"

	"hopperful/quantity"
)

// How far times, thermometers and meters may be off before they are asked about.
// Judgement, meant to let every truthful record pass.
const (
	longRun      = 3600.0           // s: minutes are usual
	shortOf      = time.Minute      // by which two runs may seem to overlap
	atOnce       = 90 * time.Second // between what happened and its note: nobody typed the time
	degreesOff   = 8.0              // K, of two thermometer readings
	overload     = 1.5              // of the rated power, for as long as a run lasts
	socket       = 3700.0           // W from a socket of 16 A and 230 V: a motor nobody knows the power of
	hotSpot      = 2.0              // the wall is not equally warm everywhere
	leastDraw    = 5.0              // W: nothing that turns draws less
	ofMetal      = 400.0            // J/(kg K): below steel, which has the least of the wall's metals
	ofPlastic    = 1000.0           // J/(kg K): below every printing polymer at room temperature
	warmStart    = 273.15 + 60      // K: as warm as a mill may begin that nobody read
	hottestStill = 273.15 + 160     // K: at this the charge is a lump
)

// timeAsks are asked where run and rest do not go into the day.
func (b *Ground) timeAsks(m *MillState, r Record) []Ask {
	var list []Ask
	if b.Run > longRun {
		a := Ask{Code: RunLong, Field: "run_s", Kind: quantity.Duration, Value: b.Run, Bound: longRun}
		if b.Run/60 >= 1 {
			a.Meant = known(b.Run / 60)
		}
		list = append(list, a)
	}
	if u := &m.usual; u.day == day(r.At) && u.today.Hours()+b.Run/3600 > 24 {
		list = append(list, Ask{Code: DayTooShort, Field: "run_s", Kind: quantity.Duration, Value: b.Run, Bound: 24*3600 - u.today.Seconds()})
	}
	last := m.usual.last
	if last.ID == 0 || !typedTime(r) || !typedTime(last) || r.At.Equal(last.At) {
		return list
	}
	gap := r.At.Sub(last.At)
	// Whether a time is that of the start or of the stop nobody says: it is an
	// overlap only if it is one either way.
	if gap.Seconds() < math.Min(b.Run, m.usual.lasted)-shortOf.Seconds() {
		list = append(list, Ask{Code: RunsOverlap, Field: "run_s", Kind: quantity.Duration, Value: b.Run, Bound: gap.Seconds(), Other: last.ID, because: last.ID})
	}
	if rest := value(b.RestBefore); rest > gap.Seconds()+10*shortOf.Seconds() {
		list = append(list, Ask{Code: RestTooLong, Field: "rest_before_s", Kind: quantity.Duration, Value: rest, Bound: gap.Seconds(), Other: last.ID})
	}
	return list
}

// typedTime says whether somebody said when it happened, to the minute: a record
// written at once, or one of a day, says nothing of the clock.
func typedTime(r Record) bool {
	h, m, s := r.At.Clock()
	return !r.NotedAt.IsZero() && r.NotedAt.Sub(r.At) > atOnce && (h != 0 || m != 0 || s != 0)
}

// heatAsks are asked where thermometer and meter contradict room, motor and clock.
func (b *Ground) heatAsks(m Mill) []Ask {
	var list []Ask
	ask := func(code AskCode, field string, value, bound float64, unsafe bool) {
		list = append(list, Ask{Code: code, Field: field, Kind: quantity.Temperature, Value: value, Bound: bound, Unsafe: unsafe})
	}
	energy := b.mostEnergy(m)
	for _, x := range []struct {
		field         string
		before, after *float64
		heat          float64 // J/K: that of which this is the temperature, at least
	}{
		{"wall_after_k", b.WallBefore, b.WallAfter, value(m.WallMass) * ofMetal},
		{"charge_after_k", b.ChargeBefore, b.ChargeAfter, b.Charge * ofPlastic},
	} {
		if x.after == nil {
			continue
		}
		from := warmStart
		if x.before != nil {
			from = *x.before
		}
		most := hottestStill
		if x.heat > 0 {
			most = math.Min(most, from+hotSpot*energy/x.heat+degreesOff)
		}
		switch {
		case x.before != nil && *x.after < *x.before-degreesOff:
			ask(ColderAfter, x.field, *x.after, *x.before, false)
		case b.Room != nil && *x.after < *b.Room-degreesOff:
			ask(ColderThanRoom, x.field, *x.after, *b.Room, false)
		case *x.after > most:
			ask(HotterThanPower, x.field, *x.after, most, true)
		}
	}
	return append(list, b.energyAsks(m)...)
}

// mostPower is the most the motor can have drawn [W].
func mostPower(m Mill) float64 {
	if m.RatedPower == nil {
		return socket
	}
	return overload * *m.RatedPower
}

// mostEnergy is the most the motor can have put into the run [J].
func (b *Ground) mostEnergy(m Mill) float64 { return mostPower(m) * (b.Run + 10) }

// energyAsks holds the meter against motor and clock.
func (b *Ground) energyAsks(m Mill) []Ask {
	if b.Energy == nil {
		return nil
	}
	a := Ask{Field: "energy_j", Kind: quantity.Energy, Value: *b.Energy}
	switch most, least := b.mostEnergy(m), leastDraw*b.Run; {
	case a.Value > most:
		a.Code, a.Bound = EnergyOverPower, most
	case a.Value < least && a.Value > 0:
		a.Code, a.Bound = EnergyUnderIdle, least
	default:
		return nil
	}
	for _, by := range [...]float64{1000, 0.001} {
		if v := a.Value * by; v <= b.mostEnergy(m) && v >= leastDraw*b.Run {
			a.Meant = &v
		}
	}
	return []Ask{a}
}
