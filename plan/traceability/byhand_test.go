package traceability

import (
	"math"
	"testing"
	"time"

	"hopperful/fact"
	"hopperful/polymer"
	"hopperful/process/ageing"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// A melt-flow test by hand: 0.1 and 0.3 g in ten seconds each flow 0.02 g/s, and their mean of 0.2 is
// known to √(0.02/1/2) = 0.1, a half of it; even cuts are no surer than laboratories agree, nor is one.
func TestATestOfMeltFlowByHand(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	for _, c := range []struct {
		cuts  []float64
		time  *float64
		rate  float64
		doubt float64
	}{
		{[]float64{0.1e-3, 0.3e-3}, p(10), 2e-5, 0.5}, {[]float64{0.2e-3, 0.2e-3}, p(10), 2e-5, 0.05}, {[]float64{0.2e-3}, p(10), 2e-5, 0.05},
		{[]float64{0.1e-3, 0.2e-3, 0.3e-3}, p(10), 2e-5, 1 / (2 * math.Sqrt(3))}, {nil, p(10), 0, 0}, {[]float64{0.2e-3}, nil, 0, 0}, {[]float64{0.2e-3}, p(0), 0, 0},
	} {
		w := &Ager{flows: map[shop.LotID]flowMeasure{}}
		w.measured(shop.Record{ID: 7}, &shop.FlowTested{Lot: "R1", Cuts: c.cuts, CutTime: c.time, Temperature: p(503.15), Load: p(2.16)})
		m, ok := w.flows["R1"]
		if ok != (c.rate > 0) || len(w.tests) != len(w.flows) {
			t.Errorf("%v: taken %t", c.cuts, ok)
			continue
		}
		if ok && (math.Abs(m.rate/c.rate-1) > 1e-9 || math.Abs(m.doubt-c.doubt) > 1e-9 || m.record != 7 || m.like() != "503K/2.160kg") {
			t.Errorf("%v: %+v", c.cuts, m)
		}
		if f := m.figure(); ok && (math.Abs(f.High/f.Value-math.Exp(1.2816*c.doubt)) > 1e-3*f.High/f.Value || math.Abs(f.Value/f.Low-f.High/f.Value) > 1e-9 || f.About == "") {
			t.Errorf("%v: %+v", c.cuts, f)
		}
	}
	for _, m := range []flowMeasure{{temperature: p(500)}, {load: p(2)}, {}} {
		if m.like() != "" || m.figure().About != "" {
			t.Errorf("%+v is like %q", m, m.like())
		}
	}
	for at, want := range map[string]string{"230 °C, 2.16 kg": "503K/2.160kg", "190 °C, 21.6 kg": "463K/21.600kg", "230 °C": "", "230 °C, 2.16 kg; range from memory": "", "warm": "", "2.3.0 °C, 2.16 kg": "", "230 °C, 2.1.6 kg": ""} {
		if got := bookUnder(polymer.Value{At: at}); got != want {
			t.Errorf("%q is under %q, wanted %q", at, got, want)
		}
	}
	for _, c := range [][3]float64{{1, 4, math.Log(4) / 2 / 1.2816}, {1, 1, 0}, {1, 1e6, 3}} {
		if got := gradeDoubt(polymer.Value{Low: c[0], High: c[1]}); math.Abs(got-c[2]) > 1e-4 {
			t.Errorf("grades from %g to %g: %g, wanted %g", c[0], c[1], got, c[2])
		}
	}
}

// One colour's ratio between two plastics by hand: with what is believed of both, s² the variance of the
// ratio over its weight, their difference is r·2τ²/(2τ² + s²/ω), ω = 5/(4 + off²), again and again.
func TestOneResultScattersByHand(t *testing.T) {
	t.Parallel()
	const tau = 0.7
	for _, c := range []struct{ ratio, sd float64 }{{0.3, 0.2}, {-0.8, 0.5}, {4, 0.2}} {
		s := &scatters{at: map[shop.LotID]int{}, results: []mixResult{{a: "R1", b: "R2", ratio: c.ratio, sd: c.sd}}}
		if err := s.solve(); err != nil {
			t.Fatal(err)
		}
		d := 0.0
		for range 12 {
			off := (c.ratio - d) / c.sd
			weight := 5 / (4 + off*off) / (c.sd * c.sd)
			d = c.ratio * 2 * tau * tau / (2*tau*tau + 1/weight)
		}
		if a, b := s.mean[s.at["R1"]], s.mean[s.at["R2"]]; math.Abs(a+b) > 1e-9 || math.Abs(b-a-d) > 1e-9 {
			t.Errorf("%+v: %g and %g, wanted %g apart", c, a, b, d)
		}
		if got := s.strength("R2"); math.Abs(got-math.Exp(d/2)) > 1e-9 || s.strength("R9") != 1 || s.runs[0] != 1 || s.runs[1] != 1 {
			t.Errorf("%+v: R2 scatters %g times as strongly", c, got)
		}
	}
	if (*scatters)(nil).strength("R1") != 1 {
		t.Error("nothing learned, and yet it scatters otherwise")
	}
}

// What a lot is: its mass from outside beside its parents', and rounding is none of it.
func TestWhatCameFromOutside(t *testing.T) {
	t.Parallel()
	lot := func(in float64, parents ...float64) *shop.Lot {
		l := &shop.Lot{In: in}
		for _, m := range parents {
			l.Parents = append(l.Parents, shop.Edge{Lot: "S1", Mass: m})
		}
		return l
	}
	for _, c := range []struct {
		lot            *shop.Lot
		outside, whole float64
	}{{lot(1), 1, 1}, {lot(1, 0.3, 0.2), 0.5, 1}, {lot(1, 0.6, 0.4), 0, 1}, {lot(1, 1-0.5e-9), 0, 1 - 0.5e-9}, {lot(1, 1-2e-9), 2e-9, 1}, {lot(0), 0, 0}} {
		if got := outsideOf(c.lot); math.Abs(got-c.outside) > 1e-15 {
			t.Errorf("%+v: %g from outside, wanted %g", c.lot.Parents, got, c.outside)
		}
		if got := wholeOf(c.lot); math.Abs(got-c.whole) > 1e-15 {
			t.Errorf("%+v: %g in all, wanted %g", c.lot.Parents, got, c.whole)
		}
	}
	for class, want := range map[shop.Class]bool{shop.Regrind: true, shop.Blend: true, shop.Virgin: true, shop.Scrap: false, shop.Print: false, "": false} {
		if Granulate(class) != want {
			t.Errorf("%q is granulate: %t", class, !want)
		}
	}
}

// Water cuts no more chains than there are, ten moles a kilogram, at each end by itself; and how damp a
// pass was is counted as said or not.
func TestWaterCutsWhatThereIs(t *testing.T) {
	t.Parallel()
	at := func(cut float64) ageing.Age { return ageing.Age{Shares: []float64{1}, Cuts: cut} }
	a, err := Spread{low: at(0), mid: at(9.5), high: at(10)}.melted(cuts{low: 0.3, mid: 2, high: 5, said: true})
	if err != nil || math.Abs(a.low.Cuts-0.3) > 1e-12 || math.Abs(a.mid.Cuts-10) > 1e-12 || math.Abs(a.high.Cuts-10) > 1e-12 || a.said != 1 || a.unsaid != 0 {
		t.Errorf("%+v, %v", a, err)
	}
	if a, err = a.melted(cuts{}); err != nil || a.said != 1 || a.unsaid != 1 || math.Abs(a.low.Cuts-0.3) > 1e-12 {
		t.Errorf("%+v, %v", a, err)
	}
	// A lot counts as dried from the moment it goes in until a day after it came out.
	began := shoptest.Noon
	w := &Ager{dryings: map[shop.LotID][]stay{"R1": {{began, began.Add(4 * time.Hour)}}, "R2": nil}}
	for hours, want := range map[float64]bool{-0.01: false, 0: true, 4: true, 28: true, 28.01: false} {
		if got := w.driedBefore("R1", began.Add(time.Duration(hours*float64(time.Hour)))); got != want {
			t.Errorf("%g h after it went in: dried %t", hours, got)
		}
	}
	if w.driedBefore("R2", began) {
		t.Error("a lot nobody dried is dried")
	}
	if g, err := (plastic{}).gain(0, 1); g != 1 || err != nil {
		t.Errorf("water does not cut it, and it flows %g times", g)
	}
	if p := (plastic{cut: true, chain: ageing.Chain{Molar: 100}}); true {
		// Of 100 kg/mol, 0.01 mol/kg cut once leave chains of a half: 2^3.4 as fast (own derivation).
		for _, c := range [][3]float64{{0, 0.01, math.Pow(2, 3.4)}, {0.01, 0.03, math.Pow(2, 3.4)}, {0.01, 0.01, 1}, {0.02, 0.01, 1}} {
			if g, err := p.gain(c[0], c[1]); err != nil || math.Abs(g/c[2]-1) > 1e-9 {
				t.Errorf("from %g to %g mol/kg it flows %g times, wanted %g: %v", c[0], c[1], g, c[2], err)
			}
		}
	}
}

// Where a lot came from and went, told: three origins and how many in all, three lots and how many more.
func TestAFamilyInAFewWords(t *testing.T) {
	t.Parallel()
	origins := func(n int, own bool) (out []TraceOrigin) {
		for i := range n {
			out = append(out, TraceOrigin{Relative: Relative{Lot: shop.LotID(rune('A' + i))}, Share: 1 / float64(n)})
		}
		if own {
			out = append(out, TraceOrigin{Relative: Relative{Lot: "R1"}, Share: 0.1})
		}
		return out
	}
	part := func(s fact.Saying, name string) fact.Saying {
		f, _ := s.Fact(name)
		if len(f.Parts) == 0 {
			return fact.Saying{}
		}
		return f.Parts[0]
	}
	for _, c := range []struct {
		n, went int
		own     bool
		came    string
		of, to  int
	}{
		{0, 0, true, "family.from_outside", 0, 0}, {0, 0, false, "family.from_outside", 0, 0}, {1, 1, false, "family.consists", 1, 1}, {3, 3, false, "family.consists", 3, 3}, {2, 4, true, "family.consists", 2, 4},
		{4, 5, false, "family.consists_of_many", 3, 4}, {3, 9, true, "family.consists_of_many", 3, 4},
	} {
		var went []shop.LotID
		for i := range c.went {
			went = append(went, shop.LotID(rune('a'+i)))
		}
		tr := Tracing{Lot: Relative{Lot: "R1"}, Origins: origins(c.n, c.own)}
		tr.answer(went)
		came, gone := part(tr.Head.Saying, "came"), part(tr.Head.Saying, "gone")
		of, _ := came.Fact("of")
		to, _ := gone.Fact("to")
		if came.Code != c.came || len(of.Parts) != c.of || len(to.Parts) != c.to || (gone.Code == "family.went_nowhere") != (c.went == 0) {
			t.Errorf("%+v: %+v of %d, to %d", c, came.Code, len(of.Parts), len(to.Parts))
		}
		if n, ok := came.Fact("n"); ok && int(n.Value) != len(tr.Origins) {
			t.Errorf("%+v: of %g in all", c, n.Value)
		}
		if c.went > 4 {
			if n, _ := to.Parts[3].Fact("n"); int(n.Value) != c.went-3 {
				t.Errorf("%+v: %g more", c, n.Value)
			}
		}
	}
	notes := func(tr Tracing, table int) (codes []string) {
		tr.tables()
		for _, n := range tr.Tables[table].Notes {
			codes = append(codes, n.Code)
		}
		return codes
	}
	for _, c := range []struct {
		tr   Tracing
		from int
		to   string
	}{{Tracing{}, 0, "family.on_hand"}, {Tracing{Outside: 1e-3}, 1, "family.on_hand"}, {Tracing{Lost: 1e-3}, 0, "family.on_hand family.lost"}, {Tracing{Lost: -1e-3}, 0, "family.on_hand family.found"}, {Tracing{InMills: 1e-3, Lost: 1}, 0, "family.on_hand family.lost family.in_mills"}} {
		to := ""
		for _, code := range notes(c.tr, 1) {
			to += " " + code
		}
		if from := notes(c.tr, 0); len(from) != c.from || to != " "+c.to {
			t.Errorf("%+v: %v and%s", c.tr, from, to)
		}
	}
	// What neither is there nor went anywhere lies in the mills; less than rounding does not.
	for _, c := range [][2]float64{{0.1, 0.1}, {1e-10, 0}, {-0.1, -0.1}, {2e-9, 2e-9}} {
		tr := Tracing{In: 1, OnHand: 0.5, Lost: 0.2, Went: 0.3 - c[0]}
		if tr.settle(); math.Abs(tr.InMills-c[1]) > 1e-12 {
			t.Errorf("%g is missing, %g lies in the mills", c[0], tr.InMills)
		}
	}
	if ids := nextTo([]shop.Edge{{Lot: "A"}, {Lot: "B"}, {Lot: "A"}}); len(ids) != 2 || ids[0] != "A" || ids[1] != "B" {
		t.Errorf("next to it are %v", ids)
	}
}
