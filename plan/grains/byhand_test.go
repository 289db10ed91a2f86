package grains

import (
	"math"
	"slices"
	"testing"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/process/grain"
	"hopperful/process/sieve"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// discs are n round grains of a width, side by side well inside the field.
func discs(n int, width float64) []grain.Grain {
	var all []grain.Grain
	for i := range n {
		all = append(all, grain.Grain{X: 0.02 + 0.002*float64(i%60), Y: 0.02 + 0.002*float64(i/60), Width: width, Length: width, Area: math.Pi / 4 * width * width, Solid: 1})
	}
	return all
}

// asked is a job over weighed grains, as far as what is said of it is reckoned.
func asked(t *testing.T, ask Ask) *job {
	t.Helper()
	s := shoptest.Bin(t, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 1, Halogen: shop.No})
	j := &job{state: s, ask: ask}
	if err := j.material(); err != nil {
		t.Fatal(err)
	}
	var err error
	if j.heap, err = grain.Weigh(ask.Samples, j.plastic); err != nil {
		t.Fatal(err)
	}
	j.shape = grain.Shape{Median: 0.8, Spread: 0.1}
	j.see()
	j.sieves()
	if j.sizes, err = grain.Sizing(j.heap, grain.Ask{Shape: j.shape, Sieves: j.holes, Seed: 13}); err != nil {
		t.Fatal(err)
	}
	return j
}

func of(pixel float64, parts ...[]grain.Grain) grain.Sample {
	return grain.Sample{Spreads: []*grain.Spread{{W: 0.16, H: 0.12, Pixel: pixel, Grains: slices.Concat(parts...)}}}
}

// The middle by weight: the first at which half of it is reached.
func TestMiddles(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		v, w []float64
		want float64
	}{
		{[]float64{3, 1, 2}, []float64{1, 1, 1}, 2}, {[]float64{1, 2, 3}, []float64{1, 1, 2}, 2}, {[]float64{1, 2, 3}, []float64{3, 1, 1}, 1},
		{[]float64{1, 2, 3}, []float64{1, 1, 3}, 3}, {[]float64{5}, []float64{0.1}, 5}, {nil, nil, 0},
	} {
		if got := weightedMiddle(c.v, c.w); got != c.want {
			t.Errorf("middle of %v by %v is %g, wanted %g", c.v, c.w, got, c.want)
		}
		var all []grain.Weighed
		for i := range c.v {
			all = append(all, grain.Weighed{Width: c.v[i], Mass: c.w[i]})
		}
		if j := (&job{heap: grain.Heap{Grains: all}}); len(all) > 0 && j.middle() != c.want {
			t.Errorf("middle of the heap %v by %v is %g, wanted %g", c.v, c.w, j.middle(), c.want)
		}
	}
	found := func(weight float64, code string) answer.Finding {
		return answer.Finding{Saying: fact.Saying{Code: code}, Weight: weight}
	}
	all := []answer.Finding{found(0.2, "a"), found(0.7, "b"), found(0.2, "c"), found(0.9, "d"), found(0.7, "e")}
	sortFindings(all)
	order := ""
	for _, f := range all {
		order += f.Code
	}
	if order != "dbeac" { // alike ones as they came
		t.Errorf("told in the order %s", order)
	}
}

// The wall a lot came from: that of its nearest ancestor that has one, the thickest of several
// parents, and none where one of them is not known.
func TestTheWallALotCameFrom(t *testing.T) {
	t.Parallel()
	scrap := func(id shop.LotID, wall *float64) *shop.TakenIn {
		s := shoptest.Scrap("PLA", "black", 2)
		s.Lot, s.Pieces = id, shop.Pieces{Wall: wall}
		return s
	}
	run := func(from, into shop.LotID) *shop.Ground {
		return &shop.Ground{Mill: "Rattle", From: from, Into: into, Charge: 0.5, Product: shoptest.P(0.4), Run: 60}
	}
	s := shoptest.Bin(t, scrap("S1", shoptest.P(1.2e-3)), scrap("S2", shoptest.P(2e-3)), scrap("S3", nil),
		run("S1", "R1"), run("S2", "R2"), run("S3", "R3"), run("S1", "R4"), run("S2", "R4"), run("S1", "R5"), run("S3", "R5"))
	for id, want := range map[shop.LotID]float64{"S1": 1.2e-3, "R1": 1.2e-3, "R2": 2e-3, "R3": 0, "R4": 2e-3, "R5": 0, "S9": 0} {
		if got := wallOf(s, id, 0); got != want {
			t.Errorf("the walls of %s are %g, wanted %g", id, got, want)
		}
	}
	if wallOf(s, "R1", generations) != 0 || wallOf(s, "R1", generations-1) != 1.2e-3 || wallOf(s, "S1", generations) != 1.2e-3 || wallOf(s, "S1", generations+1) != 0 {
		t.Error("it is looked for as far back as nobody looks")
	}
}

