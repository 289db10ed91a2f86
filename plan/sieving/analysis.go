package sieving

import (
	"errors"
	"fmt"
	"strings"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/process/sieve"
	"hopperful/quantity"
	"hopperful/shop"
)

// Options say how an analysis is to be judged; the zero value is ready.
type Options struct {
	Allowance sieve.Allowance // for the loss; zero: the stack's, else that of ASTM C136
	Fines     float64         // size below which grains are dust [m]; 0: 0.5 mm, as in plans
	Coarse    float64         // size above which grains are too coarse [m]; 0: the screen's hole, if known
	Equal     bool            // fit with the same weight for every sieve, as spreadsheets do
	Books     bool            // forecast the run from books alone: at once, where learning from hundreds of runs takes a second
	Pool      bool            // take the lot's other analyses on the same sieves together with this one
	With      []shop.LotID    // lots whose newest analyses are laid over the curve
}

// Analysis is what a sieve analysis says.
type Analysis struct {
	Answer   string           `json:"answer"`
	Name     string           `json:"name"`
	Lot      shop.LotID       `json:"lot,omitempty"`
	Record   shop.RecordID    `json:"record,omitempty"`
	Spoilers []answer.Spoiler `json:"spoilers"` // worst first, at most three
	Simple   bool             `json:"simple"`   // one or two sieves: sizes with the range of all laws through them
	Closes   *bool            `json:"closes,omitempty"`
	Masses   []figure.Figure  `json:"masses"` // charge, found, loss
	Rows     []Row            `json:"rows"`   // from the top, the pan last
	Figures  []figure.Figure  `json:"figures"`
	Fits     []Fit            `json:"fits"` // least squares first
	Verdict  *Verdict         `json:"verdict,omitempty"`
	Screen   *ScreenState     `json:"-"` // of the mill it came through, this stack included; the edges word it
	Charts   []Chart          `json:"charts"`
	Notes    []string         `json:"notes"`
}

// Row is one sieve of the table, or the pan.
type Row struct {
	Sieve    string         `json:"sieve"`
	Opening  float64        `json:"opening_m,omitempty"` // 0 for the pan
	Retained figure.Figure  `json:"retained"`
	Share    figure.Figure  `json:"share"`
	Passing  *figure.Figure `json:"passing,omitempty"` // nil for the pan
}

// sifting is an [Analysis] on its way.
type sifting struct {
	state   *shop.State
	stack   Stack
	opt     Options
	a       sieve.Analysis
	d       sieve.Discrete
	draws   []sieve.Discrete // as the stack might have come out
	best    sieve.Fit        // the law that comes nearest; no law where none was fitted
	records []int64
	worries []worry
	out     Analysis
}

// Of analyses a stack. A stack that makes no sense is a [shop.Error] that
// says what to do; one that is merely odd is analysed, with its doubts among the
// spoilers.
func Of(s *shop.State, stack Stack, opt Options) (Analysis, error) {
	if opt.Fines == 0 {
		opt.Fines = answer.FinesLimit
	}
	if opt.Allowance != (sieve.Allowance{}) {
		stack.Allowance = opt.Allowance
	}
	for field, v := range map[string]float64{"fines": opt.Fines, "coarse": opt.Coarse} {
		if !(v >= 0 && v <= 1) {
			return Analysis{}, &shop.Error{Code: shop.Invalid, Field: field, Say: fmt.Sprintf("A limit of %s is no size of a grain.", quantity.Length.Show(v)), Hint: "Give one between 10 µm and a few centimetres."}
		}
	}
	f := &sifting{state: s, stack: stack, opt: opt}
	var err error
	if f.a, err = sieve.Weigh(stack.Stack); err != nil {
		return Analysis{}, refusal(err)
	}
	f.out = Analysis{Name: stack.Name, Lot: stack.Lot, Record: stack.Record, Simple: len(f.a.Sieves) <= 2, Notes: append([]string{}, stack.Notes...),
		Figures: []figure.Figure{}, Fits: []Fit{}, Charts: []Chart{}}
	if stack.Photo != nil {
		f.out.Notes = append(f.out.Notes, pictured(*stack.Photo)...)
	}
	if stack.Record != 0 {
		f.records = []int64{int64(stack.Record)}
	}
	if err := f.pool(); err != nil {
		return Analysis{}, err
	}
	if f.d, err = f.a.Distribution(sieve.Bounds{}); err != nil {
		return Analysis{}, refusal(err)
	}
	for _, part := range []func() error{f.draw, f.table, f.sizes, f.screen, f.limits, f.surface, f.fits, f.charts} {
		if err := part(); err != nil {
			return Analysis{}, err
		}
	}
	f.doubts()
	f.answer()
	return f.out, nil
}

// OfRecord analyses the stack of a record.
func OfRecord(s *shop.State, id shop.RecordID, opt Options) (Analysis, error) {
	stack, err := StackOf(s, id)
	if err != nil {
		return Analysis{}, err
	}
	return Of(s, stack, opt)
}

