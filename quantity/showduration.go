package quantity

import (
	"fmt"
	"math"
)

// showDuration prints a time as people say it: "250 ms", "45.2 s", "3 min 20 s",
// "2 h 5 min", "3 d 4 h". Rough steps are about a twentieth of the whole.
func showDuration(si float64, digits int) string {
	if si < 0 {
		return "-" + showDuration(-si, digits)
	}
	if roundTo(si, digits) < 60 || si == 0 {
		if si != 0 && roundTo(si, digits) < 1 {
			return significant(si*1000, digits) + " ms"
		}
		if si == 0 {
			return "0 s"
		}
		return significant(si, digits) + " s"
	}
	for _, step := range durationSteps(digits) {
		if n := math.Round(si / step.size); n*step.size < step.below {
			return pair(n*step.size, step)
		}
	}
	return significant(si/86400, digits) + " d"
}

// durationStep says how a time below a limit is rounded and named.
type durationStep struct {
	below, size  float64 // s
	large, small string
	inLarge      float64 // s in the large unit
	inSmall      float64 // s in the small unit
}

func durationSteps(digits int) []durationStep {
	minutes := durationStep{3600, 1, "min", "s", 60, 1}
	hours := durationStep{48 * 3600, 60, "h", "min", 3600, 60}
	days := durationStep{100 * 86400, 3600, "d", "h", 86400, 3600}
	if digits == showDigits {
		return []durationStep{minutes, hours, days}
	}
	fewMinutes, fewHours, fewDays := minutes, hours, days
	fewMinutes.below, fewMinutes.size = 600, 10
	minutes.size = 60
	fewHours.below, fewHours.size = 10*3600, 600
	hours.size = 3600
	fewDays.below, fewDays.size = 10*86400, 6*3600
	return []durationStep{fewMinutes, minutes, fewHours, hours, fewDays}
}

// pair prints whole seconds in two units and leaves the second out when it is
// zero.
func pair(seconds float64, step durationStep) string {
	n := math.Floor(seconds / step.inLarge)
	rest := math.Round((seconds - n*step.inLarge) / step.inSmall)
	if rest == 0 {
		return fmt.Sprintf("%.0f %s", n, step.large)
	}
	return fmt.Sprintf("%.0f %s %.0f %s", n, step.large, rest, step.small)
}
