package exchange

import (
	"math"
	"regexp"
	"slices"
	"strings"

	"hopperful/fact"
	"hopperful/quantity"
)

// The pan stands under the finest sieve and holds what passed it. People write
// it as a word, as a sieve of no hole, as what is finer than the last hole, or
// leave its name out.

// panWords are usual words for it where prints are ground: English, German,
// French, Italian, Spanish, Portuguese, Dutch, Danish and Norwegian, Swedish,
// Polish, Czech, Hungarian, Turkish, Finnish. From dictionaries, from memory.
var panWords = []string{
	"pan", "bottom", "receiver", "bottom pan", "collecting pan", "sieve pan", "base", "tray",
	"boden", "pfanne", "siebpfanne", "siebboden", "auffangschale", "auffangboden", "bodenpfanne", "schale",
	"fond", "fond de tamis", "récipient", "receveur", "plateau",
	"fondo", "piatto", "raccoglitore", "bandeja", "plato", "charola", "fundo", "prato", "coletor",
	"bodem", "opvangbak", "bodembak", "bund", "bundskål", "bunn", "botten", "bottenskål",
	"dno", "denko", "miska", "tálca", "tava", "pohja",
}

// finer is "<0.038", "< 38 µm" or "below 0.5 mm".
var finer = regexp.MustCompile(`^(?i)(?:<|≤|<=|below|under|finer than|unter|kleiner)\s*(\S.*)$`)

// nothing reports a dash, which stands for nothing.
func nothing(text string) bool { return slices.Contains([]string{"-", "–", "—"}, text) }

// unsaid stands for a name that is not there.
const unsaid = "nothing"

// below reports a line that can only be the pan though it does not name it, and
// what stands where the name would. That it is the last sieve of the stack is
// seen when all lines are there.
func (b *builder) below(l line) (said string, ok bool) {
	wide, stamped := l.cell(b.heads.opening), l.cell(b.heads.stamp)
	if wide != "" && stamped != "" {
		if finer.MatchString(wide) || nothing(wide) || b.zero(wide) {
			return wide, nothing(stamped) || b.zero(stamped) || finer.MatchString(stamped)
		}
		return "", false
	}
	said = wide + stamped
	switch at := b.heads.opening; {
	case said == "" && (at == nil || !b.formula(l.number, at.at)):
		return unsaid, true
	case nothing(said), b.zero(said), finer.MatchString(said):
		return said, true
	}
	return "", false
}

// zero reports a hole of no size.
func (b *builder) zero(text string) bool {
	v, err := quantity.Length.ParseOr(b.plain(text), "mm")
	return err == nil && v == 0
}

// panOf takes the pan's line; said is what it was known by instead of its name.
func (b *builder) panOf(l line, said string) error {
	switch {
	case b.pan != nil && said == unsaid:
		return b.unnamed(l.number)
	case b.pan != nil && b.panSaid != "":
		return b.unnamed(b.pan.line)
	case b.pan != nil:
		return b.fault(l.number, -1, "", fact.Say("exchange.pan_twice"), fact.Say("exchange.do_mass_once"))
	}
	masses, err := b.masses(l)
	if err != nil {
		return err
	}
	b.pan, b.panSaid = &row{line: l.number, mass: masses}, said
	return nil
}

func (b *builder) unnamed(at int) error {
	if c := b.heads.opening; c != nil && b.formula(at, c.at) {
		return b.unworked(at, c.at, c.word)
	}
	return b.fault(at, 0, "", fact.Say("exchange.no_sieve_named"), fact.Say("exchange.do_opening"))
}

// panFits holds a pan that was not named against the sieves above it: it stands
// at their end, under the finest, and is not their sum.
func (b *builder) panFits() error {
	if b.pan == nil || b.panSaid == "" || len(b.rows) == 0 {
		return nil
	}
	first, last, finest := math.MaxInt, 0, math.Inf(1)
	for _, r := range b.rows {
		first, last, finest = min(first, r.line), max(last, r.line), min(finest, r.sieve.Opening)
	}
	at := b.pan.line
	if at > first && at < last {
		return b.unnamed(at)
	}
	if at < first && len(b.rows) > 1 && b.rows[0].sieve.Opening > b.rows[1].sieve.Opening {
		return b.unnamed(at) // above the coarsest sieve
	}
	if m := finer.FindStringSubmatch(b.panSaid); m != nil {
		unit := ""
		if b.heads.opening != nil {
			unit = b.heads.opening.unit
		}
		wide, err := quantity.Length.ParseOr(b.plain(m[1]), unit)
		if err != nil || math.Abs(wide/finest-1) > stampSlack {
			return b.fault(at, 0, "", fact.Say("exchange.pan_size", fact.Name("text", b.panSaid), fact.Measured("finest", quantity.Length, finest)),
				fact.Say("exchange.do_pan_or_size"))
		}
	}
	if nothing(b.panSaid) || b.panSaid == unsaid {
		if sum := b.onSieves(); sum > 0 && math.Abs(b.pan.mass[0].Mass-sum) <= 0.002*sum+1e-4 {
			return b.fault(at, 0, "", fact.Say("exchange.pan_or_sum"), fact.Say("exchange.do_pan_or_total"))
		}
	}
	said := strings.TrimSpace(b.panSaid)
	if said == unsaid {
		said = ""
	}
	b.note(fact.Say("exchange.taken_as_pan", fact.Count("line", at), fact.Name("text", said)))
	return nil
}

// onSieves is what the sieves of the first portion hold [kg].
func (b *builder) onSieves() float64 {
	sum := 0.0
	for _, r := range b.rows {
		sum += r.mass[0].Mass - r.mass[0].Tare
	}
	return sum
}
