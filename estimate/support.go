package estimate

import "math"

// Does anything on record support a forecast? A run does that was ground all but so;
// else the runs together do, as far as a setting lies within what they scatter by.

// All but so: how far charge, level and time may differ from one run's, as factors.
// Judgement.
const (
	alikeCharge = 1.2
	alikeLevel  = 1.2
	alikeTime   = 2.0
)

// What is believed of how a maker's settings scatter around what he has settled on
// before any record, as standard deviations of logarithms, how many records that
// counts for, and from how many standard deviations on a setting is another.
// Judgement.
const (
	usualScatter = 0.21 // charge
	levelScatter = 0.17
	timeScatter  = 0.35
	scatterWorth = 3.0
	another      = 2.2
)

// Supported reports whether something on record supports a forecast of a run; a
// stalled run supports none.
func (f *Fitted) Supported(r Run) bool {
	at := r.setting()
	var all []Setting
	for i := range f.fit.runs {
		if one := &f.fit.runs[i]; one.grindable() {
			s := one.setting()
			if at.alike(s) {
				return true
			}
			all = append(all, s)
		}
	}
	charge := func(s Setting) float64 { return s.Charge }
	time := func(s Setting) float64 { return s.Time }
	level := func(s Setting) float64 { return s.LevelShare }
	return len(all) > 0 && at.among(all, charge, usualScatter) && at.among(all, time, timeScatter) && at.among(all, level, levelScatter)
}

// alike reports whether two settings are all but the same.
func (s Setting) alike(o Setting) bool {
	within := func(a, b, factor float64) bool { return math.Abs(math.Log(a/b)) <= math.Log(factor) }
	return within(s.Charge, o.Charge, alikeCharge) && within(s.Time, o.Time, alikeTime) &&
		(s.LevelShare <= 0 || o.LevelShare <= 0 || within(s.LevelShare, o.LevelShare, alikeLevel))
}

// among reports whether a setting lies within what others scatter by in one respect;
// where nobody noted it, it does.
func (s Setting) among(others []Setting, of func(Setting) float64, scatter float64) bool {
	if of(s) <= 0 {
		return true
	}
	sum, n := 0.0, 0.0
	for _, o := range others {
		if of(o) > 0 {
			sum, n = sum+math.Log(of(o)), n+1
		}
	}
	if n == 0 {
		return true
	}
	squares := scatterWorth * scatter * scatter
	for _, o := range others {
		if of(o) > 0 {
			squares += square(math.Log(of(o)) - sum/n)
		}
	}
	return math.Abs(math.Log(of(s))-sum/n) <= another*math.Sqrt(squares/(scatterWorth+n))
}