// What may spoil it is told on one side of each threshold and not on the other, the worst first.
func TestWhatIsToldOfPictures(t *testing.T) {
	t.Parallel()
	codes := func(change func(j *job)) map[string]bool {
		j := asked(t, Ask{Lot: "R1", Ruled: true, Samples: []grain.Sample{of(2e-5, discs(900, 1e-3), discs(900, 1.1e-3))}})
		j.sizes.D90Told = true
		change(j)
		j.spoilers()
		out := map[string]bool{}
		for i, f := range j.doc.Spoilers {
			out[f.Code] = true
			if i > 0 && f.Weight > j.doc.Spoilers[i-1].Weight {
				t.Errorf("%s is worse than what stands before it", f.Code)
			}
		}
		return out
	}
	picture := func(m grain.Measured) func(j *job) {
		return func(j *job) { j.ask.Pictures = []*grain.Measured{&m} }
	}
	sharp := grain.Measured{Spread: grain.Spread{Pixel: 1e-4}, PerGrain: 20}
	with := func(change func(m *grain.Measured)) func(j *job) { m := sharp; change(&m); return picture(m) }
	for name, c := range map[string]struct {
		change func(j *job)
		code   string
		want   bool
	}{
		"as it should be":    {picture(sharp), "", false},
		"one rules":          {func(j *job) { j.sizes.D90Told = false }, "grains.one_rules", true},
		"crowded":            {with(func(m *grain.Measured) { m.Cover = 0.201 }), "grains.much_cover", true},
		"nearly crowded":     {with(func(m *grain.Measured) { m.Cover = 0.2 }), "grains.much_cover", false},
		"few pixels":         {with(func(m *grain.Measured) { m.PerGrain = 12.9 }), "grains.few_pixels", true},
		"enough pixels":      {with(func(m *grain.Measured) { m.PerGrain = 13 }), "grains.few_pixels", false},
		"soft":               {with(func(m *grain.Measured) { m.Blur = 0.111 * 20 * 1e-4 }), "grains.soft_edges", true},
		"sharp enough":       {with(func(m *grain.Measured) { m.Blur = 0.109 * 20 * 1e-4 }), "grains.soft_edges", false},
		"by a card":          {with(func(m *grain.Measured) { m.Standing.Card = true }), "grains.by_card", true},
		"flakes":             {func(j *job) { j.heap.Thickness = 0.299 }, "grains.many_flakes", true},
		"no flakes":          {func(j *job) { j.heap.Thickness = 0.3 }, "grains.many_flakes", false},
		"not weighed":        {func(j *job) { j.heap.Thickness = 0 }, "grains.many_flakes", false},
		"heavier than seen":  {func(j *job) { j.heap.Thickness = 1.001 }, "grains.fines_unseen", true},
		"as heavy as cubes":  {func(j *job) { j.heap.Thickness = 1 }, "grains.fines_unseen", false},
		"dust unseen":        {func(j *job) { j.seen = 1.001 * answer.FinesLimit }, "grains.dust_unseen", true},
		"dust just seen":     {func(j *job) { j.seen = answer.FinesLimit }, "grains.dust_unseen", false},
		"dust weighed":       {func(j *job) { j.seen, j.ask.Unseen, j.ask.UnseenBelow = 1.1*answer.FinesLimit, 1e-6, 0.4e-3 }, "grains.dust_unseen", false},
		"line not measured":  {func(j *job) { picture(sharp)(j); j.ask.Ruled = false }, "grains.not_ruled", true},
		"no line on a card":  {func(j *job) { m := sharp; m.Standing.Card = true; picture(m)(j); j.ask.Ruled = false }, "grains.not_ruled", false},
		"no picture at hand": {func(j *job) { j.ask.Ruled = false }, "grains.not_ruled", false},
	} {
		got := codes(c.change)
		if c.code == "" && len(got) > 0 || c.code != "" && got[c.code] != c.want {
			t.Errorf("%s: told %v", name, got)
		}
	}
}

