package identification

import (
	"cmp"
	"math"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/polymer"
	"hopperful/polymer/identify"
	"hopperful/quantity"
	"hopperful/shop"
)

// MixedRequest asks how much of a stray plastic is in a lot, from pieces
// counted by eye or parted by a liquid.
type MixedRequest struct {
	Host, Stray string
	Pieces      int     // looked at, drawn at random
	Wrong       int     // of them: taken for the stray, or on its side in the liquid
	Liquid      float64 // density of the liquid that parted them [kg/m³]; 0: by eye
	Floated     float64 // instead of counts: what floated [kg]
	Sank        float64 // and what sank [kg]
	Piece       float64 // and what one piece weighs on average [kg]
}

// Mixed says what a lot with a stray in it is still good for.
type Mixed string

// What it is good for, best first.
const (
	ForParts Mixed = "structural" // parts that have to hold
	ForJigs  Mixed = "visual"     // jigs and parts to look at
	Unclear  Mixed = "unclear"    // too few pieces to say
	ForTrial Mixed = "apart"      // a trial at most
	ForNone  Mixed = "refuse"     // nothing
)

// MixedLot is how much of the stray there is and what follows, as the page
// draws it.
type MixedLot struct {
	answer.Document
	GoodFor Mixed
	Share   figure.Figure
	Limits  []figure.Figure // structural, visual, refuse

	host, stray string
	seen        figure.Figure
	notes       []fact.Saying
}

// rangeLevel is the share of the binomial ranges that hold the truth: that of
// every figure's low and high.
const rangeLevel = 0.8

// MixedShare says how much of a stray is in a lot and whether that is too much.
func MixedShare(s *shop.State, r MixedRequest) (MixedLot, error) {
	table, err := s.Table()
	if err != nil {
		return MixedLot{}, err
	}
	pair, err := table.Pair(r.Host, r.Stray)
	if err != nil {
		return MixedLot{}, shop.Refused(shop.Invalid, "stray", err)
	}
	if pair.Host == pair.Stray {
		return MixedLot{}, shop.Refuse(shop.Invalid, "stray", fact.Say("identification.no_stray", fact.Name("stray", pair.Stray), fact.Name("host", pair.Host)), fact.Say("identification.name_the_stray"))
	}
	m := MixedLot{host: pair.Host, stray: pair.Stray}
	seen, err := r.seen(&m)
	if err != nil {
		return MixedLot{}, err
	}
	if err := m.count(seen, r); err != nil {
		return MixedLot{}, err
	}
	m.limits(pair)
	m.judge(pair)
	return m, m.document(pair)
}

// sample is what was looked at, as a count.
type sample struct {
	wrong, pieces int
	share         float64 // of the wrong ones: by count, or by mass
}

// seen turns counts or masses into a count.
func (r MixedRequest) seen(m *MixedLot) (sample, error) {
	bad := func(field string, what, advice fact.Saying) (sample, error) {
		return sample{}, shop.Refuse(shop.Invalid, field, what, advice)
	}
	byMass := r.Floated > 0 || r.Sank > 0
	switch {
	case byMass && r.Pieces > 0:
		return bad("pieces", fact.Say("identification.both_given"), fact.Say("identification.give_one"))
	case byMass && (r.Liquid == 0 || !(r.Piece > 0)):
		return bad("piece", fact.Say("identification.split_wants"), fact.Say("identification.weigh_ten"))
	case byMass:
		_, floats, err := identify.Books().Parts(m.host, m.stray, r.Liquid)
		if err != nil {
			return sample{}, shop.OutOfRange("liquid", fact.Say("identification.is_density"), err)
		}
		wrong, all := r.Sank, r.Floated+r.Sank
		if floats {
			wrong = r.Floated
		}
		n := all / r.Piece
		if !(n >= 1 && n <= 1e6) {
			return bad("piece", fact.Say("identification.odd_pieces", fact.Measured("mass", quantity.Mass, all), fact.Measured("piece", quantity.Mass, r.Piece), fact.About("n", quantity.Number, n)), fact.Say("identification.check_units"))
		}
		pieces := int(math.Round(n))
		m.notes = append(m.notes, fact.Say("identification.taken_as", fact.Count("n", pieces)))
		return sample{min(int(math.Round(wrong/r.Piece)), pieces), pieces, wrong / all}, nil
	case r.Pieces <= 0:
		return bad("pieces", fact.Say("identification.nothing_seen"), fact.Say("identification.give_counts"))
	}
	return sample{r.Wrong, r.Pieces, float64(r.Wrong) / float64(r.Pieces)}, nil
}

