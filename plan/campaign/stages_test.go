package campaign

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/internal/checkrow"
	"hopperful/plan"
	"hopperful/quantity"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// Where a campaign stands is told at every stage, paused or not, enough or not, with a plan of the rest, without one and with one that cannot be: the head,
// the steps and all numbers, as approved.
func TestStagesAreAsApproved(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	level := 3
	cycle := shop.Cycle{Charge: 0.08, Run: 90, Rest: 240, Charges: 4, Level: &level, Wall: p(330)}
	total := figure.Exact("total", "x", quantity.Duration, 1234, figure.Reckoned)
	grinding := plan.Grinding{}
	grinding.Setting.Total = total
	reading := plan.Readback{Actual: figure.Figure{Key: "product", Value: 0.05}, Forecast: figure.Figure{Value: 0.07, Low: 0.06, High: 0.08}}
	plans := map[string]*Ahead{
		"no plan": nil, "begun": {Possible: true, Begun: true, Cycle: cycle}, "planned": {Possible: true, Cycle: cycle, Grinding: grinding}, "blocked": {Grinding: plan.Grinding{}},
		"planned, surprised": {Possible: true, Cycle: cycle, Grinding: grinding, Last: &plan.Compared{Read: []plan.Readback{reading}}},
	}
	var out strings.Builder
	for _, n := range []int{0, 2} {
		var products []*float64
		for range n {
			products = append(products, p(0.09))
		}
		s, base := of(t, 0.5, products...)
		base.Now = shop.Cycle{Charge: 0.1, Run: 60, Rest: 120, Charges: 5}
		base.Started, base.Stopped = shoptest.Noon.Add(-100*time.Second), shoptest.Noon.Add(-40*time.Second)
		for _, stage := range []shop.Stage{shop.SheetOpen, shop.RunStage, shop.NoteStage, shop.ReadyStage, shop.OverStage, shop.BackedStage} {
			for _, name := range []string{"no plan", "begun", "planned", "blocked", "planned, surprised"} {
				for _, change := range []string{"", "paused", "enough", "stalled", "longer", "new day", "worked on"} {
					c, a := base, plans[name]
					c.Stage = stage
					switch change {
					case "paused":
						c.Paused = true
					case "enough":
						c.Wanted = 1e-9
						if n == 0 {
							continue
						}
					case "stalled":
						c.Stalled = true
					case "longer":
						c.Now.Run, c.Stopped = 300, time.Time{}
					case "new day":
						c.Again = shop.NewDay
					case "worked on":
						c.Again = shop.WorkedOn
					}
					k := &told{state: s, c: c, a: a, now: shoptest.Noon, next: a.next(c)}
					k.doc.Head = answer.Found(k.head(), k.wayOut()...)
					k.doc.Steps = k.steps()
					k.figures()
					fmt.Fprintf(&out, "%d %s, %s %s: %s", n, stage, name, change, k.doc.Head.Code)
					for _, step := range k.doc.Steps {
						fmt.Fprintf(&out, " %s/%s", step.Do.Code, step.Why.Code)
					}
					fmt.Fprintf(&out, "; %s\n", checkrow.Whole(t, []any{k.doc.Head, k.doc.Steps, k.doc.Figures}))
				}
			}
		}
	}
	checkrow.ApprovedText(t, "stages", out.String())
}
