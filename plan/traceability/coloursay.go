package traceability

import (
	"cmp"
	"math"
	"slices"
	"strconv"
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
	off := figure.Exact("colour_off", "colour.off", quantity.Number, far, figure.Reckoned).From("CIEDE2000").Cite("Sharma2005", "")
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
		c.Notes = append(c.Notes, fact.Say("colour.mixed_badly"))
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
		own, lot := w.own[p.lot], w.s.Lots.At(p.lot)
		shade, err := ShadeOf(own.curve)
		if err != nil {
			return err
		}
		c.Parts = append(c.Parts, ColourPart{Lot: p.lot, Name: lot.Name, Share: min(1, p.share), Shade: shade, Basis: own.basis, Scatter: w.scatterFigure(lot)})
	}
	slices.SortStableFunc(c.Parts, func(a, b ColourPart) int { return cmp.Compare(b.Share, a.Share) })
	for _, p := range c.Parts {
		if p.Scatter.Runs > 0 {
			c.Learned = append(c.Learned, fact.Say("colour.tints", fact.Lot("lot", string(p.Lot), ""), fact.Figure("times", p.Scatter), fact.Count("n", p.Scatter.Runs)))
		}
	}
	return nil
}

// scatterFigure is how strongly a lot scatters, with its range. Of a lot out of
// several the widest doubt counts.
func (w *Tinter) scatterFigure(l *shop.Lot) figure.Figure {
	f := figure.Exact("scattering", "colour.scattering", quantity.Number, w.scatter(l), figure.Assumed)
	widest, runs := 0.0, 0
	for _, p := range w.origins(l) {
		sd, n := w.learned.doubt(p.lot)
		widest, runs = max(widest, sd), max(runs, n)
	}
	f.Low, f.High = f.Value*math.Exp(-answer.Ninety*widest), f.Value*math.Exp(answer.Ninety*widest)
	if runs > 0 {
		return f.From("colour.how_scattering").LearnedFrom(runs)
	}
	return f.From("colour.how_alike")
}

