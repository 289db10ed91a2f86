package piece

import (
	"fmt"
	"strings"

	"hopperful/figure"
	"hopperful/polymer"
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

// Identification is what a piece may be.
type Identification struct {
	Answer    string        `json:"answer"`
	Stop      string        `json:"stop,omitempty"`    // why everything stops, and what to do
	Polymer   string        `json:"polymer,omitempty"` // the likeliest; absent when that is none of those listed
	Sure      string        `json:"sure"`              // how sure, in words: never "certain"
	Materials []Material    `json:"materials"`         // likeliest first
	Unsure    figure.Figure `json:"unsure"`            // entropy over the polymers [bit]
	Findings  []string      `json:"findings"`          // what was found, in words
	Moved     []Move        `json:"moved"`             // what each finding changed
	Prior     string        `json:"prior"`             // what was thought before any test
	Next      *Test         `json:"next,omitempty"`    // absent when stopped, or nothing would tell much
	Tests     []Test        `json:"tests"`             // the others, most telling a minute first
	Part      *Parting      `json:"part,omitempty"`    // absent when no liquid parts the two likeliest
	WriteDown string        `json:"write_down,omitempty"`
	Notes     []string      `json:"notes"`

	MayHeat bool `json:"-"` // whether a corner may be put on hot metal
}

// Material is one polymer with its share.
type Material struct {
	Polymer string          `json:"polymer"`
	Words   string          `json:"words"`
	Share   figure.Figure   `json:"share"`
	Was     *figure.Figure  `json:"was,omitempty"`    // its share before the last finding
	Grades  []figure.Figure `json:"grades,omitempty"` // shares of the grades where more than one is listed
}

// Test is a test that could be done.
type Test struct {
	Test    string        `json:"test"` // its flag without dashes: "limp70", "floats"
	Say     string        `json:"say"`  // the flag as it is typed when the answer is yes
	Ask     string        `json:"ask"`
	How     string        `json:"how"`
	Caution string        `json:"caution,omitempty"`
	Time    figure.Figure `json:"time"`
	Yes     figure.Figure `json:"yes"`    // chance of yes
	Bits    figure.Figure `json:"bits"`   // expected to be learned
	Rate    figure.Figure `json:"rate"`   // of it, a minute
	IfYes   string        `json:"if_yes"` // the likeliest after a yes
	IfNo    string        `json:"if_no"`

	Finding identify.Finding `json:"-"` // what a yes would be
	Kind    identify.Kind    `json:"-"`
	Liquid  identify.Liquid  `json:"-"` // of a float test
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
	q := &inquiry{state: s, opt: opt, book: opt.Book, out: Identification{
		Materials: []Material{}, Findings: []string{}, Moved: []Move{}, Tests: []Test{}, Notes: []string{}}}
	if q.book == nil {
		q.book = identify.Books()
	}
	if opt.Lot != "" {
		lot, ok := s.Lot(opt.Lot)
		if !ok {
			return Identification{}, &shop.Error{Code: shop.NotFound, Field: "lot", Say: fmt.Sprintf("There is no lot %s.", opt.Lot), Hint: "The stock lists the lots."}
		}
		q.lot = lot
	}
	for _, step := range []func() error{q.solid, q.before, q.weigh, q.moves, q.materials, q.tests} {
		if err := step(); err != nil {
			return Identification{}, err
		}
	}
	q.answer()
	return q.out, nil
}

// solid refuses densities of pieces that may hold air.
func (q *inquiry) solid() error {
	for _, f := range q.opt.Findings {
		if f.Test != "floats" && f.Test != identify.Weighed {
			continue
		}
		if q.opt.Solid != shop.Yes {
			say := "Nobody said whether the piece is solid: a print with infill holds air and floats where its plastic sinks."
			if q.opt.Solid == shop.No {
				say = "The piece is not solid: it holds air and floats where its plastic sinks."
			}
			return &shop.Error{Code: shop.Invalid, Field: "solid", Say: say,
				Hint: "Crush it or cut a solid chip, wet it, rub off the bubbles, test that, and say that it is solid."}
		}
	}
	return nil
}

// weigh puts prior and findings together.
func (q *inquiry) weigh() error {
	var err error
	if q.shares, err = q.book.Weigh(q.prior, q.opt.Findings); err != nil {
		return identifyRefusal("findings", err)
	}
	for _, f := range q.opt.Findings {
		q.out.Findings = append(q.out.Findings, q.said(f))
	}
	sums := q.book.ByPolymer(q.shares)
	list := make([]float64, 0, len(sums))
	for _, name := range q.polymers() {
		list = append(list, sums[name])
	}
	q.out.Unsure = figure.Exact("unsure", "still open, in bits", quantity.Number, identify.Entropy(list), figure.Reckoned).
		From("− Σ p log2 p over the polymers").Cite("Shannon1948", "")
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

// said is a finding in words.
func (q *inquiry) said(f identify.Finding) string {
	answer := map[bool]string{true: "yes", false: "no"}[f.Yes]
	switch f.Test {
	case identify.Weighed:
		return fmt.Sprintf("weighs %s, give or take %s", quantity.Density.Show(f.At), quantity.Density.Show(f.Within))
	case "floats":
		return fmt.Sprintf("floats in a liquid of %s: %s", LiquidWords(f.At), answer)
	case "sticks":
		return fmt.Sprintf("sticks to metal of %s: %s", quantity.Temperature.Show(f.At), answer)
	}
	for _, t := range q.book.Tests {
		if t.Name == f.Test {
			return strings.TrimSuffix(t.Ask, "?") + ": " + answer
		}
	}
	return f.Test + ": " + answer
}

// materials lists the polymers, likeliest first.
func (q *inquiry) materials() error {
	table, err := q.state.Table()
	if err != nil {
		return err
	}
	sums := q.book.ByPolymer(q.shares)
	for _, name := range q.polymers() {
		p, err := table.Find(name)
		if err != nil {
			return err
		}
		m := Material{Polymer: p.Name, Words: p.Words, Share: q.share("share", p.Name, sums[name])}
		if p.Name == polymer.Unknown {
			m.Words = "something not listed, a filled grade or a blend"
		}
		if q.was != nil {
			was := q.share("was", p.Name, q.was[name])
			m.Was = &was
		}
		for i, c := range q.book.Candidates {
			if c.Polymer == name && q.graded(name) {
				m.Grades = append(m.Grades, q.share("grade", c.Name, q.shares[i]))
			}
		}
		q.out.Materials = append(q.out.Materials, m)
	}
	sortByShare(q.out.Materials)
	return nil
}

// graded reports whether a polymer is listed in more than one grade.
func (q *inquiry) graded(name string) bool {
	n := 0
	for _, c := range q.book.Candidates {
		if c.Polymer == name {
			n++
		}
	}
	return n > 1
}

// share is the figure of one share.
func (q *inquiry) share(prefix, name string, p float64) figure.Figure {
	f := figure.Exact(prefix+"_"+keyOf(name), "share of "+name, quantity.Share, p, figure.Reckoned).
		From("prior × chance of every finding, odds capped at 500 to 1").Cite("judgement", "tables of chances and priors")
	f.Records = q.records
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
