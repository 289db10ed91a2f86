package sieving

import (
	"errors"

	"hopperful/answer"
	"hopperful/fact"
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

// Analysis is what a sieve analysis says: the answer, and its parts as numbers.
type Analysis struct {
	answer.Document
	Lot    shop.LotID
	Record shop.RecordID
	Simple bool // one or two sieves: sizes with the range of all laws through them
	Closes *bool
	Rows   []Row           // from the top, the pan last
	Sizes  []figure.Figure // all that was reckoned of it
	Fits   []Fit           // least squares first
	Screen *ScreenState    // of the mill it came through, this stack included
}

// Row is one sieve of the table, or the pan.
type Row struct {
	Sieve    string  // empty for the pan
	Opening  float64 // [m]
	Retained figure.Figure
	Share    figure.Figure
	Passing  *figure.Figure // nil for the pan
}

// sifting is an [Analysis] on its way.
type sifting struct {
	state   *shop.State
	stack   Stack
	opt     Options
	a       sieve.Analysis
	d       sieve.Discrete
	draws   []sieve.Discrete // as the stack might have come out
	records []int64
	allowed fact.Saying // whose allowance the loss is held against
	masses  []figure.Figure
	laws    []fact.Saying // what the fits mean
	judged  sieve.Verdict
	notes   []fact.Saying
	out     Analysis
}

// Of analyses a stack. A stack that makes no sense is a [shop.Error] that
// says what to do; one that is merely odd is analysed, with its doubts among the
// spoilers.
func Of(s *shop.State, stack Stack, opt Options) (Analysis, error) {
	if opt.Fines == 0 {
		opt.Fines = answer.FinesLimit
	}
	for field, v := range map[string]float64{"fines": opt.Fines, "coarse": opt.Coarse} {
		if !(v >= 0 && v <= 1) {
			return Analysis{}, shop.Refuse(shop.Invalid, field, fact.Say("sieving.no_size", fact.Measured("size", quantity.Length, v)), fact.Say("sieving.give_a_size"))
		}
	}
	f := &sifting{state: s, stack: stack, opt: opt}
	f.allow()
	var err error
	if f.a, err = sieve.Weigh(f.stack.Stack); err != nil {
		return Analysis{}, refusal(err)
	}
	f.out = Analysis{Lot: stack.Lot, Record: stack.Record, Simple: len(f.a.Sieves) <= 2}
	f.notes = append(f.notes, stack.Notes...)
	if stack.Photo != nil {
		f.notes = append(f.notes, pictured(*stack.Photo)...)
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
	f.document()
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
		return shop.Refuse(shop.Invalid, "sieves", refused(e), advised(e))
	}
	return shop.OutOfRange("sieves", fact.Saying{}, err)
}

// mine marks a figure as resting on this analysis.
func (f *sifting) mine(g figure.Figure) figure.Figure {
	g.Records = f.records
	return g
}

// weighings writes the charge, what was found of it, and what is missing.
func (f *sifting) weighings() figure.Figure {
	a := f.a
	add := func(key, name string, v float64, basis figure.Basis) figure.Figure {
		g := f.mine(figure.Exact(key, name, quantity.Mass, v, basis))
		f.masses = append(f.masses, g)
		return g
	}
	if a.Charge == 0 {
		return add("found", "sieving.found", a.Recovered, figure.Measured)
	}
	charge := add("charge", "sieving.charge", a.Charge, figure.Measured)
	found := add("found", "sieving.found", a.Recovered, figure.Measured)
	loss := f.mine(figure.Exact("loss", "sieving.loss", quantity.Mass, a.Loss, figure.Reckoned)).From("charge − found", charge, found)
	if a.Loss < 0 {
		loss.Name = "sieving.gain"
	}
	f.masses = append(f.masses, loss)
	share := f.mine(figure.Exact("loss_share", "sieving.loss_share", quantity.Share, a.LossShare, figure.Reckoned)).From("loss ÷ charge", loss, charge).
		Cite(sourceOf(a.Allowance), a.Allowance.Name)
	share = share.Held(figure.Limit{Name: f.allowed.Code, Value: a.Allowance.Share, Side: figure.Below, Holds: holdsOf(a.Closes)})
	f.out.Limits = append(f.out.Limits, answer.Bound{Figure: share})
	closes := a.Closes
	f.out.Closes = &closes
	return found
}

// table writes what lay on each sieve and what passed it.
func (f *sifting) table() error {
	a, found := f.a, f.weighings()
	for i := range a.Retained {
		row := Row{}
		if i < len(a.Sieves) {
			row.Sieve, row.Opening = a.Sieves[i].Designation, a.Sieves[i].Opening
		}
		row.Retained = f.mine(figure.Exact("retained", "sieving.kept_by", quantity.Mass, a.Retained[i], figure.Measured))
		row.Share = f.mine(figure.Exact("share", "sieving.share_kept", quantity.Share, a.Retained[i]/a.Recovered, figure.Reckoned))
		row.Retained.About, row.Share.About = row.Sieve, row.Sieve
		row.Share = row.Share.From("m ÷ Σ m", row.Retained, found)
		if i < len(a.Sieves) {
			q, err := f.spread(figure.Exact("passing", "sieving.finer_than", quantity.Share, a.Passing[i], figure.Reckoned), func(d sieve.Discrete) (float64, bool, error) {
				v, err := d.Cumulative(row.Opening)
				return v, true, err
			})
			if err != nil {
				return refusal(err)
			}
			q.About = row.Sieve
			q = q.From("sieving.how_passing", found)
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
