package figure

import (
	"fmt"
	"math"
	"strings"

	"hopperful/quantity"
)

// IsForecast reports whether the figure is a range rather than one value.
func (f Figure) IsForecast() bool { return f.Low < f.High }

// Shown is the value with its unit as people read it. What was measured keeps
// three digits; a forecast has two, since its range says the rest; what was
// chosen or typed has no zeros that say nothing.
func (f Figure) Shown() string {
	switch {
	case f.Basis == Measured:
		return f.priced(f.Kind.Show(f.Value))
	case f.IsForecast() && f.Basis != Entered:
		return f.priced(f.rough())
	}
	return f.priced(f.Kind.Plain(f.Value))
}

// astray is the share of a value by which its rounded form may lie outside the
// figure's own range before it looks wrong beside it.
const astray = 0.005

// rough has two digits, or three where two would leave the figure's own range.
func (f Figure) rough() string {
	shown := f.Kind.Rough(f.Value)
	slack := astray * math.Abs(f.Value)
	if v, err := f.Kind.Parse(shown); err == nil && (v < f.Low-slack || v > f.High+slack) {
		return f.Kind.Show(f.Value)
	}
	return shown
}

// ShownRange is the 10–90 % range in one unit, "1.1–1.4 kg"; "" when the figure
// is no forecast.
func (f Figure) ShownRange() string {
	if !f.IsForecast() {
		return ""
	}
	return f.priced(f.Kind.Span(f.Low, f.High))
}

// ShownLimit is the limit as people read it, "at most 62.0 °C"; "" without one, or
// when nobody knows where it lies.
func (f Figure) ShownLimit() string {
	if f.Limit == nil || f.Limit.Open() {
		return ""
	}
	return string(f.Limit.Side) + " " + f.priced(f.Kind.Plain(f.Limit.Value))
}

// Standing is the basis a person has to know: what stands in a table of ours, but with
// nothing one could look up behind it, is a guess.
func (f Figure) Standing() Basis {
	if f.Basis != Books || len(f.Sources) == 0 {
		return f.Basis
	}
	for _, s := range f.Sources {
		if !s.Guess() {
			return Books
		}
	}
	return Guessed
}

// Origin is the quiet word beside the number: "from books", "you entered",
// "from 14 runs".
func (f Figure) Origin() string {
	switch {
	case f.Basis == Learned && f.Runs == 1:
		return "from 1 run"
	case f.Basis == Learned && f.Runs > 1:
		return fmt.Sprintf("from %d runs", f.Runs)
	}
	return string(f.Standing())
}

// Source is the figure's own sources on one line; "" when it cites none.
func (f Figure) Source() string {
	parts := make([]string, 0, len(f.Sources))
	for _, r := range f.Sources {
		parts = append(parts, r.String())
	}
	return strings.Join(parts, "; ")
}

// Unit is the SI unit of Value, Low and High, with the currency where the kind
// is a price: "kg", "EUR per kg".
func (f Figure) Unit() string { return f.priced(f.Kind.SI()) }

// priced puts the currency where it belongs: behind a sum, before "per".
func (f Figure) priced(shown string) string {
	if f.Currency == "" || !isMoney(f.Kind) {
		return shown
	}
	if at := strings.Index(shown, "per "); at >= 0 {
		return shown[:at] + f.Currency + " " + shown[at:]
	}
	return strings.TrimSpace(shown + " " + f.Currency)
}

func isMoney(k quantity.Kind) bool {
	return k == quantity.Money || k == quantity.MoneyPerEnergy || k == quantity.MoneyPerMass
}
