package exchange

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"hopperful/fact"
	"hopperful/process/sieve"
	"hopperful/quantity"
)

// factWords are the words of such lines.
var factWords = []string{"charge", "lot", "hole", "screen hole", "holes", "long grains"}

// inGerman are the same words in German.
var inGerman = map[string]string{"einwaage": "charge", "aufgabe": "charge", "füllung": "charge", "posten": "lot", "loch": "hole", "lochblech": "screen hole",
	"löcher": "holes", "lange körner": "long grains"}

// fact understands a line that says something of the whole stack: its charge,
// its lot, the screen's hole, the form of the sieves' holes.
func (b *builder) fact(l line) (known bool, err error) {
	word, unit, _ := read(l.cells[0])
	word = cmp.Or(inGerman[word], word)
	said := ""
	at := 0
	for i, c := range l.cells[1:] {
		if c != "" && said == "" {
			said, at = c, i+1
		}
	}
	if at == 0 && slices.Contains(factWords, word) {
		for i := range len(l.cells) + 1 {
			if b.formula(l.number, i) {
				return true, b.unworked(l.number, i, word)
			}
		}
	}
	switch word {
	case "charge":
		return true, b.chargeOf(l, unit)
	case "lot":
		b.stack.Lot = strings.ToUpper(said)
	case "hole", "screen hole":
		if said == "" {
			break
		}
		hole, err := b.number(quantity.Length, l.number, at, word, said, unit)
		if err != nil {
			return true, err
		}
		b.stack.Hole = &hole
	case "holes":
		form, ok := map[string]sieve.Form{"": b.form, "woven": sieve.Woven, "round": sieve.PlateRound, "square": sieve.PlateSquare,
			"gewebe": sieve.Woven, "rund": sieve.PlateRound, "quadratisch": sieve.PlateSquare}[strings.ToLower(said)]
		if !ok {
			return true, b.fault(l.number, at, word, fact.Say("exchange.no_form", fact.Name("text", said)), fact.Say("exchange.do_form"))
		}
		if form != b.form && len(b.rows) > 0 {
			return true, b.fault(l.number, at, word, fact.Say("exchange.form_below"), fact.Say("exchange.do_above"))
		}
		b.form = form
	case "long grains":
		if said == "" {
			break
		}
		n, err := strconv.Atoi(said)
		if err != nil || n < 0 || n > 1e6 {
			return true, b.fault(l.number, at, word, fact.Say("exchange.no_count", fact.Name("text", said)), fact.Say("exchange.do_count_long"))
		}
		b.stack.Long = &n
	default:
		return false, nil
	}
	return true, nil
}

// chargeOf reads what was put on the sieves: a portion each under the columns of
// masses, or one number anywhere in the line.
func (b *builder) chargeOf(l line, unit string) error {
	var charge []float64
	one := func(i int, text string, c *column) error {
		u := unit
		if u == "" && c != nil {
			u = c.unit
		}
		v, err := b.number(quantity.Mass, l.number, i, "charge", text, u)
		if err == nil && v <= 0 {
			err = b.fault(l.number, i, "charge", fact.Say("exchange.no_charge", fact.Name("charge", text)), fact.Say("exchange.do_charge"))
		}
		charge = append(charge, v)
		return err
	}
	if len(b.weighed) > 1 {
		for _, w := range b.weighed {
			c := w.net
			if c == nil {
				c = w.full
			}
			if text := l.cell(c); text != "" {
				if err := one(c.at, text, c); err != nil {
					return err
				}
			}
		}
		if len(charge) < len(b.weighed) && len(l.cells) > 1 {
			return b.fault(l.number, -1, "charge", fact.Say("exchange.some_charges", fact.Count("n", len(charge)), fact.Count("of", len(b.weighed))), fact.Say("exchange.do_all_charges"))
		}
		b.charge = charge
		return nil
	}
	for i, text := range l.cells[1:] {
		if text == "" {
			continue
		}
		if err := one(i+1, text, b.columnAt(i+1)); err != nil {
			return err
		}
		b.charge = charge
		return nil
	}
	return nil
}

// columnAt is the column of masses there, or the only one.
func (b *builder) columnAt(i int) *column {
	for j := range b.heads.masses {
		if b.heads.masses[j].at == i {
			return &b.heads.masses[j]
		}
	}
	if len(b.heads.masses) == 1 {
		return &b.heads.masses[0]
	}
	return nil
}
