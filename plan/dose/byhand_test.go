package dose

import (
	"math"
	"testing"
	"time"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-9*math.Max(1, math.Abs(want)) {
		t.Errorf("%s is %.12g, wanted %.12g", what, got, want)
	}
}

// An ear hears from 20 to 140 dB, a day has 24 hours, a workshop 10 000 m² and 50 m at the most; both sides of each.
func TestWhatIsRefused(t *testing.T) {
	t.Parallel()
	for _, of := range []struct {
		name string
		set  func(*Options, float64)
		ok   []float64
		bad  []float64
	}{
		{"level", func(o *Options, v float64) { o.Level = v }, []float64{0, 20, 140}, []float64{-1, 19.99, 140.01, math.NaN()}},
		{"background", func(o *Options, v float64) { o.Background = v }, []float64{0, 20, 140}, []float64{-1, 19.99, 140.01}},
		{"beside", func(o *Options, v float64) { o.Beside = v }, []float64{0, 20, 140}, []float64{-1, 19.99, 140.01}},
		{"more", func(o *Options, v float64) { o.More = v }, []float64{0, 86400}, []float64{-0.01, 86400.01, math.NaN()}},
		{"floor", func(o *Options, v float64) { o.Floor = v }, []float64{0, 10000}, []float64{-0.01, 10000.01}},
		{"height", func(o *Options, v float64) { o.Height = v }, []float64{0, 50}, []float64{-0.01, 50.01}},
	} {
		for want, values := range map[bool][]float64{true: of.ok, false: of.bad} {
			for _, v := range values {
				var o Options
				if of.set(&o, v); (o.check() == nil) != want {
					t.Errorf("%s %g: %v", of.name, v, o.check())
				}
			}
		}
	}
}

// ran is a shop with runs of so many seconds each, so many days before noon, beside a mill of 90 dB(A).
func ran(t *testing.T, noise *float64, runs ...[2]float64) *shop.State {
	t.Helper()
	m := shoptest.Mill()
	m.Noise = noise
	start := shoptest.Noon.AddDate(0, 0, -60)
	records := []shop.Record{{At: start, Body: &shop.MillSet{Mill: m}}, {At: start, Body: shoptest.Scrap("PLA", "black", 20)}}
	for _, r := range runs {
		at := shoptest.Noon.Add(-time.Duration(r[0] * 24 * float64(time.Hour)))
		records = append(records, shop.Record{At: at, By: "Ada", Body: &shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.1, Product: shoptest.P(0.09), Run: r[1]}})
	}
	for i := range records {
		records[i].ID = shop.RecordID(i + 1)
	}
	s, err := shop.Fold(records)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func told(t *testing.T, s *shop.State, o Options) (answer.Document, map[string]figure.Figure) {
	t.Helper()
	o.Day = shoptest.Noon
	d, err := Of(s, o)
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]figure.Figure{}
	for _, f := range d.Figures {
		all[f.Key] = f
	}
	for _, r := range d.Reasons {
		for _, f := range r.Figures {
			all[f.Key] = f
		}
	}
	return d, all
}

// 2003/10/EC: half an hour at 90 dB(A) are 90 + 10·lg(1/16) dB over eight hours; at 85 a person may stand there for
// 8 h/10^(5/10), at 80 for 8 h/10. A level that was measured is off by 2 dB, one that was assumed by 5.
func TestADayByHand(t *testing.T) {
	t.Parallel()
	s := ran(t, shoptest.P(90), [2]float64{0, 1800})
	_, f := told(t, s, Options{})
	const wide = 2 * 1.2816
	day := 90 - 10*math.Log10(16)
	near(t, "the day", f["day_level"].Value, day)
	near(t, "at the least", f["day_level"].Low, day-wide)
	near(t, "at the most", f["day_level"].High, day+wide)
	left := func(level, value float64) float64 { return math.Max(0, 28800/math.Pow(10, (level-value)/10)-1800) }
	for key, value := range map[string]float64{"left_lower": 80, "left_upper": 85} {
		near(t, key, f[key].Value, left(90, value))
		near(t, key+" at the least", f[key].Low, left(90+wide, value))
		near(t, key+" at the most", f[key].High, left(90-wide, value))
	}
	if _, planned := f["day_level_planned"]; planned || f["day_level"].Basis != figure.Reckoned {
		t.Errorf("%+v", f)
	}
	_, f = told(t, s, Options{More: 5400})
	near(t, "with an hour and a half more", f["day_level_planned"].Value, 90+10*math.Log10(0.25))
	_, f = told(t, ran(t, nil, [2]float64{0, 1800}), Options{})
	near(t, "assumed", f["day_level"].Value, 95-10*math.Log10(16))
	near(t, "assumed, at the most", f["day_level"].High, 95-10*math.Log10(16)+5*1.2816)
	if f["day_level"].Basis != figure.Assumed {
		t.Errorf("%+v", f["day_level"])
	}
	// Beside a quiet mill a whole day is left; the louder one of two decides where it stands 20 dB above.
	_, f = told(t, ran(t, shoptest.P(60), [2]float64{0, 1800}), Options{})
	near(t, "a day is left", f["left_lower"].Value, 86400)
	_, f = told(t, s, Options{Level: 70, Beside: 90})
	near(t, "70 beside 90", f["day_level"].Value, 10*math.Log10(1e7+1e9)-10*math.Log10(16))
	_, f = told(t, s, Options{Level: 90, Background: 80})
	near(t, "90 with 80 in it", f["day_level"].Value, 10*math.Log10(1e9-1e8)-10*math.Log10(16))
	// OSHA counts from 90 dB by 5 dB: half an hour of eight is a sixteenth, 90 − 16.61·lg 16; NIOSH from 85 by 3 dB.
	_, f = told(t, s, Options{})
	near(t, "OSHA's average", f["osha"].Value, 90+16.61*math.Log10(1.0/16))
	near(t, "NIOSH's average", f["niosh"].Value, 85+10*math.Log10(1800/28800.0*math.Pow(2, 5.0/3)))
}

