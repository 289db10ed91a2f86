// Is a plate cracked? More metal a kilogram than before.

package sieve

import (
	"fmt"
	"math"

	"hopperful/process"
)

// MetalRun is what the magnet took out of one run's product.
type MetalRun struct {
	Ground float64 // mass ground [kg], > 0
	Found  float64 // metal found [kg], ≥ 0
}

// Metal is the record of one mill since its wear parts were last seen sound,
// in the order of the runs.
type Metal struct {
	Runs []MetalRun
	// Resolution of the scale for the metal [kg], > 0; less than that found
	// counts as half of it.
	Resolution float64
}

// Cracked is what the test says.
type Cracked struct {
	Alarm      bool
	FalseAlarm float64 // share of records without a change that would alarm
	StepP      float64 // chance that chance alone lifts the last run so far
	TrendP     float64 // chance that chance alone makes the record rise so
	Usual      Range   // metal per mass before the last run [kg/kg]: median, 10 and 90 % for one run
	Last       float64 // of the last run [kg/kg]
}

// leastScatter is the scatter of ln(metal per mass) below which no record of
// weighed crumbs can honestly be (judgement).
const leastScatter = 0.1

// earlierRuns is how many runs must stand before the one under test.
const earlierRuns = 4

// Test looks for more metal a kilogram than before: a last run that stands out,
// or a record that rises. Each may cause half of the false alarms.
//
//	falseAlarm  share of unchanged records that may alarm [1], 0 (meaning 0.005) or 1e-5 to 0.5
//
// Equation: y = ln(found/ground). Step: t = (y_n − ȳ)/(s √(1 + 1/(n − 1))) over the n − 1
// earlier runs, n − 2 degrees of freedom. Trend: slope of y over kilograms ground,
// n − 2 degrees of freedom, both one-sided. s is at least 0.1.
// Holds for: runs that scatter log-normally and do not depend on one another;
// then exactly falseAlarm at most. Needs five runs.
// Source: own derivation (Student's test on logarithms).
// Errors: RangeError for values out of range; EntryError for fewer than five runs.
// Checks: Cracked rows of checks.csv (2 second library); simulation in metal_test.go.
func (m Metal) Test(falseAlarm float64) (Cracked, error) {
	if falseAlarm == 0 {
		falseAlarm = 0.005
	}
	if err := process.Within("share of false alarms", falseAlarm, 1e-5, 0.5, "", "judgement"); err != nil {
		return Cracked{}, err
	}
	x, y, err := m.logs()
	if err != nil {
		return Cracked{}, err
	}
	n := len(y)
	c := Cracked{FalseAlarm: falseAlarm, Last: math.Exp(y[n-1])}
	mean, s := meanScatter(y[:n-1])
	scatter := s * math.Sqrt(1+1/float64(n-1))
	c.StepP = studentTail((y[n-1]-mean)/scatter, float64(n-2))
	c.TrendP = trendP(x, y)
	// 1.2816 is the 90 % point of the normal distribution; with so few runs the
	// range is meant as a hint.
	c.Usual = Range{math.Exp(mean), math.Exp(mean - 1.2816*scatter), math.Exp(mean + 1.2816*scatter)}
	c.Alarm = math.Min(c.StepP, c.TrendP) < falseAlarm/2
	return c, nil
}

// LeastMetalRuns is from how many runs on a change can be told.
const LeastMetalRuns = earlierRuns + 1

// logs returns kilograms ground by the middle of each run, and ln of metal per mass.
func (m Metal) logs() (x, y []float64, err error) {
	if len(m.Runs) < earlierRuns+1 {
		return nil, nil, &EntryError{Code: TooFew, What: fmt.Sprintf("%d runs are too few to see a change", len(m.Runs)),
			Hint: fmt.Sprintf("weigh the metal of %d runs", earlierRuns+1)}
	}
	if err := process.Within("resolution of the scale", m.Resolution, 1e-9, 0.1, "kg", "judgement"); err != nil {
		return nil, nil, err
	}
	ground := 0.0
	for _, r := range m.Runs {
		if err := process.Within("mass ground", r.Ground, 1e-4, 1e5, "kg", "judgement"); err != nil {
			return nil, nil, err
		}
		if err := process.Within("metal found", r.Found, 0, r.Ground, "kg", "own derivation"); err != nil {
			return nil, nil, err
		}
		found := r.Found
		if found < m.Resolution {
			found = m.Resolution / 2
		}
		x = append(x, ground+r.Ground/2)
		y = append(y, math.Log(found/r.Ground))
		ground += r.Ground
	}
	return x, y, nil
}

func meanScatter(y []float64) (mean, s float64) {
	mean = total(y) / float64(len(y))
	for _, v := range y {
		s += (v - mean) * (v - mean)
	}
	return mean, math.Max(math.Sqrt(s/float64(len(y)-1)), leastScatter)
}

// trendP is the one-sided chance of so steep a slope.
func trendP(x, y []float64) float64 {
	n := float64(len(y))
	mx, my := total(x)/n, total(y)/n
	var sxx, sxy, syy float64
	for i := range x {
		sxx += (x[i] - mx) * (x[i] - mx)
		sxy += (x[i] - mx) * (y[i] - my)
		syy += (y[i] - my) * (y[i] - my)
	}
	slope := sxy / sxx
	s := math.Max(math.Sqrt(math.Max(syy-slope*sxy, 0)/(n-2)), leastScatter)
	return studentTail(slope*math.Sqrt(sxx)/s, n-2)
}
