package study

import (
	"fmt"
	"strings"
)

// Carried is what came of campaigns that began with so many records.
type Carried struct {
	Campaigns, Possible           int
	Broke, Hot, Warm, Stall, Full int // where a campaign that keeps the limits exists
	Shown                         int // wall over the limit on the thermometer
	Sated, Blocked, Endless       int
	Waste, Slow                   []float64 // scrap ground over need; time over the best
	Trials, Charges, Below        int
}

// Tally sums campaigns up by the records before them.
func Tally(all []Campaign) map[int]*Carried {
	out := map[int]*Carried{}
	one := func(n *int, yes bool) {
		if yes {
			*n++
		}
	}
	for _, c := range all {
		t := out[c.Records]
		if t == nil {
			t = &Carried{}
			out[c.Records] = t
		}
		t.Campaigns++
		t.Trials += c.Trials
		t.Charges += c.Charges
		one(&t.Below, c.Below > 0)
		if !c.Possible {
			continue
		}
		t.Possible++
		one(&t.Broke, c.Broke())
		one(&t.Hot, c.Hot > 0)
		one(&t.Warm, c.Warm > 0)
		one(&t.Shown, c.Shown > 0)
		one(&t.Stall, c.Stalls > 0)
		one(&t.Full, c.Full > 0)
		one(&t.Sated, c.Sated())
		one(&t.Blocked, c.Ended == Blocked)
		one(&t.Endless, c.Ended == Endless)
		if c.Sated() {
			t.Waste = append(t.Waste, c.Ground/c.Need)
			t.Slow = append(t.Slow, c.Time/c.Best)
		}
	}
	return out
}

// CarriedTable writes campaigns as a table.
func CarriedTable(all []Campaign) string {
	var b strings.Builder
	b.WriteString("| records | campaigns, possible | broke a limit | charge hot | wall hot | on the thermometer | stalled | overfull | made enough | said impossible | without end | scrap ÷ need | time ÷ best | charges, trials | went below every level on record |\n")
	b.WriteString("|" + strings.Repeat(" --- |", 15) + "\n")
	tally := Tally(all)
	for _, n := range PlanCounts {
		t := tally[n]
		if t == nil {
			continue
		}
		fmt.Fprintf(&b, "| %d | %d, %d | %d | %d | %d | %d | %d | %d | %d | %d | %d | %s | %s | %.1f, %.1f | %d |\n", n, t.Campaigns, t.Possible,
			t.Broke, t.Hot, t.Warm, t.Shown, t.Stall, t.Full, t.Sated, t.Blocked, t.Endless, shown("%.2f", medianOrNaN(t.Waste)), shown("%.1f", medianOrNaN(t.Slow)),
			float64(t.Charges)/float64(t.Campaigns), float64(t.Trials)/float64(t.Campaigns), t.Below)
	}
	return b.String()
}
