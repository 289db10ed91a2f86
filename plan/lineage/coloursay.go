package lineage

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/process/colour"
	"hopperful/quantity"
	"hopperful/shop"
)

// compare holds the colour taken of a lot against the one its parents forecast.
func (w *Tinter) compare(c *LotColour, lot *shop.Lot, t Tints) error {
	if lot.Taken == nil {
		return nil
	}
	own := w.own[lot.ID]
	shade, err := ShadeOf(own.curve)
	if err != nil {
		return err
	}
	c.Seen = &SeenColour{Shade: shade, How: lot.Taken.How, Melted: !own.grains(), Record: lot.TakenBy, Errs: own.errs()}
	if t.forecast == nil {
		return nil
	}
	forecast, err := ShadeOf(*t.forecast)
	if err != nil {
		return err
	}
	far, err := apartOf(own.curve, *t.forecast)
	if err != nil {
		return err
	}
	off := figure.Exact("colour_off", "colour difference between seen and forecast", quantity.Number, far, figure.Reckoned).From("CIEDE2000").Cite("Sharma2005", "")
	c.Forecast, c.Off = &forecast, &off
	d, _, err := w.drawn(t.from, map[shop.LotID]float64{}, w.bodyOfParts(t.from), []colour.Curve{t.Unmixed}, []float64{1})
	if err != nil {
		return err
	}
	doubt, err := d.Doubt()
	if err != nil {
		return err
	}
	near, streaky, err := nearest(own.curve, *t.forecast, t.Unmixed)
	if err != nil {
		return err
	}
	if bound := math.Hypot(doubt.High, surely*own.errs()); near > bound {
		c.Doubts = append(c.Doubts, answer.Found(fact.Say("colour.strange", answer.Lot("lot", lot), fact.Name("seen", shade.RGB), fact.Name("as", shade.Name), fact.About("far", quantity.Number, far),
			fact.Name("forecast", forecast.RGB), fact.About("bound", quantity.Number, bound)), fact.Say("colour.take_again")))
	}
	if streaky && !own.grains() && far > surely*own.errs() {
		c.Notes = append(c.Notes, "What was seen is nearer to the parts side by side than to a melt: the screw may have mixed it badly.")
	}
	return nil
}

// surely is beyond how many of its usual errors a colour is no longer put down
// to them. Judgement.
const surely = 1.5

// bodyOfParts is the melt of lots of known colour.
func (w *Tinter) bodyOfParts(parts []tintPart) colour.Body {
	var sum colour.Body
	for _, p := range parts {
		body := w.known[p.lot].Body
		for b := range sum.K {
			sum.K[b] += p.share * body.K[b]
			sum.S[b] += p.share * body.S[b]
		}
	}
	return sum
}

// nearest is the least colour difference of a curve from anything between two
// ends, and whether the second is the nearer one.
func nearest(seen, mixed, unmixed colour.Curve) (least float64, second bool, err error) {
	least = math.Inf(1)
	const steps = 10
	for i := range steps + 1 {
		mid, part := mixed, float64(i)/steps
		for b := range mid {
			mid[b] += part * (unmixed[b] - mixed[b])
		}
		far, err := apartOf(seen, mid)
		if err != nil {
			return 0, false, err
		}
		if far < least {
			least, second = far, part > 0.5
		}
	}
	return least, second, nil
}

// tellParts lists the lots whose colours stand behind it, and what was learned of
// each.
func (w *Tinter) tellParts(c *LotColour, t Tints) error {
	parts := t.from
	if len(parts) == 0 {
		parts = t.parts
	}
	for _, p := range parts {
		own, lot := w.own[p.lot], w.s.Lots[p.lot]
		shade, err := ShadeOf(own.curve)
		if err != nil {
			return err
		}
		c.Parts = append(c.Parts, ColourPart{Lot: p.lot, Name: lot.Name, Share: min(1, p.share), Shade: shade, Basis: own.basis, Scatter: w.scatterFigure(lot)})
	}
	slices.SortStableFunc(c.Parts, func(a, b ColourPart) int { return cmp.Compare(b.Share, a.Share) })
	for _, p := range c.Parts {
		if p.Scatter.Runs > 0 {
			c.Learned = append(c.Learned, fmt.Sprintf("%s tints %s times as strongly as the shop's middle (%s to %s), by %s.", p.Lot, quantity.Number.Rough(p.Scatter.Value),
				quantity.Number.Rough(p.Scatter.Low), quantity.Number.Rough(p.Scatter.High), photos(p.Scatter.Runs)))
		}
	}
	return nil
}

// photos counts results.
func photos(n int) string {
	if n == 1 {
		return "the colour of one melted mix"
	}
	return fmt.Sprintf("the colours of %d melted mixes", n)
}

