package trace

// A whole trace at once, as the tests read them.

// Runs returns the runs of a whole trace.
//
//	readings  power over time; those that are not later than the one before are left out
//	known     what is known of the mill, see its fields
//
// Equation: a run lasts while P ≥ P_off, seen for 3 s; it ended breaking when the median of 15 s fell below 1.1 P_idle.
// Holds for: a mill alone on its meter, read every 0.2 s to 20 s.
// Source: own derivation.
// Errors: RangeError for a reading or a power out of range.
// Checks: Runs rows of checks.csv (8 own derivation, 1 refusal).
func Runs(readings []Reading, known Known) ([]Run, error) {
	f, err := NewFollower(known)
	if err != nil {
		return nil, err
	}
	var runs []Run
	take := func(events []Event) {
		for _, e := range events {
			if e.Run != nil {
				runs = append(runs, *e.Run)
			}
		}
	}
	for _, r := range readings {
		events, err := f.Add(r)
		if err != nil {
			return nil, err
		}
		take(events)
	}
	take(f.Close())
	return runs, nil
}
