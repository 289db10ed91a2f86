package grains

import (
	"math"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/process/grain"
	"hopperful/quantity"
)

// ranged makes a figure of a range.
func ranged(key, name string, kind quantity.Kind, r grain.Range) figure.Figure {
	return figure.Figure{Key: key, Name: name, Kind: kind, Value: r.Value, Low: r.Low, High: r.High, Basis: figure.Reckoned}
}

// figures are the handful a person acts on.
func (j *job) figures() {
	shape := figure.Figure{Key: "shape", Name: "grains.shape", Kind: quantity.Number, Value: j.shape.Median,
		Low: j.shape.Median * math.Exp(-z90*j.shape.Spread), High: j.shape.Median * math.Exp(z90*j.shape.Spread), Basis: figure.Books}
	if j.learned > 0 {
		shape.Basis = figure.Learned
	}
	shape = shape.Cite("Mora1998", "0.7 to 0.9 for crushed stone, from memory")
	size := func(key, name string, r grain.Range) {
		j.doc.Figures = append(j.doc.Figures, ranged(key, name, quantity.Length, r).From("D = C·b, Q = Σ m [D < x] / Σ m", shape))
	}
	size("d50", "grains.d50", j.sizes.D50)
	size("d10", "grains.d10", j.sizes.D10)
	if j.sizes.D90Told {
		size("d90", "grains.d90", j.sizes.D90)
	}
	if q, ok := j.finer(answer.FinesLimit); ok {
		j.doc.Figures = append(j.doc.Figures, ranged("fines", "grains.fines", quantity.Share, q).From("Q = Σ m [D < x] / Σ m", shape))
	}
	size("largest", "grains.largest", j.sizes.Largest)
	mass := figure.Exact("mass", "grains.mass_reckoned", quantity.Mass, j.heap.Mass+j.ask.Unseen, figure.Reckoned).From("m = ½·ρ·A·min(b, t)", j.density)
	for _, s := range j.ask.Samples {
		if s.Mass > 0 || s.Of > 0 {
			mass.Name, mass.Basis, mass.How, mass.Inputs = "grains.mass", figure.Measured, "", nil
		}
	}
	if mass.Basis == figure.Reckoned {
		mass.Low, mass.High = 0.5*mass.Value, 1.6*mass.Value // how thick grains are that nobody weighed; judgement
	}
	j.doc.Figures = append(j.doc.Figures, mass)
}

// finer is the share finer than a hole, where the pictures resolve it.
func (j *job) finer(hole float64) (grain.Range, bool) {
	if hole < j.seen && j.ask.Unseen == 0 {
		return grain.Range{}, false
	}
	one, err := grain.Sizing(j.heap, grain.Ask{Shape: j.shape, Sieves: []float64{hole}, Unseen: j.ask.Unseen, UnseenBelow: j.ask.UnseenBelow, Seed: 13})
	if err != nil {
		return grain.Range{}, false
	}
	return one.Passing[0], true
}

