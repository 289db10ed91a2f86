package exposure

// Equal-energy levels: adding up, tasks of a day, days of a week.

import (
	"math"

	"hopperful/process"
)

// A day and a week of work.
const (
	Day  = 8 * 3600.0 // reference day [s]
	Days = 5.0        // reference days of a week [–]
)

// The level taken for a bench mill that nobody measured [dB(A)]: a judgement,
// AssumedLevel ± AssumedSpread (one standard deviation).
const (
	AssumedLevel  = 95.0
	AssumedSpread = 5.0
)

// Values of directive 2003/10/EC, article 3 [dB(A)]. The limit counts the
// hearing protector, the action values do not.
const (
	LowerAction = 80.0
	UpperAction = 85.0
	Limit       = 87.0
)

// Task is a stretch of a day at one level.
type Task struct {
	Level float64 // equivalent level [dB(A)], −20 to 200
	Time  float64 // [s], 0 to a day of 24 h
}

func checkLevel(level float64) error {
	return process.Within("sound level", level, -20, 200, "dB(A)", "judgement")
}

func checkTask(t Task) error {
	if err := checkLevel(t.Level); err != nil {
		return err
	}
	return process.Within("time of a task", t.Time, 0, 86400, "s", "own derivation")
}

func energy(level float64) float64 { return math.Pow(10, level/10) }

// DayLevel returns the daily exposure level L_EX,8h [dB(A)].
//
//	tasks  the tasks of the day, see their fields; together above 0 s
//
// Equation: L_EX,8h = 10 lg(Σ (T_i/8 h) 10^(L_i/10)); for one task L + 10 lg(T/8 h).
// Holds for: A-weighted equivalent levels at the ear without protector.
// Source: EU2003.
// Errors: RangeError for a level or time out of range, or no time at all.
// Checks: DayLevel rows of checks.csv (13 published, 4 own derivation, 2 refusal).
func DayLevel(tasks ...Task) (float64, error) {
	var total float64
	for _, t := range tasks {
		if err := checkTask(t); err != nil {
			return 0, err
		}
		total += t.Time / Day * energy(t.Level)
	}
	if !(total > 0) {
		return 0, process.Above("time of all tasks", 0, 0, "s", "own derivation")
	}
	return 10 * math.Log10(total), nil
}

// WeekLevel returns the weekly exposure level [dB(A)].
//
//	days  daily exposure levels of the days that had noise [dB(A)], −20 to 200, at most 7
//
// Equation: L_EX,w = 10 lg(Σ 10^(L_i/10)/5).
// Holds for: weeks whose days differ, where local law allows the week to count.
// Source: EU2003.
// Errors: RangeError for a level out of range, no day, or more than 7.
// Checks: WeekLevel row of checks.csv (1 own derivation).
func WeekLevel(days ...float64) (float64, error) {
	if err := process.Within("number of days", float64(len(days)), 1, 7, "", "own derivation"); err != nil {
		return 0, err
	}
	var total float64
	for _, l := range days {
		if err := checkLevel(l); err != nil {
			return 0, err
		}
		total += energy(l)
	}
	return 10 * math.Log10(total/Days), nil
}

// TimeLeft returns how long a task may go on before the day reaches a level [s].
//
//	level  level of the task [dB(A)], −20 to 200
//	limit  daily exposure level to stay at or below [dB(A)], −20 to 200
//	so     tasks the day has had, see their fields; may be none
//
// Equation: T = (8 h · 10^(limit/10) − Σ T_i 10^(L_i/10))/10^(level/10), 0 when it is used up.
// Holds for: equal-energy schemes; may come out longer than a day.
// Source: own derivation from EU2003.
// Errors: RangeError for a level or time out of range.
// Checks: TimeLeft rows of checks.csv (5 own derivation).
func TimeLeft(level, limit float64, so ...Task) (float64, error) {
	if err := checkLevel(level); err != nil {
		return 0, err
	}
	if err := checkLevel(limit); err != nil {
		return 0, err
	}
	left := Day * energy(limit)
	for _, t := range so {
		if err := checkTask(t); err != nil {
			return 0, err
		}
		left -= t.Time * energy(t.Level)
	}
	return max(0, left/energy(level)), nil
}

// Add returns the level of sources that sound together [dB(A)].
//
//	levels  levels of the sources [dB(A)], −20 to 200, at least one
//
// Equation: L = 10 lg Σ 10^(L_i/10).
// Holds for: sources without a fixed phase to each other.
// Source: own derivation.
// Errors: RangeError for no level or one out of range.
// Checks: Add rows of checks.csv (3 own derivation).
func Add(levels ...float64) (float64, error) {
	if len(levels) == 0 {
		return 0, process.Above("number of levels", 0, 0, "", "own derivation")
	}
	var total float64
	for _, l := range levels {
		if err := checkLevel(l); err != nil {
			return 0, err
		}
		total += energy(l)
	}
	return 10 * math.Log10(total), nil
}

// WithoutBackground returns the level of a source alone [dB(A)].
//
//	both        level with the source [dB(A)], above background
//	background  level without it [dB(A)], −20 to 200
//
// Equation: L = 10 lg(10^(both/10) − 10^(background/10)).
// Holds for: differences of 3 dB and more; below that the answer is all error.
// Source: own derivation.
// Errors: RangeError for a level out of range or both ≤ background.
// Checks: WithoutBackground rows of checks.csv (1 own derivation, 1 refusal).
func WithoutBackground(both, background float64) (float64, error) {
	if err := checkLevel(background); err != nil {
		return 0, err
	}
	if err := process.Within("level with the source", both, math.Nextafter(background, 300), 200, "dB(A)", "own derivation"); err != nil {
		return 0, err
	}
	return 10 * math.Log10(energy(both)-energy(background)), nil
}
