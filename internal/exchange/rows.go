package exchange

import (
	"errors"
	"math"
	"slices"
	"strconv"

	"hopperful/fact"
	"hopperful/process/sieve"
	"hopperful/quantity"
	"hopperful/shop"
)

// names of a sum.
var sumWords = []string{"total", "sum", "totals"}

// cell is the text of a column in a line, "" beyond its end.
func (l line) cell(c *column) string {
	if c == nil || c.at >= len(l.cells) {
		return ""
	}
	return l.cells[c.at]
}

// take understands one line below the heading.
func (b *builder) take(l line) error {
	word, _, _ := read(l.cells[0])
	named := func(list []string) bool {
		at, _, _ := read(l.cell(b.heads.opening))
		by, _, _ := read(l.cell(b.heads.stamp))
		return slices.Contains(list, word) || slices.Contains(list, at) || slices.Contains(list, by)
	}
	switch {
	case named(sumWords):
		return b.total(l)
	case named(panWords):
		return b.panOf(l, "")
	}
	if known, err := b.fact(l); known || err != nil {
		return err
	}
	if said, ok := b.below(l); ok {
		return b.panOf(l, said)
	}
	one, err := b.sieveOf(l)
	if err != nil {
		return err
	}
	masses, err := b.masses(l)
	if err != nil {
		return err
	}
	b.rows = append(b.rows, row{line: l.number, sieve: one, mass: masses})
	return nil
}

// stampSlack is how far an opening may lie from the one stamped on the sieve:
// sieves of one's own carry rounded names (judgement).
const stampSlack = 0.01

// sieveOf reads which sieve a line is about.
func (b *builder) sieveOf(l line) (sieve.Sieve, error) {
	wide, stamped := l.cell(b.heads.opening), l.cell(b.heads.stamp)
	switch {
	case wide == "" && stamped == "":
		return sieve.Sieve{}, b.unnamed(l.number)
	case wide == "":
		return b.bySize(l, b.heads.stamp, stamped)
	case stamped == "":
		return b.bySize(l, b.heads.opening, wide)
	}
	one, err := b.bySize(l, b.heads.opening, wide)
	if err != nil {
		return one, err
	}
	if two, err := sieve.ByDesignation(b.plain(stamped)); err == nil && math.Abs(two.Opening/one.Opening-1) > stampSlack {
		return one, b.fault(l.number, b.heads.stamp.at, b.heads.stamp.word, fact.Say("exchange.stamp_differs", fact.Name("stamp", stamped), fact.Name("opening", wide)), fact.Say("exchange.do_correct_one"))
	}
	return one, nil
}

// bySize finds a sieve by what is stamped on it or by its opening.
func (b *builder) bySize(l line, c *column, text string) (sieve.Sieve, error) {
	text = b.plain(text)
	if _, err := strconv.ParseFloat(text, 64); err == nil && c.unit != "" {
		text += " " + c.unit
	}
	known, unknown := sieve.ByDesignation(text)
	if unknown == nil && b.form == sieve.Woven {
		return known, nil
	}
	wide := known.Opening
	if unknown != nil {
		var err error
		if wide, err = quantity.Length.Parse(text); err != nil {
			return sieve.Sieve{}, b.fault(l.number, c.at, c.word, fact.Say("exchange.no_sieve", fact.Name("text", l.cell(c))), fact.Say("exchange.do_name_sieve"))
		}
	}
	own, err := sieve.Own(wide, b.form)
	if err != nil {
		return own, b.fault(l.number, c.at, c.word, fact.Say("exchange.size_outside", fact.Name("text", l.cell(c)), fact.Parts("why", shop.WhyNot(err))), fact.Say("exchange.do_check_number"))
	}
	return own, nil
}

// masses reads what a line weighs, a portion each. A mass that is not there is
// refused: whether the sieve was empty, or was not in the stack, or was
// forgotten, only a person knows.
func (b *builder) masses(l line) (all []sieve.Row, err error) {
	for p, w := range b.weighed {
		r, ok, err := b.mass(l, w)
		switch {
		case err != nil:
			return nil, err
		case !ok:
			return nil, b.noMass(l, p, w)
		}
		all = append(all, r)
	}
	return all, nil
}

