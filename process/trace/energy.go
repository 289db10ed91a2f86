package trace

import "hopperful/process"

// Joules is an energy with what may have gone unseen.
type Joules struct {
	Mid, Low, High float64 // [J]
	Unseen         float64 // time about which no reading tells [s]
}

// Energy returns what was drawn over a trace [J].
//
//	readings  power over time, rising in time; see the fields of Reading
//	longest   gap between two readings that is still bridged by a line [s], above 0 to 86400
//	most      power that a longer gap may hide [W], 0 to 100 kW; at least the highest reading counts
//
// Equation: Σ (P_i + P_{i+1})/2 · Δt; over a longer gap the same, with a range from nothing to the most power for all of it.
// Holds for: meters that show the mean of about a second; equal times count once.
// Source: own derivation.
// Errors: RangeError for a reading, longest or most out of range, or a time that falls.
// Checks: Energy rows of checks.csv (5 own derivation, 1 identity, 2 refusals).
func Energy(readings []Reading, longest, most float64) (Joules, error) {
	if err := process.Above("longest gap", longest, 0, "s", "judgement"); err != nil {
		return Joules{}, err
	}
	if err := process.Within("most power", most, 0, mostPower, "W", "judgement"); err != nil {
		return Joules{}, err
	}
	var j Joules
	for i, r := range readings {
		if err := r.check(); err != nil {
			return Joules{}, err
		}
		most = max(most, r.Value)
		if i > 0 && r.At < readings[i-1].At {
			return Joules{}, process.Within("time of a reading", r.At, readings[i-1].At, 1e12, "s", "own derivation")
		}
	}
	for i := range len(readings) - 1 {
		j.add(readings[i], readings[i+1], longest, most)
	}
	return j, nil
}

// add takes the stretch between two readings.
func (j *Joules) add(a, b Reading, longest, most float64) {
	gap := b.At - a.At
	mid := (a.Value + b.Value) / 2 * gap
	j.Mid += mid
	if gap <= longest {
		j.Low += mid
		j.High += mid
		return
	}
	j.Unseen += gap
	j.High += max(most, a.Value, b.Value) * gap
}

// edge takes the stretch between a reading of a mill that is off and one of a mill that
// runs: somewhere in it the power jumped.
func (j *Joules) edge(a, b Reading, longest float64) {
	gap, most := b.At-a.At, max(a.Value, b.Value)
	j.Mid += (a.Value + b.Value) / 2 * gap
	j.High += most * gap
	if gap > longest {
		j.Unseen += gap
	}
}