// spoilers are what could spoil it, the worst first.
func (j *job) spoilers() {
	add := func(weight float64, s fact.Saying, remedies ...fact.Saying) {
		f := answer.Found(s, remedies...)
		f.Weight = weight
		j.doc.Spoilers = append(j.doc.Spoilers, f)
	}
	classes := fact.Say("grains.sieve_into_classes")
	if !j.sizes.D90Told {
		add(0.8, fact.Say("grains.one_rules", fact.Set("share", quantity.Share, j.sizes.LargestShare)), classes)
	}
	for _, m := range j.ask.Pictures {
		switch {
		case m.Cover > grain.MuchCover:
			add(0.7, fact.Say("grains.much_cover", fact.About("cover", quantity.Share, m.Cover)), fact.Say("grains.spread_thinner"))
		case m.PerGrain < grain.GoodPixels:
			add(0.6, fact.Say("grains.few_pixels", fact.About("pixels", quantity.Number, m.PerGrain)), fact.Say("grains.come_closer"))
		case m.Blur/(m.PerGrain*m.Pixel) > grain.MuchBlur:
			add(0.5, fact.Say("grains.soft_edges"), fact.Say("grains.hold_still"))
		}
		if m.Standing.Card {
			add(0.3, fact.Say("grains.by_card"), fact.Say("grains.print_the_sheet"))
		}
	}
	if t := j.heap.Thickness; t > 0 && t < 0.3 {
		add(0.5, fact.Say("grains.many_flakes", fact.About("thickness", quantity.Share, t)))
	} else if t > 1 {
		add(0.75, fact.Say("grains.fines_unseen", fact.About("thickness", quantity.Share, t)), classes)
	}
	if _, told := j.finer(answer.FinesLimit); !told {
		add(0.4, fact.Say("grains.dust_unseen", fact.About("seen", quantity.Length, j.seen)), fact.Say("grains.weigh_the_dust"))
	}
	if z95*j.sampled() > goodRange {
		add(0.45, fact.Say("grains.wide_range"), fact.Say("grains.take_more", fact.Count("n", j.morePictures())), classes)
	}
	if !j.ask.Ruled && len(j.ask.Pictures) > 0 && !j.ask.Pictures[0].Standing.Card {
		add(0.2, fact.Say("grains.not_ruled"), fact.Say("grains.measure_the_line"))
	}
	sortFindings(j.doc.Spoilers)
	j.doc.Spoilers = j.doc.Spoilers[:min(len(j.doc.Spoilers), answer.MostSpoilers)]
}

// sampled is one standard deviation of the logarithm of d50 that drawing another
// spoonful would show, the shape aside.
func (j *job) sampled() float64 {
	one, err := grain.Sizing(j.heap, grain.Ask{Shape: grain.Shape{Median: 1}, Unseen: j.ask.Unseen, UnseenBelow: j.ask.UnseenBelow, Seed: 13})
	if err != nil || one.D50.Low <= 0 {
		return 0
	}
	return math.Log(one.D50.High/one.D50.Low) / (2 * z90)
}

const (
	z90 = 1.2816 // of the normal law: a tenth lies above
	z95 = 1.9600 // 2.5 % do
)

// morePictures is how many more like these bring d50 within 5 % 95 times of 100,
// what the shape leaves open aside: errors fall as the root of the number.
func (j *job) morePictures() int {
	times := math.Pow(z95*j.sampled()/wanted, 2)
	return max(1, int(math.Ceil(math.Max(1, float64(len(j.ask.Pictures)))*(times-1))))
}

func sortFindings(all []answer.Finding) {
	for i := range all { // few
		for k := i; k > 0 && all[k].Weight > all[k-1].Weight; k-- {
			all[k], all[k-1] = all[k-1], all[k]
		}
	}
}

// table is the curve sieve by sieve.
func (j *job) table() {
	t := answer.Table{Key: "grains", Leads: true, Columns: []answer.Column{{Key: "sieve_hole"}, {Key: "passes", Numbers: true}, {Key: "passes_low", Numbers: true}, {Key: "passes_high", Numbers: true}}}
	for i, hole := range j.holes {
		q := j.sizes.Passing[i]
		share := func(name string, v float64) fact.Fact { return fact.About(name, quantity.Share, v) }
		t.Rows = append(t.Rows, []fact.Fact{fact.Set("sieve", quantity.Length, hole), share("passes", q.Value), share("low", q.Low), share("high", q.High)})
	}
	t.Notes = append(t.Notes, fact.Say("grains.seen_from", fact.About("seen", quantity.Length, j.seen)))
	j.doc.Tables = append(j.doc.Tables, t)
}

