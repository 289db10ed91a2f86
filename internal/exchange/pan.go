package exchange

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

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
		return "nothing", true
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
	case b.pan != nil && said == "nothing":
		return b.unnamed(l.number)
	case b.pan != nil && b.panSaid != "":
		return b.unnamed(b.pan.line)
	case b.pan != nil:
		return b.fault(l.number, -1, "", "the pan stands twice.", "Enter its mass once.")
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
		return b.fault(at, c.at, c.word, "the formula in this cell has no value.", formulaHint)
	}
	return b.fault(at, 0, "", "no sieve is named.", "Write its opening, such as 2 mm, or pan.")
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
			return b.fault(at, 0, "", fmt.Sprintf("%q is the pan only under a sieve of that size; the finest is %s.", b.panSaid, quantity.Length.Show(finest)),
				"Write pan, or correct the size.")
		}
	}
	if nothing(b.panSaid) || b.panSaid == "nothing" {
		if sum := b.onSieves(); sum > 0 && math.Abs(b.pan.mass[0].Mass-sum) <= 0.002*sum+1e-4 {
			return b.fault(at, 0, "", "this may be the pan or the sum of the lines above it.", "Write pan or total in front of it.")
		}
	}
	b.note("Line %d, with %s for a name, was taken as the pan.", at, strings.TrimSpace(b.panSaid))
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
