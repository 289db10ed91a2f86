package identification

import (
	"strings"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/polymer/identify"
	"hopperful/quantity"
	"hopperful/shop"
)

// Options say what is known about a piece; the zero value asks what to
// try first.
type Options struct {
	Findings   []identify.Finding
	Solid      shop.YesNo     // whether floated and weighed pieces were solid, without infill
	Label      string         // polymer the label names; empty: none
	LabelRight float64        // how often such a label is right [1]; 0: as one written by hand
	Lot        shop.LotID     // lot the piece is from; its polymer stands in for a label
	Chlorine   shop.YesNo     // yes: a marking, a smell or a maker's word speaks of chlorine
	Book       *identify.Book // nil: the program's
}

// Identification is what a piece may be: the answer, and its parts as the page
// draws them.
type Identification struct {
	answer.Document
	Stopped   bool       // everything stops: it may hold chlorine
	Polymer   string     // the likeliest; empty when that is none of those listed
	Materials []Material // likeliest first
	Unsure    figure.Figure
	Moved     []Move      // what each finding changed
	Prior     fact.Saying // what was thought before any test
	Next      *Test       // nil when stopped, or nothing would tell much
	Tests     []Test      // the others, most telling a minute first
	Part      *Parting    // nil when no liquid parts the two likeliest
	MayHeat   bool        // whether a corner may be put on hot metal
}

// Material is one polymer with its share.
type Material struct {
	Polymer string
	Words   fact.Saying
	Share   figure.Figure
	Was     *figure.Figure  // its share before the last finding
	Grades  []figure.Figure // shares of the grades where more than one is listed
}

// inquiry is an identification on its way.
type inquiry struct {
	state   *shop.State
	opt     Options
	book    *identify.Book
	lot     *shop.Lot
	prior   []float64
	shares  []float64
	was     map[string]float64 // shares by polymer before the last finding; nil without one
	records []int64
	out     Identification
}

// Identify says what a piece may be, how sure that is, and what to try next.
// A finding that cannot be used is a [shop.Error] that says what to do.
func Identify(s *shop.State, opt Options) (Identification, error) {
	q := &inquiry{state: s, opt: opt, book: opt.Book}
	if q.book == nil {
		q.book = identify.Books()
	}
	if opt.Lot != "" {
		lot, ok := s.Lot(opt.Lot)
		if !ok {
			return Identification{}, shop.NoLot("lot", opt.Lot)
		}
		q.lot = lot
	}
	for _, step := range []func() error{q.solid, q.before, q.weigh, q.moves, q.materials, q.tests} {
		if err := step(); err != nil {
			return Identification{}, err
		}
	}
	q.document()
	return q.out, nil
}

// solid refuses densities of pieces that may hold air.
func (q *inquiry) solid() error {
	for _, f := range q.opt.Findings {
		if f.Test != "floats" && f.Test != identify.Weighed || q.opt.Solid == shop.Yes {
			continue
		}
		what := fact.Say("identification.solid_unsaid")
		if q.opt.Solid == shop.No {
			what = fact.Say("identification.hollow")
		}
		return shop.Refuse(shop.Invalid, "solid", what, fact.Say("identification.cut_a_chip"))
	}
	return nil
}

// weigh puts prior and findings together.
func (q *inquiry) weigh() error {
	var err error
	if q.shares, err = q.book.Weigh(q.prior, q.opt.Findings); err != nil {
		return shop.OutOfRange("findings", fact.Saying{}, err)
	}
	sums := q.book.ByPolymer(q.shares)
	list := make([]float64, 0, len(sums))
	for _, name := range q.polymers() {
		list = append(list, sums[name])
	}
	q.out.Unsure = figure.Exact("unsure", "identification.unsure", quantity.Number, identify.Entropy(list), figure.Reckoned).
		From("− Σ p · log2 p").Cite("Shannon1948", "")
	return nil
}

// polymers are the polymers of the book, each once, in its order.
func (q *inquiry) polymers() []string {
	var names []string
	seen := map[string]bool{}
	for _, c := range q.book.Candidates {
		if !seen[c.Polymer] {
			seen[c.Polymer] = true
			names = append(names, c.Polymer)
		}
	}
	return names
}

// share is the figure of one share.
func (q *inquiry) share(prefix, name string, p float64) figure.Figure {
	f := figure.Exact(prefix+"_"+keyOf(name), "identification.share", quantity.Share, p, figure.Reckoned).
		From("identification.how_share").Cite("judgement", "table of chances")
	f.About, f.Records = name, q.records
	return f
}

// keyOf turns a name into part of a figure's key.
func keyOf(name string) string {
	return strings.Trim(strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			return r
		case r >= 'A' && r <= 'Z':
			return r + 'a' - 'A'
		}
		return '_'
	}, name), "_")
}
