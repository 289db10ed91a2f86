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
func within(name string) Input {
	return number("within", name, quantity.Number, 5, 1, 50)
}

var colourTopics = []Topic{
	{Key: "scrap-colour", Title: "The colour of unsorted scrap", Question: "What colour does this heap become, and what had better stay out?", Model: "colour",
		Inputs: []Input{
			{Key: "colours", Name: "colours with their shares", Form: Colours, Word: "#1c1c1c 40, #f2f2ee 30, #c0402a 30"},
			{Key: "lot", Name: "or lots of the shop", Form: LotList, Optional: "the colours above"},
			{Key: "looked", Name: "how the shares are known", Word: lookedAt, Choices: []string{lookedAt, counted, weighed}},
			{Key: "wanted", Name: "colour wanted", Form: Code, Optional: "the lighter the better"},
			within("colour difference that may be seen, ΔE00"),
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
	melted, err := r.swatch("melted", "melted into one", out.Mixed.Curve, 0)
	if err != nil {
		return err
	}
	streaks, err := r.swatch("streaks", "side by side, as granules or streaks", out.Unmixed.Curve, 0)
	if err != nil {
		return err
	}
	r.band("lightness", "lightness L*, melted into one", out.Lightness)
	r.band("chroma", "chroma C*, melted into one", out.Chroma)
	r.add("lightness_streaks", "lightness L*, side by side", quantity.Number, out.Unmixed.Lab.L, "mean of the light each part sends back")
	r.add("apart", "colour difference between the two ends", quantity.Number, out.Apart, "ΔE00 of melted into one and side by side").Cite("Sharma2005", "CIEDE2000")
	r.add("spread", "colour difference nine of ten such heaps stay within", quantity.Number, out.Spread, "ΔE00 of the drawn heaps from the one as estimated").Cite("Sharma2005", "CIEDE2000")
	for _, n := range out.Names[:min(mostTold, len(out.Names))] {
		r.add("chance_"+strings.NewReplacer(" ", "_", "-", "_").Replace(n.Name), "chance that it is called "+n.Name, quantity.Share, n.Share, "share of the drawn heaps with that name")
	}
	advice, worst, err := r.leftOut(parts, known)
	if err != nil {
		return err
	}
	if err := r.bears(parts); err != nil {
		return err
	}
	r.answer("Melted into one it becomes %s, %s; side by side it looks %s.%s", melted.Shown(), calledIn(melted, out.Names), streaks.Shown(), advice)
	r.heapNotes(parts)
	return r.shareChart(parts, worst)
}

// calledIn says how often it is called so.
func calledIn(melted Swatch, names []colour.NamedShare) string {
	word := names[0].Name
	if melted.Word == word {
		word = "that"
	}
	return fmt.Sprintf("called %s in about %.0f of 10 cases", word, math.Max(1, math.Round(10*names[0].Share)))
}

// band adds a number known by its draws.
func (r *reckoning) band(key, name string, b colour.Band) {
	f := r.add(key, name, quantity.Number, b.Median, "shares drawn as they are known, scattering as it is doubted, each heap mixed by Kubelka and Munk").Cite("KubelkaMunk1931", "")
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
func (r *reckoning) leftOut(parts []heapPart, known float64) (advice string, worst int, err error) {
	if len(parts) < 2 {
		return "", 0, nil
	}
	goal, err := r.goal()
	if err != nil {
		return "", 0, err
	}
	now, _, err := goal.of(parts, known)
	if err != nil {
		return "", 0, err
	}
	var wins []win
	for i := range parts {
		rest := slices.Delete(slices.Clone(parts), i, i+1)
		w := win{part: i}
		if w.far, w.curve, err = goal.of(rest, known); err != nil {
			return "", 0, err
		}
		w.gains = goal.sign * (answer.Quantile(w.far, 0.5) - answer.Quantile(now, 0.5))
		wins = append(wins, w)
	}
	steps, err := goal.steps(parts, known)
	if err != nil {
		return "", 0, err
	}
	slices.SortStableFunc(wins, func(a, b win) int { return cmp.Compare(b.gains, a.gains) })
	r.goalNow(goal, now)
	for i, w := range wins[:min(mostTold, len(wins))] {
		p := parts[w.part]
		if _, err := r.swatch(fmt.Sprintf("without_%d", i+1), "without "+p.name, w.curve, 1-p.share); err != nil {
			return "", 0, err
		}
		r.drawn(fmt.Sprintf("without_%d", i+1), goal.name+" without "+p.name, quantity.Number, w.far, "the rest, its shares scaled up; "+quantity.Share.Rough(p.share)+" of the heap left out")
	}
	r.stepChart(goal, now, steps)
	worst = slices.IndexFunc(parts, func(p heapPart) bool { return p.name == steps[0].names[0] })
	advice, err = r.advise(goal, now, steps)
	return advice, worst, err
}

// goal is what counts as better.
type goal struct {
	name   string
	wanted *colour.Lab // nil: the lighter the better
	sign   float64     // −1 where less is better
}

func (r *reckoning) goal() (goal, error) {
	code, ok := r.out.Words["wanted"]
	if !ok {
		return goal{name: "lightness L*", sign: 1}, nil
	}
	rgb, err := colour.ParseHex(code)
	if err != nil {
		return goal{}, err
	}
	c, _, err := colour.FromPhoto(rgb)
	if err != nil {
		return goal{}, err
	}
	if _, err := r.swatch("wanted", "wanted", c, 0); err != nil {
		return goal{}, err
	}
	lab, err := colour.LabOf(c, colour.TwoDegrees)
	return goal{"colour difference from " + code, &lab, -1}, err
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
		r.drawn("from_wanted", "colour difference from the wanted colour, all of it", quantity.Number, now, "ΔE00 of the drawn heaps from it").Cite("Sharma2005", "CIEDE2000")
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
		f := r.add(fmt.Sprintf("bears_%d", i+1), fmt.Sprintf("of %s that %s bears", p.name, light.name), quantity.Share, most[1],
			"largest share within the colour difference, melted into one; the range is the doubt of how strongly it tints", "within")
		f.Low, f.High = most[0], most[2]
	}
	return nil
}

// heapNotes say what the numbers leave out.
func (r *reckoning) heapNotes(parts []heapPart) {
	r.note("A small screw mixes badly, so a print lies between the two ends, with streaks.")
	r.note("How far the colours themselves are off is not in the ranges; one from a photo is off by 5 to 10 in the colour difference through its light alone.")
	if slices.ContainsFunc(parts, func(p heapPart) bool { return p.lifted }) {
		r.note("A photo cannot tell how black black is, or how white white; in a mix that decides how much it counts.")
	}
	r.note("Reckoned for opaque plastic. Clear, glittering and glow-in-the-dark pieces do something else.")
	for _, text := range r.learned {
		r.note("%s", text)
	}
}