// What is kept: reckoned mass is no reason to doubt a lot, weighed mass is; long grains are
// counted above two holes of the screen unless they are threads; eight pixels of the coarsest picture are seen.
func TestWhatIsKeptOfPictures(t *testing.T) {
	t.Parallel()
	j := asked(t, Ask{Lot: "R1", Samples: []grain.Sample{of(4e-5, discs(100, 1e-3)), of(6e-5, discs(100, 1.2e-3))}})
	if want := 8 * 6e-5 * 0.8; math.Abs(j.seen-want) > 1e-15 {
		t.Errorf("seen from %g, wanted %g", j.seen, want)
	}
	lot := func(mass float64) { l, _ := j.state.Lot("R1"); l.Mass = mass }
	kept := func() float64 { return j.body(0.1).Charge }
	reckoned := j.heap.Mass
	if got := kept(); got != reckoned {
		t.Errorf("kept %g of %g", got, reckoned)
	}
	if lot(reckoned / 2); kept() != reckoned/2 {
		t.Errorf("kept %g of a lot of %g", kept(), reckoned/2)
	}
	if j.heap.Mass = 0.5; kept() != reckoned/2 {
		t.Errorf("kept %g", kept())
	}
	if lot(0.01); kept() != 1e-3 {
		t.Errorf("kept %g of ten grams, wanted one", kept())
	}
	for i := range j.ask.Samples {
		j.ask.Samples[i].Of = 0.3
	}
	if kept() != 0.5 {
		t.Errorf("weighed, and yet kept as %g", kept())
	}
	b := j.body(0.1)
	sum := b.Pan
	for _, x := range b.Sieves {
		sum += x.Mass
	}
	if math.Abs(sum-b.Charge) > 1e-12 || !b.Photo.Weighed || b.Photo.Pictures != 1 || b.LongFound != nil {
		t.Errorf("%g on sieves of %g: %+v", sum, b.Charge, b.Photo)
	}
	hole := 3e-3
	piece := func(long, wide float64) grain.Grain { return grain.Grain{Length: long, Width: wide} }
	j.screen, j.ask.Samples = hole, []grain.Sample{{Spreads: []*grain.Spread{{Grains: []grain.Grain{
		piece(sieve.LongRatio*hole, 2e-3), piece(sieve.LongRatio*hole+1e-6, 2e-3), piece(0.01, 0.002), piece(0.01+1e-6, 0.002), piece(0.02, 0.02), piece(1e-3, 1e-3)}}}}}
	if n := j.long(); n != 3 { // just above, five times as long as wide, and a lump
		t.Errorf("%d long grains, wanted 3", n)
	}
}

// Nobody weighed: half to 1.6 times of what areas give; weighed, it is as it was.
func TestMassOfPictures(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		sample func(s *grain.Sample)
		key    string
		low    float64
		high   float64
	}{"reckoned": {func(*grain.Sample) {}, "grains.mass_reckoned", 0.5, 1.6}, "weighed": {func(s *grain.Sample) { s.Mass = 1e-3 }, "grains.mass", 1, 1}, "of a class": {func(s *grain.Sample) { s.Of = 1e-2 }, "grains.mass", 1, 1}} {
		s := of(2e-5, discs(400, 1e-3))
		c.sample(&s)
		j := asked(t, Ask{Lot: "R1", Samples: []grain.Sample{s}})
		j.figures()
		f, ok := j.figure("mass")
		if !ok || f.Name != c.key || math.Abs(f.Low/f.Value-c.low) > 1e-9 || math.Abs(f.High/f.Value-c.high) > 1e-9 {
			t.Errorf("%s: %+v", name, f)
		}
		shape := j.doc.Figures[0].Inputs[0]
		if math.Abs(shape.Low-0.8*math.Exp(-0.12816)) > 1e-4 || math.Abs(shape.High-0.8*math.Exp(0.12816)) > 1e-4 {
			t.Errorf("shape %g to %g", shape.Low, shape.High)
		}
	}
	if _, ok := (&job{}).figure("d50"); ok {
		t.Error("a figure nobody reckoned is there")
	}
}

