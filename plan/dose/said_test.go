package dose

// Who is told of, and levels at the edge, by hand.

import (
	"math"
	"testing"

	"hopperful/process/exposure"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// The loudest day stands first: a quarter of an hour at 95 dB before an hour at 88; who is nobody known is somebody; who did nothing is left out.
func TestWhoStandsFirst(t *testing.T) {
	t.Parallel()
	by := func(who string, tasks ...exposure.Task) *ears {
		return &ears{who: who, tasks: tasks, days: map[string][]exposure.Task{"2026-11-25": tasks}}
	}
	j := &job{state: shoptest.Bin(t), all: []*ears{by("Ada", exposure.Task{Level: 88, Time: 3600}), by("", exposure.Task{Level: 95, Time: 900}), by("Ben")}}
	if err := j.people(); err != nil {
		t.Fatal(err)
	}
	rows := j.doc.Tables[0].Rows
	if len(rows) != 2 || len(rows[0][0].Parts) != 1 || rows[0][0].Parts[0].Code != "dose.somebody" || rows[1][0].Text != "Ada" {
		t.Fatalf("%+v", rows)
	}
	// 95 dB for 1/32 of eight hours, 88 for 1/8.
	for i, want := range []float64{95 - 10*math.Log10(32), 88 - 10*math.Log10(8)} {
		if got := rows[i][2].Value; math.Abs(got-want) > 1e-9 {
			t.Errorf("row %d: %g dB, by hand %g", i, got, want)
		}
	}
	if len(rows[0]) != 6 {
		t.Errorf("%d cells", len(rows[0]))
	}
}

// On a quiet day what is still to come is foretold, be it half a second.
func TestAQuietDay(t *testing.T) {
	t.Parallel()
	for more, figures := range map[float64]bool{0: false, 0.5: true, 600: true} {
		j := &job{state: shoptest.Bin(t), more: more}
		if err := j.people(); err != nil || j.doc.Head.Code != "dose.quiet_day" || (len(j.doc.Figures) > 0) != figures {
			t.Errorf("%g s to come: %s, %d figures, %v", more, j.doc.Head.Code, len(j.doc.Figures), err)
		}
	}
}

// The level at the ear: as measured, less what is there without the mill, with what runs beside it; else the mill's own; else what is usual.
func TestTheLevelAtTheEar(t *testing.T) {
	t.Parallel()
	sum := func(a, b float64) float64 { return 10 * math.Log10(math.Pow(10, a/10)+math.Pow(10, b/10)) }
	for i, c := range []struct {
		opt   Options
		noise *float64
		want  float64
		guess bool
	}{
		{Options{}, nil, exposure.AssumedLevel, true}, {Options{}, shoptest.P(82), 82, false}, {Options{Level: 85}, shoptest.P(82), 85, false}, {Options{Level: 0.5}, shoptest.P(82), 0.5, false}, {Options{Level: 85, Background: 75}, nil, 10 * math.Log10(math.Pow(10, 8.5)-math.Pow(10, 7.5)), false},
		{Options{Level: 20, Background: 0.5}, nil, 10 * math.Log10(math.Pow(10, 2)-math.Pow(10, 0.05)), false}, {Options{Level: 85, Beside: 85}, nil, sum(85, 85), false}, {Options{Level: 10, Beside: 0.5}, nil, sum(10, 0.5), false}, {Options{Background: 75}, shoptest.P(82), 82, false},
	} {
		got, guess, err := (&job{opt: c.opt}).levelOf(shop.Mill{Noise: c.noise})
		if err != nil || math.Abs(got-c.want) > 1e-9 || guess != c.guess {
			t.Errorf("case %d: %g dB, guessed %t, %v; by hand %g", i, got, guess, err, c.want)
		}
	}
	if _, _, err := (&job{opt: Options{Level: 80, Background: 81}}).levelOf(shop.Mill{}); err == nil {
		t.Error("a background louder than the mill")
	}
}
