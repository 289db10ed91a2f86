package exposure

// Doses by criterion level and exchange rate.

import (
	"math"

	"hopperful/process"
)

// Scheme is a dose scheme of one country's rules.
type Scheme struct {
	Name      string
	Criterion float64 // level allowed for 8 h [dB(A)]
	Exchange  float64 // dB more that halve the time [dB]
	Factor    float64 // dB a factor of ten of the dose stands for in the 8 h average, as printed [dB]
	Threshold float64 // level below which time does not count [dB(A)]
}

// The schemes. OSHA1910 counts from 80 dB(A), as its hearing-conservation
// amendment does, and rounds 5/lg 2 to 16.61. NIOSH98 uses 10 lg for its average though 3 dB
// are not quite a factor of two.
var (
	OSHA1910 = Scheme{"OSHA 29 CFR 1910.95", 90, 5, 16.61, 80}
	NIOSH98  = Scheme{"NIOSH 98-126", 85, 3, 10, 80}
)

// AllowedTime returns how long a level is allowed in a day [s].
//
//	s      the scheme, see its fields
//	level  level [dB(A)], −20 to 200
//
// Equation: T = 8 h/2^((L − criterion)/exchange).
// Holds for: steady levels; OSHA's own table G-16A rounds.
// Source: OSHA2026 and NIOSH1998.
// Errors: RangeError for a level out of range.
// Checks: AllowedTime rows of checks.csv (25 published, 2 own derivation).
func AllowedTime(s Scheme, level float64) (float64, error) {
	if err := checkLevel(level); err != nil {
		return 0, err
	}
	return Day / math.Exp2((level-s.Criterion)/s.Exchange), nil
}

// Dose returns the share of the allowed dose that tasks make [–]; 1 is 100 %.
//
//	s      the scheme, see its fields
//	tasks  tasks of the day, see their fields
//
// Equation: D = Σ C_i/T_i, C the time spent, T the time allowed; below the threshold a task does not count.
// Holds for: steady levels at the ear without protector.
// Source: OSHA2026 and NIOSH1998.
// Errors: RangeError for a level or time out of range.
// Checks: Dose rows of checks.csv (1 published, 4 own derivation).
func Dose(s Scheme, tasks ...Task) (float64, error) {
	var dose float64
	for _, t := range tasks {
		if err := checkTask(t); err != nil {
			return 0, err
		}
		if t.Level < s.Threshold {
			continue
		}
		allowed, err := AllowedTime(s, t.Level)
		if err != nil {
			return 0, err
		}
		dose += t.Time / allowed
	}
	return dose, nil
}

// AverageLevel returns the 8 h average level of a dose [dB(A)].
//
//	s     the scheme, see its fields
//	dose  share of the allowed dose [–], above 0
//
// Equation: TWA = criterion + factor · lg D; factor 16.61 (OSHA), 10 (NIOSH).
// Holds for: the scheme's own doses. NIOSH's average parts from L_EX,8h by hundredths of a dB.
// Source: OSHA2026 and NIOSH1998.
// Errors: RangeError for dose not above 0.
// Checks: AverageLevel rows of checks.csv (3 own derivation).
func AverageLevel(s Scheme, dose float64) (float64, error) {
	if err := process.Above("dose", dose, 0, "", "own derivation"); err != nil {
		return 0, err
	}
	return s.Criterion + s.Factor*math.Log10(dose), nil
}