// note says what a person should know of the colour.
func (w *Tinter) note(c *LotColour, t Tints) {
	photo, typed, clear := false, false, false
	for _, p := range c.Parts {
		own := w.own[p.Lot]
		photo = photo || own.taken != nil && own.taken.How == shop.CardPhoto
		clear = clear || seeThrough(w.s.Lots.At(p.Lot).Colour)
		typed = typed || own.taken == nil || own.taken.How == shop.ByEye
	}
	if photo {
		c.Notes = append(c.Notes, fact.Say("colour.photo_off"))
	}
	if typed {
		c.Notes = append(c.Notes, fact.Say("colour.by_eye_guess"))
	}
	if clear {
		c.Notes = append(c.Notes, fact.Say("colour.clear_shows"))
	}
	if t.lifted {
		c.Notes = append(c.Notes, fact.Say("colour.how_black"))
	}
	if t.grains {
		c.Notes = append(c.Notes, fact.Say("colour.of_grains"))
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

// head says the colour.
func (c *LotColour) head() fact.Saying {
	lot := fact.Lot("lot", string(c.Lot), "")
	if c.Mixed == nil {
		if len(c.Missing) == 1 && c.Missing[0] == c.Lot {
			return fact.Say("colour.unknown", lot)
		}
		var of []fact.Saying
		for _, id := range c.Missing[:min(3, len(c.Missing))] {
			of = append(of, fact.Verbatim(string(id)))
		}
		if n := len(c.Missing) - 3; n > 0 {
			of = append(of, fact.Say("family.more", fact.Count("n", n)))
		}
		return fact.Say("colour.unknown_parts", lot, fact.Parts("of", of...))
	}
	name, code := fact.Name("name", c.Mixed.Name), fact.Name("code", c.Mixed.RGB)
	switch {
	case c.Basis == ColourPicked:
		return fact.Say("colour.picked", lot, name, code)
	case c.Forecast != nil && c.Seen.Melted:
		return fact.Say("colour.seen_and_forecast", lot, name, code, fact.Name("forecast", c.Forecast.Name), fact.Name("forecast_code", c.Forecast.RGB), fact.About("apart", quantity.Number, c.Off.Value))
	case c.Basis == ColourTaken:
		return fact.Say("colour.seen", lot, name, code)
	case c.Apart.Value < 1: // nobody sees it side by side
		return fact.Say("colour.by_parents", lot, name, code)
	}
	return fact.Say("colour.both_ends", lot, name, code, fact.Name("side", c.Unmixed.Name), fact.Name("side_code", c.Unmixed.RGB), fact.About("apart", quantity.Number, c.Apart.Value))
}

// document puts the answer together.
func (c *LotColour) document() {
	c.Head, c.Spoilers = answer.Found(c.head()), c.Doubts
	if c.Mixed == nil {
		for _, id := range c.Missing {
			c.Steps = append(c.Steps, answer.Action{Do: fact.Say("do.take_colour", fact.Lot("lot", string(id), ""))})
		}
	}
	for _, f := range []*figure.Figure{c.Apart, c.Doubt, c.Off} {
		if f != nil {
			c.Figures = append(c.Figures, *f)
		}
	}
	c.tables()
	s := answer.Section{Key: "colour", Notes: append(slices.Clone(c.Notes), c.Learned...)}
	for _, p := range c.Parts {
		s.Figures = append(s.Figures, p.Scatter)
	}
	c.Reasons = append(c.Reasons, s)
}

// tables are the colours there are, and what stands behind them.
func (c *LotColour) tables() {
	if c.Mixed == nil {
		return
	}
	looks := answer.Table{Key: "looks", Leads: true, Columns: []answer.Column{{Key: "shade"}, {Key: "colour_name"}, {Key: "colour_code"}, {Key: "lab"}, {Key: "taken"}}}
	add := func(what fact.Saying, s *Shade, more fact.Fact) {
		if s != nil {
			lab := fact.Say("colour.lab", fact.Set("l", quantity.Number, tenth(s.Lab[0])), fact.Set("a", quantity.Number, tenth(s.Lab[1])), fact.Set("b", quantity.Number, tenth(s.Lab[2])))
			looks.Rows = append(looks.Rows, []fact.Fact{fact.Parts("what", what), fact.Term("name", "shade", s.Name), fact.Name("code", s.RGB), fact.Parts("lab", lab), more})
		}
	}
	none := fact.Name("more", "")
	add(fact.Say("colour.melted_well"), c.Mixed, none)
	add(fact.Say("colour.side_by_side"), c.Unmixed, none)
	if c.Seen != nil {
		add(fact.Say("colour.as_taken"), &c.Seen.Shade, fact.Parts("more", c.Seen.Taken()))
	}
	add(fact.Say("colour.forecast"), c.Forecast, none)
	behind := answer.Table{Key: "tinting", Leads: true, Columns: []answer.Column{{Key: "lot"}, {Key: "share", Numbers: true}, {Key: "colour_code"}, {Key: "known_by"}, {Key: "tints", Numbers: true}, {Key: "melted_mixes", Numbers: true}}}
	for _, p := range c.Parts {
		behind.Rows = append(behind.Rows, []fact.Fact{fact.Lot("lot", string(p.Lot), p.Name), fact.About("share", quantity.Share, p.Share), fact.Name("code", p.Shade.RGB), fact.Parts("known", p.Basis.Said()),
			fact.Figure("tints", p.Scatter), fact.Set("mixes", quantity.Count, float64(p.Scatter.Runs))})
	}
	c.Tables = append(c.Tables, looks, behind)
}

// tenth is a coordinate to a tenth, never a minus nothing.
func tenth(v float64) float64 {
	if v = math.Round(10*v) / 10; v == 0 {
		return 0
	}
	return v
}

// Taken says how a colour was taken, and of what.
func (s *SeenColour) Taken() fact.Saying {
	melted := fact.Name("melted", "")
	if s.Melted {
		melted = fact.Name("melted", "yes")
	}
	record := fact.Name("record", strconv.FormatInt(int64(s.Record), 10))
	switch s.How {
	case shop.CardPhoto:
		return fact.Say("colour.taken_by_photo", melted, record)
	case shop.Instrument:
		return fact.Say("colour.taken_by_instrument", melted, record)
	}
	return fact.Say("colour.taken_by_eye", melted, record)
}

// Said is where a colour comes from, as a saying.
func (b ColourBasis) Said() fact.Saying {
	switch b {
	case ColourTaken:
		return fact.Say("colour.known_taken")
	case ColourPicked:
		return fact.Say("colour.known_picked")
	case ColourParents:
		return fact.Say("colour.known_parents")
	}
	return fact.Say("colour.known_not")
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