// Sieves over pictures teach the shape only where they can be of one material: half to 1.3.
func TestWhichPairsTeachTheShape(t *testing.T) {
	t.Parallel()
	// Of 10 g a half lies on 1 mm and a half on 0.5 mm: d50 is 1 mm, by any curve.
	analysis := func(photo *shop.Photographed, scale float64) *shop.Sieved {
		return &shop.Sieved{Lot: "R1", Charge: 0.01, Series: shop.OwnSet, Holes: shop.WovenWire, Photo: photo, Pan: 0,
			Sieves: []shop.OnSieve{{Opening: 2e-3 * scale, Mass: 0}, {Opening: 1e-3 * scale, Mass: 0.005}, {Opening: 0.5e-3 * scale, Mass: 0.005}}}
	}
	photo := func(shape float64) *shop.Photographed {
		return &shop.Photographed{Pictures: 1, Grains: 500, Effective: 400, Largest: 0.01, Shape: shape, Spread: 0.1, Seen: 1e-4}
	}
	lot := &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 1, Halogen: shop.No}
	for _, c := range []struct {
		shape, scale float64
		want         float64
		ok           bool
	}{{0.8, 1, 0.8, true}, {0.8, 1.5, 1.2, true}, {0.8, 1.63, 0, false}, {0.8, 0.63, 0.504, true}, {0.8, 0.62, 0, false}} {
		s := shoptest.Bin(t, lot, analysis(photo(c.shape), 1), analysis(nil, c.scale))
		got, ok := sievedOverPhotographed(s, "R1")
		if ok != c.ok || ok && math.Abs(got/c.want-1) > 1e-6 {
			t.Errorf("%+v: %g, %t", c, got, ok)
		}
	}
	for name, more := range map[string][]shop.Body{"sieved only": {analysis(nil, 1)}, "pictured only": {analysis(photo(0.8), 1)}, "neither": nil} {
		if _, ok := sievedOverPhotographed(shoptest.Bin(t, append([]shop.Body{lot}, more...)...), "R1"); ok {
			t.Errorf("%s teaches", name)
		}
	}
	// The newest of each kind counts.
	s := shoptest.Bin(t, lot, analysis(nil, 0.7), analysis(photo(0.7), 1), analysis(nil, 1), analysis(photo(0.8), 1))
	if got, ok := sievedOverPhotographed(s, "R1"); !ok || math.Abs(got-0.8) > 1e-6 {
		t.Errorf("of the newest pair %g, %t", got, ok)
	}
}

// The errors of drawing fall at least as the root of the number: 1200 grains spread evenly over 1 to 2 mm leave about
// half or less of what 300 leave, and grains of one size leave nothing.
func TestWhatAnotherSpoonfulWouldShow(t *testing.T) {
	t.Parallel()
	drawn := func(n int, spread float64) float64 {
		all := discs(n, 1e-3)
		for i := range all {
			f := 1 + spread*float64(i*7919%n)/float64(n) // no size lies together
			all[i].Width, all[i].Length, all[i].Area = f*all[i].Width, f*all[i].Length, f*f*all[i].Area
		}
		j := asked(t, Ask{Lot: "R1", Samples: []grain.Sample{of(4e-5, all)}})
		one, err := grain.Sizing(j.heap, grain.Ask{Shape: grain.Shape{Median: 1}, Seed: 13})
		if err != nil {
			t.Fatal(err)
		}
		// From the tenth below to the tenth above are 2.563 standard deviations; 95 of 100 lie within 1.96 of them,
		// and within 5 % with so many times the pictures as the square says.
		left := math.Log(one.D50.High/one.D50.Low) / 2.5631
		if math.Abs(j.sampled()-left) > 1e-4*left {
			t.Errorf("%d grains leave %g open, wanted %g", n, j.sampled(), left)
		}
		for pictures := range 3 {
			j.ask.Pictures = make([]*grain.Measured, pictures)
			want := max(1, math.Ceil(max(1, float64(pictures))*(math.Pow(1.96*left/0.05, 2)-1)))
			if got := j.morePictures(); float64(got) != want {
				t.Errorf("%d grains in %d pictures want %d more, not %g", n, pictures, got, want)
			}
		}
		return j.sampled()
	}
	if one := drawn(300, 0); one > 1e-9 {
		t.Errorf("grains of one size leave %g open", one)
	}
	few, many := drawn(300, 1), drawn(1200, 1)
	if few < 0.01 || few > 0.05 || many <= 0 || many > 0.6*few {
		t.Errorf("300 grains leave %g open, 1200 %g", few, many)
	}
}