// chart draws the curve, and the newest sieve stack of the lot beside it.
func (j *job) chart() {
	d50, _ := j.figure("d50")
	c := answer.Chart{Key: "passing", Title: "grains.chart", Summary: "grains.chart_summary", XName: "grains.chart_x", YName: "grains.chart_y",
		XKind: quantity.Length, YKind: quantity.Share, XUnit: quantity.Length.SI(), YUnit: quantity.Share.SI(), LogX: true, Facts: []fact.Fact{fact.Figure("d50", d50)}}
	here := answer.Curve{Key: "measured", Name: "grains.photographed"}
	for i := len(j.holes) - 1; i >= 0; i-- {
		q := j.sizes.Passing[i]
		here.X, here.Low, here.Mid, here.High = append(here.X, j.holes[i]), append(here.Low, q.Low), append(here.Mid, q.Value), append(here.High, q.High)
	}
	c.Curves = append(c.Curves, here)
	for _, e := range j.state.Sievings(j.ask.Lot) {
		if e.Body.Photo != nil {
			continue
		}
		masses, pan := e.Body.Net()
		total := pan
		for _, m := range masses {
			total += m
		}
		other := answer.Curve{Key: "sieved", Name: "grains.sieved"}
		finer := pan
		for i := len(masses) - 1; i >= 0; i-- {
			q := finer / total
			other.X, other.Low, other.Mid, other.High = append(other.X, e.Body.Sieves[i].Opening), append(other.Low, q), append(other.Mid, q), append(other.High, q)
			finer += masses[i]
		}
		c.Curves = append(c.Curves, other)
		break
	}
	j.doc.Charts = append(j.doc.Charts, c)
}

// reasons are the numbers behind it.
func (j *job) reasons() {
	s := answer.Section{Key: "grains"}
	exact := func(key, name string, kind quantity.Kind, v float64) {
		s.Figures = append(s.Figures, figure.Exact(key, name, kind, v, figure.Reckoned))
	}
	long, flat, all := 0.0, 0.0, 0.0
	var aspects, weights []float64
	for _, g := range j.heap.Grains {
		one := j.ask.Samples[g.Of.Sample].Spreads[g.Of.Picture].Grains[g.Of.Grain]
		all += g.Mass
		if one.Length > threadShape*one.Width {
			long += g.Mass
		}
		if g.Flat {
			flat += g.Mass
		}
		aspects, weights = append(aspects, one.Width/math.Max(one.Length, one.Width)), append(weights, g.Mass)
	}
	exact("grains", "grains.count", quantity.Count, float64(len(j.heap.Grains)))
	exact("effective", "grains.effective", quantity.Count, math.Round(j.sizes.Effective))
	exact("largest_share", "grains.largest_share", quantity.Share, j.sizes.LargestShare)
	exact("aspect", "grains.aspect", quantity.Number, weightedMiddle(aspects, weights))
	exact("threads", "grains.threads", quantity.Share, long/all)
	if j.wall != nil {
		exact("flakes", "grains.flakes", quantity.Share, flat/all)
		s.Figures = append(s.Figures, *j.wall)
	}
	if j.heap.Thickness > 0 {
		exact("thickness", "grains.thickness", quantity.Number, j.heap.Thickness)
	}
	cover, touching := 0.0, 0
	for _, m := range j.ask.Pictures {
		cover, touching = math.Max(cover, m.Cover), touching+m.Touching
	}
	exact("cover", "grains.cover", quantity.Share, cover)
	exact("touching", "grains.touching", quantity.Count, float64(touching))
	s.Figures = append(s.Figures, j.density)
	if j.learned > 0 {
		s.Notes = append(s.Notes, fact.Say("grains.shape_learned", fact.Count("n", j.learned)))
	} else {
		s.Notes = append(s.Notes, fact.Say("grains.shape_from_books"))
	}
	j.doc.Reasons = append(j.doc.Reasons, s)
}

// weightedMiddle is the median by weight.
func weightedMiddle(v, w []float64) float64 {
	all := make([]grain.Weighed, len(v))
	sum, half := 0.0, 0.0
	for i := range v {
		all[i] = grain.Weighed{Width: v[i], Mass: w[i]}
		sum += w[i]
	}
	for _, g := range byWidth(all) {
		if half += g.Mass; 2*half >= sum {
			return g.Width
		}
	}
	return 0
}
