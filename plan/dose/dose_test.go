package dose_test

import (
	"math"
	"strings"
	"testing"
	"time"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/plan/dose"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// shopOf is a shop with runs by people, a minute apart on the day of shoptest.Noon.
func shopOf(t testing.TB, noise *float64, runs []by, more ...shop.Body) *shop.State {
	t.Helper()
	m := shoptest.Mill()
	m.Noise = noise
	all := []shop.Body{&shop.ShopSet{Name: "Test bench"}, &shop.MillSet{Mill: m}, &shop.ScaleSet{Scale: shop.Scale{Name: "kitchen", Resolution: 0.001}}, shoptest.Scrap("PLA", "black", 20)}
	var who []string
	for range all {
		who = append(who, "")
	}
	for _, r := range runs {
		all, who = append(all, &shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.1, Product: shoptest.P(0.09), Run: r.run}), append(who, r.who)
	}
	for _, b := range more {
		all, who = append(all, b), append(who, "")
	}
	records := make([]shop.Record, len(all))
	for i, b := range all {
		records[i] = shop.Record{ID: shop.RecordID(i + 1), At: shoptest.Noon.Add(time.Duration(i-100) * time.Minute), By: who[i], Body: b}
	}
	s, err := shop.Fold(records)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

type by struct {
	who string
	run float64
}

func of(t testing.TB, s *shop.State, o dose.Options) answer.Document {
	t.Helper()
	if o.Day.IsZero() {
		o.Day = shoptest.Noon
	}
	d, err := dose.Of(s, o)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func figureOf(d answer.Document, key string) (figure.Figure, bool) {
	all := d.Figures
	for _, s := range d.Reasons {
		all = append(all, s.Figures...)
	}
	for _, f := range all {
		if f.Key == key {
			return f, true
		}
	}
	return figure.Figure{}, false
}

// Two hours at 95 dB(A): L_EX,8h = 95 + 10 lg(2/8) = 89.0 dB(A) (2003/10/EC, ISO 9612); OSHA allows
// 4 h (29 CFR 1910.95, table G-16), half a dose; NIOSH 98-126 allows 47 min 37 s, 2.52 doses.
func TestTwoHours(t *testing.T) {
	t.Parallel()
	noise := 95.0
	s := shopOf(t, &noise, []by{{"Ada", 3600}, {"Ada", 3600}, {"Jonas", 1800}})
	d := of(t, s, dose.Options{})
	day, _ := figureOf(d, "day_level")
	if math.Abs(day.Value-88.979) > 0.01 || d.Head.Text("who") != "Ada" {
		t.Errorf("%s: %.2f dB(A)", d.Head.Text("who"), day.Value)
	}
	row := d.Tables[0].Rows[0]
	if math.Abs(row[4].Value-2.52) > 0.01 || math.Abs(row[5].Value-0.5) > 1e-9 {
		t.Errorf("NIOSH %.3f, OSHA %.3f", row[4].Value, row[5].Value)
	}
	// A week of one such day: 88.98 − 10 lg 5.
	if math.Abs(row[3].Value-(88.979-6.990)) > 0.01 {
		t.Errorf("the week %.2f dB(A)", row[3].Value)
	}
	// TWA of OSHA: 90 + 16.61 lg 0.5 = 85.0.
	if f, _ := figureOf(d, "osha"); math.Abs(f.Value-85.0) > 0.01 {
		t.Errorf("OSHA's average is %.2f", f.Value)
	}
	if len(d.Tables[0].Rows) != 2 || len(d.Limits) != 2 || !d.Limits[1].Binds || len(d.Steps) == 0 {
		t.Errorf("%d people, %+v", len(d.Tables[0].Rows), d.Limits)
	}
	if left, _ := figureOf(d, "left_upper"); left.Value != 0 {
		t.Errorf("%.0f s are left until 85 dB(A)", left.Value)
	}
	if one := of(t, s, dose.Options{Who: "Jonas"}); one.Head.Text("who") != "Jonas" || len(one.Tables[0].Rows) != 1 {
		t.Error("one person alone")
	}
}

// A guess has a wide range and says so; a level measured with a background is that
// of the mill alone; what sounds beside it adds.
func TestLevels(t *testing.T) {
	t.Parallel()
	s := shopOf(t, nil, []by{{"Ada", 3600}})
	level := func(o dose.Options) figure.Figure { f, _ := figureOf(of(t, s, o), "day_level"); return f }
	guess, meter := level(dose.Options{}), level(dose.Options{Level: 95})
	if guess.High-guess.Low < 12 || meter.High-meter.Low > 6 || len(of(t, s, dose.Options{}).Spoilers) == 0 {
		t.Errorf("guessed %+v, measured %+v", guess, meter)
	}
	// 95 with a background of 92 is 92 alone, within 0.03 dB; 92 beside 92 is 95.
	if f := level(dose.Options{Level: 95, Background: 92}); math.Abs(f.Value-(meter.Value-3.02)) > 0.05 {
		t.Errorf("without the background %.2f, with it %.2f", f.Value, meter.Value)
	}
	if f := level(dose.Options{Level: 92, Beside: 92}); math.Abs(f.Value-(meter.Value+0.01)) > 0.02 {
		t.Errorf("two together %.2f, wanted %.2f", f.Value, meter.Value)
	}
	for name, o := range map[string]dose.Options{"louder background": {Level: 80, Background: 90}, "no level": {Level: 300}} {
		o.Day = shoptest.Noon
		if _, err := dose.Of(s, o); err == nil {
			t.Errorf("%s is taken", name)
		}
	}
}

// What is planned adds; another day is quiet.
func TestPlannedAndQuiet(t *testing.T) {
	t.Parallel()
	noise := 90.0
	s := shopOf(t, &noise, []by{{"Ada", 3600}})
	f, ok := figureOf(of(t, s, dose.Options{More: 3 * 3600}), "day_level_planned")
	if !ok || math.Abs(f.Value-(90+10*math.Log10(0.5))) > 0.01 {
		t.Errorf("with three hours more %.2f", f.Value)
	}
	if left, _ := figureOf(of(t, s, dose.Options{}), "left_upper"); math.Abs(left.Value-(8*3600/math.Pow(10, 0.5)-3600)) > 1 {
		t.Errorf("%.0f s are left at 90 dB(A)", left.Value)
	}
	quiet := of(t, s, dose.Options{Day: shoptest.Noon.AddDate(0, 0, 3)})
	if quiet.Head.Code != "dose.quiet_day" || strings.Contains(quiet.Head.Code, "head") {
		t.Errorf("three days later: %s", quiet.Head.Code)
	}
}

// Fines: 10 g a run are lost in grinding; of 20 g sieved a quarter is finer than 0.5 mm, so a
// quarter of the lot; the layer they would make on a twentieth of the floor.
func TestDust(t *testing.T) {
	t.Parallel()
	sieved := &shop.Sieved{Lot: "R1", Charge: 0.02, Series: shop.OwnSet, Holes: shop.WovenWire, Pan: 0.002, Sieves: []shop.OnSieve{{Opening: 1e-3, Mass: 0.01}, {Opening: 0.5e-3, Mass: 0.005}, {Opening: 0.25e-3, Mass: 0.003}}}
	var runs []by
	for range 10 {
		runs = append(runs, by{"Ada", 60})
	}
	s := shopOf(t, nil, runs, sieved)
	d := of(t, s, dose.Options{Floor: 0.5, Height: 2})
	rows := d.Tables[1].Rows
	lot, _ := s.Lot("R1")
	if math.Abs(rows[0][1].Value-0.25*lot.Mass) > 1e-9 {
		t.Errorf("%.4f kg of fines in R1 of %.3f kg", rows[0][1].Value, lot.Mass)
	}
	lost := rows[3][1].Value
	if layer, _ := figureOf(d, "layer"); lost <= 0 || math.Abs(layer.Value-lost/(400*0.05*0.5)) > 1e-9 {
		t.Errorf("lost %.4f kg, a layer of %g m", lost, layer.Value)
	}
	// 0.954 kg/m² at 400 kg/m³ is 2.4 mm (29 CFR 1910 memo of 2015): a twentieth of half a square metre holds 24 g.
	if tooDeep := len(d.Spoilers) > 0 && d.Spoilers[0].Code == "dose.layer_too_deep"; tooDeep != (lost > 0.0239) {
		t.Errorf("lost %.4f kg and too deep %v", lost, tooDeep)
	}
	if wide := of(t, s, dose.Options{Floor: 50}); len(wide.Spoilers) > 0 && wide.Spoilers[0].Code == "dose.layer_too_deep" {
		t.Error("the same dust in a large room is too deep a layer")
	}
}

// Ten decibels are ten times the energy: 700 s beside a mill of 90 dB(A) are less than 8000 s beside one of 80, and 900 s are more.
func TestWhoIsMostExposed(t *testing.T) {
	t.Parallel()
	quiet, loud := shoptest.Mill(), shoptest.Mill()
	quiet.Name, quiet.Noise, loud.Name, loud.Noise = "Quiet", shoptest.P(80.0), "Loud", shoptest.P(90.0)
	for run, want := range map[float64]string{700: "Jonas", 900: "Ada"} {
		ground := func(mill string, run float64) *shop.Ground {
			return &shop.Ground{Mill: mill, From: "S1", Into: "R1", Charge: 0.1, Product: shoptest.P(0.09), Run: run}
		}
		records := []shop.Record{{Body: &shop.MillSet{Mill: quiet}}, {Body: &shop.MillSet{Mill: loud}}, {Body: shoptest.Scrap("PLA", "black", 20)},
			{By: "Ada", Body: ground("Loud", run)}, {By: "Jonas", Body: ground("Quiet", 8000)}}
		for i := range records {
			records[i].ID, records[i].At = shop.RecordID(i+1), shoptest.Noon.Add(time.Duration(i-100)*time.Minute)
		}
		s, err := shop.Fold(records)
		if err != nil {
			t.Fatal(err)
		}
		if got := of(t, s, dose.Options{}).Head.Text("who"); got != want {
			t.Errorf("%g s at 90 dB(A): %s is most exposed", run, got)
		}
	}
}
