package dose

// Both sides of what is planned, heard and laid down, by hand.

import (
	"testing"

	"hopperful/process/exposure"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// What is still to come is what the campaigns plan, unless somebody says otherwise, be it a second; half a second is planned as well.
func TestWhatIsStillToCome(t *testing.T) {
	t.Parallel()
	cycle := shop.Cycle{Charge: 0.08, Run: 120, Rest: 300, Charges: 3}
	s := shoptest.Bin(t, shoptest.Scrap("PLA", "black", 9), &shop.CampaignBegun{Mill: "Rattle", Polymer: "PLA", Wanted: 0.2, Cycle: cycle})
	for said, want := range map[float64]float64{0: 360, 1: 1, 0.5: 0.5, 600: 600} {
		j := &job{state: s, opt: Options{Day: shoptest.Noon, More: said}}
		if err := j.gather(); err != nil || j.more != want {
			t.Errorf("said %g s: %g s are to come, %v", said, j.more, err)
		}
	}
	for more, planned := range map[float64]int{0: 0, 0.5: 1, 3600: 1} {
		j := &job{state: s, opt: Options{Day: shoptest.Noon}, more: more}
		if err := j.planned(&ears{tasks: []exposure.Task{{Level: 85, Time: 1800}}, time: 1800}); err != nil {
			t.Fatal(err)
		}
		n := 0
		for _, f := range j.doc.Figures {
			if f.Key == "day_level_planned" {
				n++
			}
		}
		if n != planned {
			t.Errorf("with %g s more %d levels are foretold", more, n)
		}
	}
	idle := &job{state: shoptest.Bin(t), opt: Options{Day: shoptest.Noon}}
	if err := idle.gather(); err != nil || idle.more != 0 {
		t.Errorf("nothing is planned, and %g s are to come: %v", idle.more, err)
	}
}

// A day without tasks is silent, and so is one whose tasks took no time.
func TestASilentDay(t *testing.T) {
	t.Parallel()
	for i, c := range []struct {
		tasks []exposure.Task
		heard bool
	}{{nil, false}, {[]exposure.Task{{Level: 90, Time: 0}}, false}, {[]exposure.Task{{Level: 90, Time: 1}}, true}} {
		if _, heard := (&ears{}).day(c.tasks); heard != c.heard {
			t.Errorf("case %d: heard %t", i, heard)
		}
	}
	e := (&job{}).earsOf("Ada")
	j := &job{all: []*ears{e}}
	if j.earsOf("Ada") != e || j.earsOf("Ben") == e || len(j.all) != 2 {
		t.Errorf("%d people", len(j.all))
	}
}

// Dust metres deep is still told, though no rule goes so far.
func TestDustMetresDeep(t *testing.T) {
	t.Parallel()
	j := &job{state: shoptest.Bin(t), opt: Options{Floor: 1}}
	if err := j.layer(400 * 0.05 * 15); err != nil {
		t.Fatal(err)
	}
	for _, f := range j.doc.Reasons[0].Figures {
		if f.Key == "layer" && (f.Value < 14.99 || f.Value > 15.01) {
			t.Errorf("%g m", f.Value)
		}
	}
	if len(j.doc.Spoilers) != 1 {
		t.Errorf("%+v", j.doc.Spoilers)
	}
}