// Of sieves whose holes are wider than every grain the finest alone is told, but for the one that speaks of a
// torn screen; a shape that was learned is no more one of books.
func TestSievesToldOf(t *testing.T) {
	t.Parallel()
	of := func(screen float64) []float64 {
		j := asked(t, Ask{Lot: "R1", Samples: []grain.Sample{of(1e-5, discs(50, 3.5e-3))}}) // 2.8 mm at a shape of 0.8
		stack := &shop.Sieved{Lot: "R1", Charge: 0.1, Series: shop.OwnSet, Holes: shop.WovenWire, Pan: 0.01, Sieves: []shop.OnSieve{
			{Opening: 8e-3}, {Opening: 6e-3}, {Opening: 4e-3}, {Opening: 2e-3, Mass: 0.09}, {Opening: 1e-3}, {Opening: 0.5e-3}}}
		var err error
		if j.state, err = j.state.Admit(shoptest.Noon, shop.Record{At: shoptest.Noon, Body: stack}); err != nil {
			t.Fatal(err)
		}
		j.screen = screen
		j.sieves()
		return j.holes
	}
	if got := of(0); !slices.Equal(got, []float64{4e-3, 2e-3, 1e-3, 0.5e-3}) {
		t.Errorf("told of %v", got)
	}
	if got, torn := of(8e-3), 8e-3*sieve.CoarseRatio; len(got) != 7 || math.Abs(got[0]-torn) > 1e-12 {
		t.Errorf("with a screen of 8 mm told of %v, wanted %g first", got, torn)
	}
	for learned, want := range map[int]figure.Basis{0: figure.Books, 1: figure.Learned} {
		j := asked(t, Ask{Lot: "R1", Samples: []grain.Sample{{Spreads: []*grain.Spread{{W: 0.16, H: 0.12, Pixel: 1e-5, Grains: discs(50, 3e-3)}}}}})
		j.learned = learned
		j.figures()
		if got := j.doc.Figures[0].Inputs[0]; got.Key != "shape" || got.Basis != want {
			t.Errorf("learned from %d: %s of %v", learned, got.Key, got.Basis)
		}
	}
}

// How much to spread where nobody measured: balls of 1 mm at the middle, 1.6 wide, of PLA of 1240 kg/m³, by the
// moments of the log-normal law, a tenth of the paper covered.
func TestHowMuchToSpread(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 1, Halogen: shop.No})
	n, err := grain.GrainsNeeded(1.6, 0.5, 0.05)
	if err != nil {
		t.Fatal(err)
	}
	says, err := Needed(s, "R1", grain.Sheet{W: 0.16, H: 0.12})
	if err != nil {
		t.Fatal(err)
	}
	l2 := math.Pow(math.Log(1.6), 2)
	mass, _ := says.Fact("mass")
	if want := n * math.Pi / 6 * 1e-9 * math.Exp(-4.5*l2) * 1240; math.Abs(mass.Value-want) > 0.01*want {
		t.Errorf("spread %g kg, wanted %g", mass.Value, want)
	}
	sheets, _ := says.Fact("n")
	if want := math.Ceil(n * math.Pi / 4 * 1e-6 * math.Exp(-4*l2) / 0.1 / (0.16 * 0.12)); sheets.Value != want {
		t.Errorf("on %g sheets, wanted %g", sheets.Value, want)
	}
	if grains, _ := says.Fact("grains"); math.Abs(grains.Value-n) > 1e-9*n {
		t.Errorf("%g grains, wanted %g", grains.Value, n)
	}
}