// count reckons the binomial range, and takes the slips of a liquid out of it.
func (m *MixedLot) count(s sample, r MixedRequest) error {
	low, high, err := identify.CountRange(s.wrong, s.pieces, rangeLevel)
	if err != nil {
		return shop.OutOfRange("wrong", fact.Say("identification.is_wrong"), err)
	}
	low, high = min(low, s.share), max(high, s.share) // a split by mass need not fall on a whole piece
	pieces := figure.Exact("pieces", "identification.pieces_seen", quantity.Count, float64(s.pieces), figure.Measured)
	wrong := figure.Exact("wrong", "identification.wrong_seen", quantity.Count, float64(s.wrong), figure.Measured)
	m.seen = figure.Exact("seen", "identification.seen", quantity.Share, s.share, figure.Measured)
	m.seen.Low, m.seen.High = low, high
	m.seen = m.seen.From("identification.how_binomial", wrong, pieces).Cite("Clopper1934", "")
	m.Share = m.seen
	m.Share.Key, m.Share.Name, m.Share.About = "share", "identification.share", m.stray
	m.Share.Basis = figure.Reckoned
	if r.Liquid == 0 {
		m.notes = append(m.notes, fact.Say("identification.by_eye"))
		return nil
	}
	parting, _, err := identify.Books().Parts(m.host, m.stray, r.Liquid)
	if err != nil {
		return shop.OutOfRange("liquid", fact.Say("identification.is_density"), err)
	}
	var v [3]float64
	for i, f := range []float64{s.share, low, high} {
		if v[i], err = identify.TrueShare(f, parting); err != nil {
			return shop.Refuse(shop.Invalid, "liquid", fact.Say("identification.does_not_part", fact.Set("density", quantity.Density, r.Liquid), fact.Name("stray", m.stray), fact.Name("host", m.host)),
				fact.Say("identification.take_between"))
		}
	}
	right := figure.Exact("slips", "identification.right_slips", quantity.Share, parting.Right, figure.Books)
	found := figure.Exact("found", "identification.wrong_found", quantity.Share, parting.Wrong, figure.Books)
	m.Share = figure.Exact("share", "identification.share", quantity.Share, v[0], figure.Reckoned).
		From("(seen − slips) ÷ (found − slips)", m.seen, right, found).Cite("Rogan1978", "").Cite("judgement", "densities, slips 2 %")
	m.Share.Low, m.Share.High, m.Share.About = v[1], v[2], m.stray
	if s.share < parting.Right {
		m.notes = append(m.notes, fact.Say("identification.bubble_decides"))
	}
	return nil
}

func (m *MixedLot) limits(pair polymer.Pair) {
	for _, l := range []struct {
		key, name string
		value     float64
	}{{"structural", "identification.most_for_parts", pair.Structural}, {"visual", "identification.most_for_jigs", pair.Visual}, {"refuse", "identification.leave_above", pair.Refuse}} {
		m.Limits = append(m.Limits, figure.Exact(l.key, l.name, quantity.Share, l.value, figure.Books).Cite("judgement", "table of pairs"))
	}
}

// judge holds the range against the pair's limits.
func (m *MixedLot) judge(pair polymer.Pair) {
	low, high := m.Share.Low, m.Share.High
	bar := cmp.Or(shop.BarOf(pair.Stray), shop.BarOf(pair.Host))
	share, stray := fact.Figure("share", m.Share), fact.Name("stray", m.stray)
	found := func(g Mixed, v answer.Verdict, s fact.Saying, remedies ...fact.Saying) {
		m.GoodFor, m.Verdict, m.Head = g, v, answer.Found(s, remedies...)
	}
	again := fact.Say("identification.sort_again")
	switch {
	case bar != nil && bar.Code == shop.BarPlastic:
		_, instead := bar.Says()
		found(ForNone, answer.No, fact.Say("identification.no_count_clears", fact.Name("plastic", bar.Polymer)), instead)
	case high <= pair.Structural:
		found(ForParts, answer.Fits, fact.Say("identification.mixed_for_parts", share, stray))
	case high <= pair.Visual:
		found(ForJigs, answer.Likely, fact.Say("identification.mixed_for_jigs", share, stray))
	case low > pair.Refuse:
		found(ForNone, answer.No, fact.Say("identification.mixed_too_much", share, stray), again)
	case low > pair.Visual:
		found(ForTrial, answer.Unlikely, fact.Say("identification.mixed_for_trial", share, stray), again)
	default:
		found(Unclear, answer.Unknown, fact.Say("identification.mixed_unclear", share, stray), fact.Say("identification.look_at_more"))
	}
}

// document puts the answer together, with how many pieces without a wrong one
// would settle it.
func (m *MixedLot) document(pair polymer.Pair) error {
	m.Figures = append([]figure.Figure{m.Share, m.seen}, m.Limits...)
	if m.GoodFor != ForParts && m.GoodFor != ForNone && pair.Structural >= 1e-4 {
		n, err := identify.PiecesFor(min(pair.Structural, 0.5), rangeLevel)
		if err != nil {
			return shop.OutOfRange("pieces", fact.Saying{}, err)
		}
		m.Figures = append(m.Figures, figure.Exact("enough", "identification.enough", quantity.Count, float64(n), figure.Reckoned).
			From("n = ln 0.1 ÷ ln (1 − limit)", m.Limits[0]))
		m.Steps = append(m.Steps, answer.Action{Do: fact.Say("identification.look_at", fact.Count("n", n))})
	}
	becomes := answer.Found(fact.Say("identification.becomes", fact.Name("stray", m.stray), fact.Name("host", m.host), fact.Word("what", pair.What)))
	m.Spoilers = append(m.Spoilers, becomes)
	for _, n := range m.notes {
		m.Spoilers = append(m.Spoilers, answer.Found(n))
	}
	return nil
}