// noMass says which mass is missing, and how it may have come about.
func (b *builder) noMass(l line, portion int, w weighing) error {
	c := w.net
	if c == nil {
		c = w.full
	}
	what := fact.Say("exchange.mass_missing")
	if len(b.weighed) > 1 {
		what = fact.Say("exchange.portion_missing", fact.Count("portion", portion+1))
	}
	if text := l.cell(c); text != "" {
		what = fact.Say("exchange.no_mass", fact.Name("text", text))
	}
	if b.formula(l.number, c.at) {
		return b.unworked(l.number, c.at, c.word)
	}
	return b.fault(l.number, c.at, c.word, what, fact.Say("exchange.do_zero_or_out"))
}

// mass reads one portion: net, or full and empty, or all three if they agree.
func (b *builder) mass(l line, w weighing) (r sieve.Row, ok bool, err error) {
	at := func(c *column) (v float64, there bool, err error) {
		text := l.cell(c)
		if text == "" || nothing(text) {
			return 0, false, nil
		}
		if v, err = b.number(quantity.Mass, l.number, c.at, c.word, text, c.unit); err != nil {
			return 0, false, err
		}
		if v < 0 {
			return 0, false, b.fault(l.number, c.at, c.word, fact.Say("exchange.negative", fact.Name("mass", text)), fact.Say("exchange.do_zero"))
		}
		return v, true, nil
	}
	net, hasNet, err1 := at(w.net)
	gross, hasFull, err2 := at(w.full)
	tare, hasEmpty, err3 := at(w.empty)
	if err := errors.Join(err1, err2, err3); err != nil {
		return r, false, firstOf(err1, err2, err3)
	}
	switch {
	case hasFull && !hasEmpty && !hasNet && b.formula(l.number, w.empty.at):
		return r, false, b.unworked(l.number, w.empty.at, w.empty.word)
	case hasFull && !hasEmpty && !hasNet:
		return r, false, b.fault(l.number, w.empty.at, w.empty.word, fact.Say("exchange.tare_missing"), fact.Say("exchange.do_weigh_empty"))
	case hasFull && hasEmpty && gross < tare:
		return r, false, b.fault(l.number, w.full.at, w.full.word, fact.Say("exchange.lighter_than_empty", fact.Name("full", l.cell(w.full)), fact.Name("empty", l.cell(w.empty))), fact.Say("exchange.do_weigh_empty_again"))
	case hasFull && hasEmpty && hasNet && math.Abs(gross-tare-net) > 0.01*net+1e-4: // a digit of the scale
		return r, false, b.fault(l.number, w.net.at, w.net.word, fact.Say("exchange.net_differs", fact.Name("net", l.cell(w.net)), fact.Measured("rest", quantity.Mass, gross-tare)), fact.Say("exchange.do_correct_or_leave"))
	case hasFull && hasEmpty:
		return sieve.Row{Mass: gross, Tare: tare}, true, nil
	}
	return sieve.Row{Mass: net}, hasNet, nil
}

func firstOf(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// total holds a line of sums against the rows above it.
func (b *builder) total(l line) error {
	for p, w := range b.weighed {
		if w.net == nil || l.cell(w.net) == "" {
			continue
		}
		said, err := b.number(quantity.Mass, l.number, w.net.at, w.net.word, l.cell(w.net), w.net.unit)
		if err != nil {
			return err
		}
		sum := 0.0
		for _, r := range b.rows {
			sum += r.mass[p].Mass - r.mass[p].Tare
		}
		if b.pan != nil {
			sum += b.pan.mass[p].Mass - b.pan.mass[p].Tare
		}
		if math.Abs(sum-said) > 0.002*sum+1e-4 {
			b.note(fact.Say("exchange.total_differs", fact.Name("total", l.cell(w.net)), fact.Measured("sum", quantity.Mass, sum)))
		}
	}
	return nil
}
