package piece

import (
	"cmp"
	"fmt"
	"math"

	"hopperful/answer"
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

// MixedLot is how much of the stray there is and what follows.
type MixedLot struct {
	Answer  string          `json:"answer"`
	Host    string          `json:"host"`
	Stray   string          `json:"stray"`
	Verdict string          `json:"verdict"` // structural, visual, unclear, refuse, apart
	Share   figure.Figure   `json:"share"`
	Seen    figure.Figure   `json:"seen"`
	Limits  []figure.Figure `json:"limits"`  // structural, visual, refuse
	Becomes string          `json:"becomes"` // what the stray does to the host
	Enough  *figure.Figure  `json:"enough,omitempty"`
	Notes   []string        `json:"notes"`
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
		return MixedLot{}, &shop.Error{Code: shop.Invalid, Field: "stray", Say: answer.Sentence(answer.Capital(err.Error()))}
	}
	if pair.Host == pair.Stray {
		return MixedLot{}, &shop.Error{Code: shop.Invalid, Field: "stray", Say: fmt.Sprintf("%s in %s is no stray.", pair.Stray, pair.Host), Hint: "Name the plastic that should not be there."}
	}
	m := MixedLot{Host: pair.Host, Stray: pair.Stray, Becomes: answer.Sentence(pair.Sentence), Notes: []string{}}
	seen, err := r.seen(m.Host, m.Stray, &m)
	if err != nil {
		return MixedLot{}, err
	}
	if err := m.count(seen, r); err != nil {
		return MixedLot{}, err
	}
	m.limits(pair)
	m.judge(pair)
	return m, m.more(pair)
}

// sample is what was looked at, as a count.
type sample struct {
	wrong, pieces int
	share         float64 // of the wrong ones: by count, or by mass
}

// seen turns counts or masses into a count.
func (r MixedRequest) seen(host, stray string, m *MixedLot) (sample, error) {
	bad := func(field, say, hint string) (sample, error) {
		return sample{}, &shop.Error{Code: shop.Invalid, Field: field, Say: say, Hint: hint}
	}
	byMass := r.Floated > 0 || r.Sank > 0
	switch {
	case byMass && r.Pieces > 0:
		return bad("pieces", "Both counts and masses were given.", "Give one of them.")
	case byMass && (r.Liquid == 0 || !(r.Piece > 0)):
		return bad("piece", "A split by mass needs the liquid and what a piece weighs.", "Weigh ten pieces and divide; the range rests on how many there were.")
	case byMass:
		_, floats, err := identify.Books().Parts(host, stray, r.Liquid)
		if err != nil {
			return sample{}, identifyRefusal("liquid", err)
		}
		wrong, all := r.Sank, r.Floated+r.Sank
		if floats {
			wrong = r.Floated
		}
		n := all / r.Piece
		if !(n >= 1 && n <= 1e6) {
			return bad("piece", fmt.Sprintf("%s of pieces of %s is %.3g pieces.", quantity.Mass.Show(all), quantity.Mass.Show(r.Piece), n), "It must be between one and a million; check the units.")
		}
		pieces := int(math.Round(n))
		m.Notes = append(m.Notes, fmt.Sprintf("Taken as %d pieces of one size. Pieces of very different size make the range too narrow.", pieces))
		return sample{min(int(math.Round(wrong/r.Piece)), pieces), pieces, wrong / all}, nil
	case r.Pieces <= 0:
		return bad("pieces", "Nothing was looked at.", "Give the number of pieces and how many of them were wrong.")
	}
	return sample{r.Wrong, r.Pieces, float64(r.Wrong) / float64(r.Pieces)}, nil
}