// scatterFigure is how strongly a lot scatters, with its range. Of a lot out of
// several the widest doubt counts.
func (w *Tinter) scatterFigure(l *shop.Lot) figure.Figure {
	f := figure.Exact("scattering", "how strongly it scatters light, against the shop's middle", quantity.Number, w.scatter(l), figure.Assumed)
	widest, runs := 0.0, 0
	for _, p := range w.origins(l) {
		sd, n := w.learned.doubt(p.lot)
		widest, runs = max(widest, sd), max(runs, n)
	}
	f.Low, f.High = f.Value*math.Exp(-answer.Ninety*widest), f.Value*math.Exp(answer.Ninety*widest)
	if runs > 0 {
		return f.From("ratios of the scattering that give the colours of melted mixes, all together, with doubt").LearnedFrom(runs)
	}
	return f.From("nobody looked at a melted mix of two lots with it; alike, up to twice or half")
}

// note says what a person should know of the colour.
func (w *Tinter) note(c *LotColour, t Tints) {
	photo, typed, clear := false, false, false
	for _, p := range c.Parts {
		own := w.own[p.Lot]
		photo = photo || own.taken != nil && own.taken.How == shop.CardPhoto
		clear = clear || seeThrough(w.s.Lots[p.Lot].Colour)
		typed = typed || own.taken == nil || own.taken.How == shop.ByEye
	}
	if photo {
		c.Notes = append(c.Notes, "A colour taken from a photo is off by 5 to 10 in the colour difference through its light alone.")
	}
	if typed {
		c.Notes = append(c.Notes, "A code picked by eye is a guess; a photo beside a white card would say more.")
	}
	if clear {
		c.Notes = append(c.Notes, "Clear plastic shows what is behind it; what is said here holds for thick pieces nothing shines through.")
	}
	if t.lifted {
		c.Notes = append(c.Notes, "A photo cannot tell how black the darkest part is; in a mix that decides how much it darkens.")
	}
	if t.grains {
		c.Notes = append(c.Notes, "The colour taken is of grains side by side; melt a little and take that colour to learn how the parts tint.")
	}
	if why, ok := w.learned.unclear[c.Lot]; ok {
		c.Notes = append(c.Notes, why)
	}
}

// seeThrough says that a lot's own word for its colour means none.
func seeThrough(word string) bool {
	word = strings.ToLower(word)
	return strings.Contains(word, "clear") || strings.Contains(word, "transparent")
}

// answer says the colour in a sentence.
func (c *LotColour) answer() {
	switch {
	case c.Basis == ColourUnknown:
		words := make([]string, 0, 4)
		for _, id := range c.Missing[:min(3, len(c.Missing))] {
			words = append(words, string(id))
		}
		if len(c.Missing) > 3 {
			words = append(words, fmt.Sprintf("%d more", len(c.Missing)-3))
		}
		if len(c.Missing) == 1 && c.Missing[0] == c.Lot {
			c.Answer = fmt.Sprintf("Nobody has taken the colour of %s; take it beside a white card.", c.Lot)
			return
		}
		c.Answer = fmt.Sprintf("Nobody has taken the colour of %s; take that of %s beside a white card.", c.Lot, answer.List(words))
	case c.Basis == ColourPicked:
		c.Answer = fmt.Sprintf("%s is %s (%s), as picked.", c.Lot, c.Mixed.Name, c.Mixed.RGB)
	case c.Forecast != nil && c.Seen.Melted:
		c.Answer = fmt.Sprintf("%s is %s (%s), as seen; its parents forecast %s (%s), %s apart.", c.Lot, c.Mixed.Name, c.Mixed.RGB,
			c.Forecast.Name, c.Forecast.RGB, quantity.Number.Rough(c.Off.Value))
	case c.Basis == ColourTaken:
		c.Answer = fmt.Sprintf("%s is %s (%s), as seen.", c.Lot, c.Mixed.Name, c.Mixed.RGB)
	case c.Apart.Value < 1: // nobody sees it side by side
		c.Answer = fmt.Sprintf("%s is %s (%s), by its parents.", c.Lot, c.Mixed.Name, c.Mixed.RGB)
	default:
		c.Answer = fmt.Sprintf("%s is %s (%s) once melted well, %s (%s) side by side; %s apart.", c.Lot,
			c.Mixed.Name, c.Mixed.RGB, c.Unmixed.Name, c.Unmixed.RGB, quantity.Number.Rough(c.Apart.Value))
	}
}

// ColourDoubts are what can hardly be true of the colour taken by a record; none
// when it no longer holds.
func ColourDoubts(s *shop.State, r shop.RecordID, id shop.LotID) []answer.Finding {
	lot, ok := s.Lot(id)
	if !ok || lot.TakenBy != r {
		return nil
	}
	c, err := ColourOf(s, id)
	if err != nil {
		return nil // a lot whose past cannot be reckoned has no forecast to doubt it by
	}
	return c.Doubts
}
