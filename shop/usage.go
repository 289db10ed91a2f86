package shop

import (
	"math"
	"slices"
	"time"

	"hopperful/polymer"
)

// usage is what a mill's runs on record are like, as far as none of them is
// asked about.
type usage struct {
	charges        int
	lightest, most float64 // charge [kg]
	logs, times    float64 // sums of ln charge and ln run
	yields         []float64
	clean          []float64     // yields of runs before which the mill was emptied
	last           Record        // the latest run, asked about or not
	lasted         float64       // how long it ran [s]
	day            string        // of the latest run
	today          time.Duration // ran on that day
}

// mostYields is how many of the latest yields are looked at.
const mostYields = 9

// ran takes a run into the mill's usage.
func (m *MillState) ran(s *State, r Record, b *Ground) {
	u := &m.usual
	if d := day(r.At); d != u.day {
		u.day, u.today = d, 0
	}
	u.today += time.Duration(b.Run * float64(time.Second))
	u.last, u.lasted = r, b.Run
	if _, sound := s.Believed(r, b); !sound {
		return
	}
	if u.charges == 0 || b.Charge < u.lightest {
		u.lightest = b.Charge
	}
	u.charges, u.most, u.logs = u.charges+1, max(u.most, b.Charge), u.logs+math.Log(b.Charge)
	u.times += math.Log(b.Run)
	if b.Product != nil && !b.Stalled {
		of := &u.yields
		if b.Emptied {
			of = &u.clean
		}
		*of = append(slices.Clone(*of), *b.Product/b.Charge)
		*of = (*of)[max(0, len(*of)-mostYields):]
	}
}

// least is the product below which a run gave hardly anything [kg]: by its like, in the
// time it had. A mill that was emptied gives less than one in which as much lies as stays.
func (u *usage) least(b *Ground) float64 {
	like := u.yields
	if b.Emptied {
		like = u.clean
	}
	if len(like) < couple {
		return nothing * b.Charge * u.inTime(b.Run)
	}
	return hardlyAny * middle(like) * b.Charge * u.inTime(b.Run)
}

// inTime is the share of the usual time that a run had, 1 at the most.
func (u *usage) inTime(run float64) float64 {
	if u.charges == 0 {
		return 1
	}
	return math.Min(1, run/math.Exp(u.times/float64(u.charges)))
}

func middle(all []float64) float64 { return slices.Sorted(slices.Values(all))[len(all)/2] }

// yield is the usual yield: the middle one of the latest, or a maker's where
// there is none (judgement).
func (u *usage) yield() float64 {
	if len(u.yields) == 0 {
		return 0.8
	}
	return middle(u.yields)
}

// perLitre is what a mill that nobody knows is usually given [kg/m³]: 50 g a
// litre. Judgement.
const perLitre = 50.0

// charge is the usual charge; what the books would give a chamber of that size where
// none is on record, 0 when nobody knows that either.
func (m *MillState) charge() float64 {
	switch u := m.usual; {
	case u.charges > 0:
		return math.Exp(u.logs / float64(u.charges))
	case m.Chamber != nil:
		return perLitre * *m.Chamber
	}
	return 0
}

// fullest is the largest charge on record, and at least what the books would give
// a chamber of that size: the first charge is often a small one.
func (m *MillState) fullest() float64 {
	if m.Chamber == nil {
		return m.usual.most
	}
	return max(m.usual.most, perLitre**m.Chamber)
}

// Believed is a run as far as it is not open to question: a reading that is
// asked about is left out, unless it is on the dangerous side, and so is a product
// that is little. It is false when what is asked about is another mass, the level or
// the time, and nothing can be learned of the run.
func (s *State) Believed(r Record, b *Ground) (Ground, bool) {
	out := *b
	for _, a := range s.questions(r.ID) {
		if !s.open(a) || a.Unsafe {
			continue
		}
		if a.Code == LittleOut { // it ran as it ran, only how much came out is in doubt
			out.Product = nil
			continue
		}
		switch a.Field {
		case "wall_before_k":
			out.WallBefore = nil
		case "wall_after_k":
			out.WallAfter = nil
		case "charge_before_k":
			out.ChargeBefore = nil
		case "charge_after_k":
			out.ChargeAfter = nil
		case "energy_j":
			out.Energy = nil
		case "rest_before_s":
			out.RestBefore = nil
		default:
			return out, false
		}
	}
	return out, true
}

// densestPlastic is above the solid density of the usual printing polymers
// [kg/m³]. Common practice, no source.
const densestPlastic = 1300.0

// solidDensity is the most that solid plastic of that name weighs [kg/m³]: the
// high end of what the shop or the books say, and never below the usual
// printing polymers, since a name may be wrong.
func (s *State) solidDensity(name string) float64 {
	most := densestPlastic
	for _, m := range s.Materials {
		if m.Polymer == name && m.Property == string(polymer.Density) {
			most = max(most, m.High)
		}
	}
	if p, err := polymer.Find(name); err == nil {
		if v, err := p.Value(polymer.Density); err == nil {
			most = max(most, v.High)
		}
	}
	return most
}
