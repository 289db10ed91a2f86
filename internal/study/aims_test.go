package study

import (
	"strings"
	"testing"

	"hopperful/internal/study/outside"
)

// invented are scores in which every forecast is off by so much and so many of ten
// ranges hold.
func invented(off float64, holds int, far bool) Scores {
	s := newScores()
	for _, row := range s {
		for w, one := range row {
			one.Asked = 10
			if far && Where(w) != Near {
				one.Flagged = 10
			}
			for _, q := range spoken {
				h := &Hits{Inside: holds}
				for range 10 {
					h.Errors = append(h.Errors, off)
				}
				one.By[q.key] = h
			}
			one.Pencil = []float64{0.2}
		}
	}
	return s
}

// TestVerdictsAreHonest: a study that meets every aim says so, and each that fails
// one says which.
func TestVerdictsAreHonest(t *testing.T) {
	t.Parallel()
	good := func() World[outside.Reporting] {
		w := World[outside.Reporting]{Mills: 10, PlanMills: 8, Scores: invented(0.1, 8, true), Entries: Entries{Honest: 100, Slips: 4, Caught: 4},
			Noticed: Noticed{Mills: 4, After: []int{2, 4, 8}, Right: 3, Looks: 100, Falsely: 2}}
		for range 8 {
			w.Campaigns = append(w.Campaigns, Campaign{Records: 10, Need: 0.4, Made: 0.45, Ground: 0.5, Time: 1000, Best: 600, Possible: true, Charges: 6})
		}
		return w
	}
	for name, c := range map[string]struct {
		spoil func(*World[outside.Reporting])
		fails string // beginning of the one verdict that is not met; "" for none
	}{
		"all met":      {func(*World[outside.Reporting]) {}, ""},
		"refused":      {func(w *World[outside.Reporting]) { w.Entries.Refused = []string{"x"} }, "No truthful record"},
		"asked about":  {func(w *World[outside.Reporting]) { w.Entries.Doubted = []string{"x", "y", "z"} }, "No more than one truthful"},
		"slips taken":  {func(w *World[outside.Reporting]) { w.Entries.Caught = 3 }, "and nine of ten slips"},
		"not noticed":  {func(w *World[outside.Reporting]) { w.Noticed.After = []int{4, 6, 8} }, "A break rate down"},
		"false alarms": {func(w *World[outside.Reporting]) { w.Noticed.Falsely = 3 }, "No more than one look"},
		"not far": {func(w *World[outside.Reporting]) {
			w.Scores[5][HalfLevel].Flagged, w.Scores[10][SmallCharge].Flagged, w.Scores[20][LargeCharge].Flagged = 0, 0, 0
			w.Scores[1][LargeCharge].Flagged = 0
		}, "Nine of ten forecasts"},
		"hot":        {func(w *World[outside.Reporting]) { w.Campaigns[0].Hot, w.Campaigns[1].Stalls = 1, 1 }, "Plans carried out after 10"},
		"too little": {func(w *World[outside.Reporting]) { w.Campaigns[0].Made = 0.3 }, "and make enough"},
		"wasted": {func(w *World[outside.Reporting]) {
			for i := range w.Campaigns {
				w.Campaigns[i].Ground = 0.61
			}
		}, "and grind at most"},
		"slow": {func(w *World[outside.Reporting]) {
			for i := range w.Campaigns {
				w.Campaigns[i].Time = 1201
			}
		}, "and take at most twice"},
		"narrow energy": {func(w *World[outside.Reporting]) { w.Scores[3][Near].By[ofEnergy].Inside = 7 }, "80 % ranges of energy"},
		"narrow far": {func(w *World[outside.Reporting]) {
			for _, at := range far {
				w.Scores[3][at].By[ofWall].Inside = 6
			}
		}, "and in at least 70"},
	} {
		w := good()
		c.spoil(&w)
		var failed []string
		for _, line := range w.Verdicts() {
			if strings.Contains(line, "not met") {
				failed = append(failed, line)
			}
		}
		switch {
		case c.fails == "" && len(failed) > 0, c.fails != "" && (len(failed) != 1 || !strings.HasPrefix(failed[0], c.fails)):
			t.Errorf("%s: %q", name, failed)
		}
	}
	worse := good()
	worse.Scores = invented(0.25, 8, true)
	if all := strings.Join(worse.Verdicts(), "\n"); strings.Count(all, "not met") != 3+5 { // the error at 5, 10 and 20, and the pencil from 1 on
		t.Errorf("a quarter off: %s", all)
	}
}

// TestThePageShowsBothWorlds and their verdicts.
func TestThePageShowsBothWorlds(t *testing.T) {
	t.Parallel()
	inside := []Result{{Records: 10, Product: 0.012, Rise: 0.4, Pencil: 0.11, Covers: []float64{0.5, 0.8, 0.95}, CoversBook: []float64{0.5, 0.8, 0.95}}}
	w := World[outside.Reporting]{Mills: 10, PlanMills: 1, Scores: invented(0.1, 8, true),
		Campaigns: []Campaign{{Records: 3, Need: 0.4, Possible: true, Made: 0.5, Ground: 0.6, Time: 900, Best: 600, Charges: 4, Hot: 1}}}
	text := Page(inside, 5, 1, w)
	for _, want := range []string{"| 10 | 1.2 % | 11.0 % | 10 % | 20 % | 10 % | 20 % |", "### Like the records", "### Half the lowest level run", "screen blinds", "## Inside the equations",
		"| 3 | 1, 1 | 1 | 1 |", "**not met**"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
}
