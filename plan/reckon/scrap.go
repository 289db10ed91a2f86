package reckon

// What a heap of unsorted scrap becomes when it is ground, melted and printed,
// and what leaving a colour out would win.

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/process/colour"
	"hopperful/quantity"
)

// The words of how well the shares are known, and the pieces they count as.
const (
	lookedAt  = "a look"
	counted   = "counted"
	weighed   = "weighed"
	heapDraws = 400
	mostTold  = 5 // parts, names and remedies told one by one
)

var countedAs = map[string]float64{lookedAt: 10, counted: 100, weighed: 1e4}

// within is how far a colour may be off.
func within() Input { return number("within", quantity.Number, 5, 1, 50) }

var colourTopics = []Topic{
	{Key: "scrap-colour", Model: "colour",
		Inputs: []Input{
			{Key: "colours", Name: "given.colours", Form: Colours, Word: "#1c1c1c 40, #f2f2ee 30, #c0402a 30"},
			{Key: "lot", Name: "given.lot", Form: LotList, Optional: "given.colours_above"},
			word("looked", lookedAt, counted, weighed),
			code("wanted", "", "given.lighter_better"),
			within(),
		}, reckon: reckonScrap},
	concentrateTopic,
}

// heapPart is one colour of a heap.
type heapPart struct {
	name   string // a code, or a lot
	curve  colour.Curve
	look   colour.Look
	share  float64
	lifted bool // darker or whiter than a photo can tell
	// How strongly it tints, and the standard deviation of its logarithm.
	strength, doubt float64
}

// body is how it absorbs and scatters, so many times as strongly as believed.
func (p heapPart) body(times float64) (colour.Body, error) {
	return colour.BodyOf(p.curve, min(1e3, max(1e-3, p.strength*times)), colour.PhotoSurface())
}

// heapOf turns parts into what the process reckons with.
func heapOf(parts []heapPart, counted float64, draws int) colour.Heap {
	h := colour.Heap{Surface: colour.PhotoSurface(), Counted: counted, Draws: draws}
	whole := 0.0
	for _, p := range parts {
		whole += p.share
	}
	for _, p := range parts {
		h.Parts = append(h.Parts, colour.Scrap{Colour: p.curve, Scatter: p.strength, Share: p.share / whole, Doubt: min(2, p.doubt)})
	}
	return h
}

func reckonScrap(r *reckoning) error {
	parts, err := r.parts()
	if err != nil {
		return err
	}
	known := countedAs[r.out.Words["looked"]]
	out, err := colour.Forecast(heapOf(parts, known, heapDraws), rand.New(rand.NewPCG(36, 1)))
	if err != nil {
		return err
	}
	melted, err := r.swatch("melted", fact.Say("swatch.melted"), out.Mixed.Curve, 0)
	if err != nil {
		return err
	}
	streaks, err := r.swatch("streaks", fact.Say("swatch.streaks"), out.Unmixed.Curve, 0)
	if err != nil {
		return err
	}
	r.band("lightness", out.Lightness)
	r.band("chroma", out.Chroma)
	r.add("lightness_streaks", quantity.Number, out.Unmixed.Lab.L)
	r.add("apart", quantity.Number, out.Apart).Cite("Sharma2005", "CIEDE2000")
	r.add("spread", quantity.Number, out.Spread).Cite("Sharma2005", "CIEDE2000")
	for _, n := range out.Names[:min(mostTold, len(out.Names))] {
		r.add(strings.Replace(fact.TermCode("chance", n.Name), ".", "_", 1), quantity.Share, n.Share).about("chance", fact.TermCode("shade", n.Name))
	}
	advice, worst, err := r.leftOut(parts, known)
	if err != nil {
		return err
	}
	if err := r.bears(parts); err != nil {
		return err
	}
	r.answer(fact.Say("reckon.heap", melted.fact("melted"), fact.Parts("called", calledIn(melted, out.Names)), streaks.fact("streaks"), fact.Parts("advice", advice)))
	r.heapNotes(parts)
	return r.shareChart(parts, worst)
}

// calledIn says how often it is called so.
func calledIn(melted Swatch, names []colour.NamedShare) fact.Saying {
	cases := fact.Count("n", round(math.Max(1, 10*names[0].Share)))
	if melted.Word == names[0].Name {
		return fact.Say("reckon.called_that", cases)
	}
	return fact.Say("reckon.called", cases, fact.Term("shade", "shade", names[0].Name))
}

// band adds a number known by its draws.
func (r *reckoning) band(key string, b colour.Band) {
	f := r.add(key, quantity.Number, b.Median).Cite("KubelkaMunk1931", "")
	f.Low, f.High = b.Low, b.High
}

// win is what leaving a part out does.
type win struct {
	part  int
	far   []float64 // lightness, or distance from the wanted colour, of the drawn heaps
	gains float64
	curve colour.Curve
}