// refusal puts a refused stack into the shop's words.
func refusal(err error) error {
	if e := (*sieve.EntryError)(nil); errors.As(err, &e) {
		what := *e
		what.Hint = ""
		return &shop.Error{Code: shop.Invalid, Field: "sieves", Say: answer.Sentence(what.Error()), Hint: answer.Sentence(e.Hint)}
	}
	return &shop.Error{Code: shop.Invalid, Field: "sieves", Say: answer.Sentence(err.Error())}
}

// mine marks a figure as resting on this analysis.
func (f *sifting) mine(g figure.Figure) figure.Figure {
	g.Records = f.records
	return g
}

// masses writes the charge, what was found of it, and what is missing.
func (f *sifting) masses() figure.Figure {
	a := f.a
	add := func(key, name string, v float64, basis figure.Basis) figure.Figure {
		g := f.mine(figure.Exact(key, name, quantity.Mass, v, basis))
		f.out.Masses = append(f.out.Masses, g)
		return g
	}
	if a.Charge == 0 {
		return add("found", "found on the sieves and in the pan", a.Recovered, figure.Measured)
	}
	charge := add("charge", "put on the sieves", a.Charge, figure.Measured)
	found := add("found", "found on the sieves and in the pan", a.Recovered, figure.Measured)
	loss := f.mine(figure.Exact("loss", "missing", quantity.Mass, a.Loss, figure.Reckoned)).From("charge less what was found", charge, found)
	if a.Loss < 0 {
		loss.Name = "missing (less than nothing: more was found than put on)"
	}
	share := f.mine(figure.Exact("loss_share", "missing, of the charge", quantity.Share, a.LossShare, figure.Reckoned)).From("missing ÷ charge", loss, charge).
		Cite(sourceOf(a.Allowance), a.Allowance.Name)
	share = share.Held(figure.Limit{Name: "allowance of " + a.Allowance.Name, Value: a.Allowance.Share, Side: figure.Below, Holds: holdsOf(a.Closes)})
	f.out.Masses = append(f.out.Masses, loss, share)
	closes := a.Closes
	f.out.Closes = &closes
	return found
}

// table writes what lay on each sieve and what passed it.
func (f *sifting) table() error {
	a, found := f.a, f.masses()
	for i := range a.Retained {
		row := Row{Sieve: "pan"}
		if i < len(a.Sieves) {
			row.Sieve, row.Opening = a.Sieves[i].Designation, a.Sieves[i].Opening
		}
		row.Retained = f.mine(figure.Exact("retained", "kept back by "+row.Sieve, quantity.Mass, a.Retained[i], figure.Measured))
		if i == len(a.Sieves) {
			row.Retained.Name = "in the pan"
		}
		row.Share = f.mine(figure.Exact("share", row.Retained.Name+", of what was found", quantity.Share, a.Retained[i]/a.Recovered, figure.Reckoned)).From("mass ÷ found", row.Retained, found)
		if i < len(a.Sieves) {
			q, err := f.spread(figure.Exact("passing", "finer than "+row.Sieve, quantity.Share, a.Passing[i], figure.Reckoned), func(d sieve.Discrete) (float64, bool, error) {
				v, err := d.Cumulative(row.Opening)
				return v, true, err
			})
			if err != nil {
				return refusal(err)
			}
			q = q.From("all that lay below it ÷ found; the range as of the sizes", found)
			row.Passing = &q
		}
		f.out.Rows = append(f.out.Rows, row)
	}
	return nil
}

// sourceOf is the bibliography's word for an allowance: only the two standards
// are known, both from memory.
func sourceOf(a sieve.Allowance) string {
	if a.Source == "" {
		return "judgement"
	}
	return a.Source
}

func holdsOf(yes bool) float64 {
	if yes {
		return 1
	}
	return 0
}

// answer says the most important in one sentence.
func (f *sifting) answer() {
	what := f.stack.Name
	if f.stack.Lot != "" {
		what = string(f.stack.Lot)
	}
	how := "sieved"
	if f.stack.Photo != nil {
		how = "photographed"
	}
	parts := []string{fmt.Sprintf("%s %s of %s", quantity.Mass.Rough(f.a.Recovered), how, orThis(what))}
	for _, g := range f.out.Figures {
		switch g.Key {
		case "d50":
			parts = append(parts, "half of it is finer than "+shownOf(g))
		case "fines":
			parts = append(parts, fmt.Sprintf("%s is dust below %s", g.Shown(), quantity.Length.Plain(f.opt.Fines)))
		}
	}
	f.out.Answer = parts[0] + ": " + strings.Join(parts[1:], ", ") + "."
	if len(parts) == 1 {
		f.out.Answer = parts[0] + "; these sieves do not tell its middle."
	}
	if v := f.out.Verdict; v != nil {
		if v.Word == "does not fit" {
			f.out.Answer += " No law fits."
		} else {
			f.out.Answer += " " + v.Law + " " + v.Word + "."
		}
	}
}

func orThis(name string) string {
	if name == "" {
		return "this sample"
	}
	return name
}

func shownOf(g figure.Figure) string {
	if r := g.ShownRange(); r != "" {
		return fmt.Sprintf("%s (%s)", g.Shown(), r)
	}
	return g.Shown()
}
