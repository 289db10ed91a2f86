// Package figure holds the explained number: a value with its unit, its 10–90 %
// range and how it came about. Everything a plan says is made of figures, so
// every page, table and JSON answer can unfold the reasons without knowing the
// science.
package figure

import (
	"math"

	"hopperful/quantity"
	"hopperful/source"
)

// Basis is the quiet word beside a number for where it comes from.
type Basis string

// The bases.
const (
	Books    Basis = "from books"  // a range that somebody published
	Guessed  Basis = "guess"       // from a table of ours, with nothing one could look up behind it; see [Figure.Origin]
	Measured Basis = "measured"    // read off an instrument, in a record
	Entered  Basis = "you entered" // typed by the user, a setting
	Assumed  Basis = "assumed"     // nobody said; a stated default
	Reckoned Basis = "reckoned"    // follows from other figures by a formula
	Learned  Basis = "learned"     // a model fitted to this shop's own runs; see Runs
)

// Side says on which side of a limit a value has to stay.
type Side string

// The sides.
const (
	Below Side = "at most"
	Over  Side = "at least"
)

// Limit is a bound a figure is held against.
type Limit struct {
	Name  string  // "softening point less 10 K"
	Value float64 // SI
	Side  Side
	// Holds is the share of draws that keep the limit, NaN where nothing was
	// drawn.
	Holds float64
	Basis Basis // only where the bound itself is a guess or assumed; see [Limit.On]
}

// On is the limit with a word for a bound that f only guesses or assumes.
func (l Limit) On(f Figure) Limit {
	if s := f.Standing(); s == Guessed || s == Assumed {
		l.Basis = s
	}
	return l
}

// Open reports a limit of which nobody knows where it lies: at most infinitely
// much, or at least infinitely little. Everything keeps it, and it is not shown.
func (l Limit) Open() bool {
	return l.Side == Below && math.IsInf(l.Value, 1) || l.Side == Over && math.IsInf(l.Value, -1)
}

// Figure is one explained number.
type Figure struct {
	Key      string        // stable snake_case name for scripts: "charge_mass"
	Name     string        // what it is: a code of the catalogue of words, or the user's words: "grams a charge"
	About    string        // a name that the name and the formula are filled with: "PLA"; may be empty
	At       string        // under which conditions it holds, parted by ", " and "; "; may be empty
	Kind     quantity.Kind // of Value, Low and High
	Value    float64       // SI: measured, entered or the median of the draws
	Low      float64       // SI: 10 % of the draws lie below; = Value when exact
	High     float64       // SI: 10 % of the draws lie above; = Value when exact
	Basis    Basis         // where it comes from
	Runs     int           // how many of the shop's runs stand behind it
	How      string        // formula in plain text, the symbols named as the inputs
	Inputs   []Figure      // what went in
	Sources  []source.Ref  // where formula or value come from
	Records  []int64       // ids of the shop's records behind it
	Limit    *Limit        // nil when it is held against nothing
	Warnings []string      // what to bear in mind; never stops the reckoning
	Currency string        // of Money kinds: "EUR"
}