// count reckons the binomial range, and takes the slips of a liquid out of it.
func (m *MixedLot) count(s sample, r MixedRequest) error {
	low, high, err := identify.CountRange(s.wrong, s.pieces, rangeLevel)
	if err != nil {
		return &shop.Error{Code: shop.Invalid, Field: "wrong", Say: answer.Sentence(answer.Capital(err.Error())), Hint: "Count the wrong pieces among all that were looked at."}
	}
	low, high = min(low, s.share), max(high, s.share) // a split by mass need not fall on a whole piece
	m.Seen = figure.Exact("seen", "wrong ones seen", quantity.Share, s.share, figure.Measured)
	m.Seen.Low, m.Seen.High = low, high
	m.Seen.How = fmt.Sprintf("%d of %d pieces; binomial range", s.wrong, s.pieces)
	m.Seen = m.Seen.Cite("Clopper1934", "")
	m.Share = m.Seen
	m.Share.Key, m.Share.Name = "share", "share of "+m.Stray
	m.Share.Basis = figure.Reckoned
	if r.Liquid == 0 {
		m.Notes = append(m.Notes, "Counted by eye: whoever counts must be able to tell the two apart.")
		return nil
	}
	parting, _, err := identify.Books().Parts(m.Host, m.Stray, r.Liquid)
	if err != nil {
		return identifyRefusal("liquid", err)
	}
	var v [3]float64
	for i, f := range []float64{s.share, low, high} {
		if v[i], err = identify.TrueShare(f, parting); err != nil {
			return &shop.Error{Code: shop.Invalid, Field: "liquid", Say: fmt.Sprintf("A liquid of %s does not part %s from %s.", quantity.Density.Show(r.Liquid), m.Stray, m.Host),
				Hint: "Take one whose density lies between the two, or count by another test."}
		}
	}
	m.Share = figure.Exact("share", "share of "+m.Stray, quantity.Share, v[0], figure.Reckoned).
		From(fmt.Sprintf("(seen − %.3g) ÷ (%.3g − %.3g): slips of the liquid taken out, held to 0 to 100 %%", parting.Right, parting.Wrong, parting.Right), m.Seen).
		Cite("Rogan1978", "").Cite("judgement", "densities and a slip of 2 %")
	m.Share.Low, m.Share.High = v[1], v[2]
	if s.share < parting.Right {
		m.Notes = append(m.Notes, "Fewer were on the wrong side than slips alone would put there: a bubble more or less decides.")
	}
	return nil
}

func (m *MixedLot) limits(pair polymer.Pair) {
	for _, l := range []struct {
		key, name string
		value     float64
	}{{"structural", "most for a part that has to hold", pair.Structural}, {"visual", "most for a jig or a part to look at", pair.Visual}, {"refuse", "leave it alone above", pair.Refuse}} {
		m.Limits = append(m.Limits, figure.Exact(l.key, l.name, quantity.Share, l.value, figure.Books).Cite("judgement", "table of pairs"))
	}
}

// judge holds the range against the pair's limits.
func (m *MixedLot) judge(pair polymer.Pair) {
	low, high := m.Share.Low, m.Share.High
	bar := cmp.Or(shop.BarOf(pair.Stray), shop.BarOf(pair.Host))
	about := fmt.Sprintf("%s of it is %s (8 of 10 times %s)", m.Share.Shown(), m.Stray, quantity.Share.Span(low, high))
	switch {
	case bar != nil && bar.Code == shop.BarPlastic:
		m.Verdict = "refuse"
		m.Answer = "No count clears a lot that may hold " + bar.Polymer + ". " + bar.Instead()
	case high <= pair.Structural:
		m.Verdict, m.Answer = "structural", answer.Capital(about)+": little enough for parts that have to hold."
	case high <= pair.Visual:
		m.Verdict, m.Answer = "visual", answer.Capital(about)+": little enough for jigs and parts to look at, not shown to be so for parts that have to hold."
	case low > pair.Refuse:
		m.Verdict, m.Answer = "refuse", answer.Capital(about)+": too much. Sort it again before you grind it, or keep it apart."
	case low > pair.Visual:
		m.Verdict, m.Answer = "apart", answer.Capital(about)+": too much for anything but a trial. Sort it again."
	default:
		m.Verdict, m.Answer = "unclear", answer.Capital(about)+": too few pieces to say. Look at more, or sort it again."
	}
}

// more says how many pieces without a wrong one would settle it.
func (m *MixedLot) more(pair polymer.Pair) error {
	if m.Verdict == "structural" || m.Verdict == "refuse" || pair.Structural < 1e-4 {
		return nil
	}
	n, err := identify.PiecesFor(min(pair.Structural, 0.5), rangeLevel)
	if err != nil {
		return identifyRefusal("pieces", err)
	}
	f := figure.Exact("enough", "pieces without a wrong one that would show it is little enough for parts that have to hold", quantity.Count, float64(n), figure.Reckoned).
		From("ln 0.1 ÷ ln (1 − limit)", m.Limits[0])
	m.Enough = &f
	return nil
}