// The week is the mean of five days, of the last seven: a day before that does not count, nor does another person's.
func TestAWeekByHand(t *testing.T) {
	t.Parallel()
	for days, more := range map[float64]float64{1: 1800, 6: 1800, 7: 0, 8: 0} {
		d, f := told(t, ran(t, shoptest.P(90), [2]float64{days, 1800}, [2]float64{0, 1800}), Options{})
		row := d.Tables[0].Rows[0]
		near(t, "the day", f["day_level"].Value, 90-10*math.Log10(16))
		near(t, "the time", row[1].Value, 1800)
		near(t, "the week", row[3].Value, 90+10*math.Log10((1800+more)/(5*28800)))
		near(t, "NIOSH's dose", row[4].Value, 1800/28800.0*math.Pow(2, 5.0/3))
		near(t, "OSHA's dose", row[5].Value, 1.0/16)
	}
	s := ran(t, shoptest.P(90), [2]float64{0, 1800})
	if d, _ := told(t, s, Options{Who: "Jonas"}); d.Head.Code != "dose.quiet_day" || len(d.Tables) != 1 {
		t.Errorf("%s, %d tables", d.Head.Code, len(d.Tables))
	}
	// Of tables of the normal distribution: Φ(1) = 0.8413, Φ(−2) = 0.0228.
	f := figure.Figure{Value: 80, Low: 80 - 3*1.2816, High: 80 + 3*1.2816}
	for value, want := range map[float64]float64{80: 0.5, 83: 0.8413, 74: 0.0228} {
		if got := below(f, value); math.Abs(got-want) > 5e-5 {
			t.Errorf("below %g in %g of cases, by tables %g", value, got, want)
		}
	}
	// Protection is told of from the lower action value on, at the upper end of what it may have been: 80 dB are reached where
	// 90 − 10·lg(8 h/t) + 2.563 is 80.
	at := 28800 * math.Pow(10, (80-90-2*1.2816)/10)
	for run, wear := range map[float64]bool{at * 0.99: false, at * 1.01: true} {
		d, _ := told(t, ran(t, shoptest.P(90), [2]float64{0, run}), Options{})
		if len(d.Steps) > 0 != wear || len(d.Limits) != 2 || d.Limits[0].Binds {
			t.Errorf("after %g s %d steps", run, len(d.Steps))
		}
	}
	for run, binds := range map[float64]bool{2879: false, 2881: true} { // a tenth of eight hours
		if d, _ := told(t, ran(t, shoptest.P(90), [2]float64{0, run}), Options{}); d.Limits[0].Binds != binds || d.Limits[1].Binds {
			t.Errorf("after %g s at 90 dB(A): %t", run, d.Limits[0].Binds)
		}
	}
	// A quiet day with work ahead: three hours beside 95 dB(A), assumed, are past the lower value.
	d, all := told(t, ran(t, nil), Options{More: 10800})
	near(t, "ahead", all["day_level_planned"].Value, 95+10*math.Log10(3.0/8))
	if d.Head.Code != "dose.quiet_day" || len(d.Limits) != 2 {
		t.Errorf("%s, %d limits", d.Head.Code, len(d.Limits))
	}
}

// 29 CFR 1910 by the memo of 2015: 1/32 in of 75 lb/ft³ are 0.9536 kg/m², at 400 kg/m³ 2.384 mm. Thirty grams never found are 1.5 mm on a twentieth
// of a square metre, and 12.5 g/m³ in a room of 2.4 m.
func TestALayerByHand(t *testing.T) {
	t.Parallel()
	of := func(lost, floor, height float64) (answer.Document, map[string]figure.Figure) {
		j := &job{state: ran(t, nil), opt: Options{Floor: floor, Height: height}}
		if err := j.layer(lost); err != nil {
			t.Fatal(err)
		}
		all := map[string]figure.Figure{}
		for _, f := range j.doc.Reasons[0].Figures {
			all[f.Key] = f
		}
		return j.doc, all
	}
	_, f := of(0.03, 1, 0)
	near(t, "the limit", f["layer_limit"].Value, 0.0254/32*75*16.01846337/400)
	near(t, "the layer", f["layer"].Value, 0.03/400/0.05)
	near(t, "the cloud", f["cloud"].Value, 0.03/2.4)
	_, f = of(0.03, 1, 3)
	near(t, "the cloud under 3 m", f["cloud"].Value, 0.01)
	bulk := f["layer_limit"].Inputs[0]
	near(t, "the least bulk", bulk.Low, 200)
	near(t, "the most", bulk.High, 600)
	for lost, deep := range map[float64]bool{0.04767: false, 0.04769: true} { // 0.9536·0.05 kg
		d, _ := of(lost, 1, 0)
		if got := len(d.Spoilers) == 1 && d.Spoilers[0].Code == "dose.layer_too_deep" && d.Spoilers[0].Weight == 1; got != deep {
			t.Errorf("%g kg too deep: %t", lost, got)
		}
	}
	d, f := of(0.03, 0, 0)
	if _, there := f["layer"]; there || len(d.Reasons[0].Notes) != 2 {
		t.Errorf("without a floor: %+v", f)
	}
	if d, _ = of(0, 0, 0); len(d.Reasons[0].Notes) != 1 {
		t.Errorf("nothing was lost, and the floor is asked for")
	}
}