// leftOut tells what the rest becomes without each part, the most won first, what
// to leave out, and which part is the first of that.
func (r *reckoning) leftOut(parts []heapPart, known float64) (advice fact.Saying, worst int, err error) {
	if len(parts) < 2 {
		return advice, 0, nil
	}
	goal, err := r.goal()
	if err != nil {
		return advice, 0, err
	}
	now, _, err := goal.of(parts, known)
	if err != nil {
		return advice, 0, err
	}
	var wins []win
	for i := range parts {
		rest := slices.Delete(slices.Clone(parts), i, i+1)
		w := win{part: i}
		if w.far, w.curve, err = goal.of(rest, known); err != nil {
			return advice, 0, err
		}
		w.gains = goal.sign * (answer.Quantile(w.far, 0.5) - answer.Quantile(now, 0.5))
		wins = append(wins, w)
	}
	steps, err := goal.steps(parts, known)
	if err != nil {
		return advice, 0, err
	}
	slices.SortStableFunc(wins, func(a, b win) int { return cmp.Compare(b.gains, a.gains) })
	r.goalNow(goal, now)
	for i, w := range wins[:min(mostTold, len(wins))] {
		p := parts[w.part]
		key := fmt.Sprintf("without_%d", i+1)
		if _, err := r.swatch(key, fact.Say("swatch.without", fact.Name("names", p.name)), w.curve, 1-p.share); err != nil {
			return advice, 0, err
		}
		r.drawn(key, quantity.Number, w.far).about(goal.without, p.name)
	}
	r.stepChart(goal, now, steps)
	worst = slices.IndexFunc(parts, func(p heapPart) bool { return p.name == steps[0].names[0] })
	advice, err = r.advise(goal, now, steps)
	return advice, worst, err
}

// goal is what counts as better.
type goal struct {
	axis, without, rest string      // codes: what it is, and of the parts left out
	wanted              *colour.Lab // nil: the lighter the better
	sign                float64     // −1 where less is better
}

func (r *reckoning) goal() (goal, error) {
	code, ok := r.out.Words["wanted"]
	if !ok {
		return goal{axis: "axis.lightness", without: "light_without", rest: "light_rest", sign: 1}, nil
	}
	rgb, err := colour.ParseHex(code)
	if err != nil {
		return goal{}, err
	}
	c, _, err := colour.FromPhoto(rgb)
	if err != nil {
		return goal{}, err
	}
	if _, err := r.swatch("wanted", fact.Say("swatch.wanted"), c, 0); err != nil {
		return goal{}, err
	}
	lab, err := colour.LabOf(c, colour.TwoDegrees)
	return goal{"axis.from_wanted", "far_without", "far_rest", &lab, -1}, err
}

// of draws heaps of these parts and tells how they stand; the curve is that of
// the heap as estimated.
func (g goal) of(parts []heapPart, known float64) ([]float64, colour.Curve, error) {
	h := heapOf(parts, known, heapDraws/2)
	labs, err := colour.DrawLabs(h, rand.New(rand.NewPCG(36, 2)))
	if err != nil {
		return nil, colour.Curve{}, err
	}
	far := make([]float64, len(labs))
	for i, lab := range labs {
		far[i] = lab.L
		if g.wanted != nil {
			if far[i], err = colour.Difference(*g.wanted, lab); err != nil {
				return nil, colour.Curve{}, err
			}
		}
	}
	c, err := meltOf(h)
	return far, c, err
}

// meltOf is a heap as estimated, melted into one.
func meltOf(h colour.Heap) (colour.Curve, error) {
	var bodies []colour.Body
	var shares []float64
	for _, p := range h.Parts {
		b, err := colour.BodyOf(p.Colour, p.Scatter, h.Surface)
		if err != nil {
			return colour.Curve{}, err
		}
		bodies, shares = append(bodies, b), append(shares, p.Share)
	}
	return colour.Mixed(bodies, shares, h.Surface)
}

// goalNow tells how far the whole heap is from the wanted colour, where there is
// one.
func (r *reckoning) goalNow(g goal, now []float64) {
	if g.wanted != nil {
		r.drawn("from_wanted", quantity.Number, now).Cite("Sharma2005", "CIEDE2000")
	}
}

// bears tells how much of each other colour the lightest one bears.
func (r *reckoning) bears(parts []heapPart) error {
	if len(parts) < 2 {
		return nil
	}
	light := slices.MaxFunc(parts, func(a, b heapPart) int { return cmp.Compare(a.look.Lab.L, b.look.Lab.L) })
	base, err := light.body(1)
	if err != nil {
		return err
	}
	others := slices.DeleteFunc(slices.Clone(parts), func(p heapPart) bool { return p.name == light.name })
	slices.SortStableFunc(others, func(a, b heapPart) int { return cmp.Compare(a.look.Lab.L, b.look.Lab.L) })
	for i, p := range others[:min(mostTold, len(others))] {
		var most [3]float64
		strength := math.Exp(answer.Ninety * math.Hypot(p.doubt, light.doubt))
		for k, s := range []float64{strength, 1, 1 / strength} {
			stray, err := p.body(s)
			if err != nil {
				return err
			}
			if most[k], err = colour.MostStray(base, stray, r.num("within"), colour.PhotoSurface()); err != nil {
				return err
			}
		}
		f := r.add(fmt.Sprintf("bears_%d", i+1), quantity.Share, most[1], "within").about("bears", p.name)
		f.Low, f.High = most[0], most[2]
	}
	return nil
}

// heapNotes say what the numbers leave out.
func (r *reckoning) heapNotes(parts []heapPart) {
	r.note(fact.Say("reckon.mixes_badly"))
	r.note(fact.Say("reckon.colours_off"))
	if slices.ContainsFunc(parts, func(p heapPart) bool { return p.lifted }) {
		r.note(fact.Say("reckon.how_black"))
	}
	r.note(fact.Say("reckon.opaque"))
	for _, s := range r.learned {
		r.note(s)
	}
}
