// What can be wrong with a stack as entered: refusals, doubts, warnings.

package sieve

import "fmt"

// Code is the kind of a refusal, doubt or warning.
type Code string

// The refusals.
const (
	UnknownSieve Code = "unknown sieve"
	WrongOrder   Code = "wrong order"
	SameSieve    Code = "same sieve twice"
	WrongNumber  Code = "readings missing or left over"
	NegativeMass Code = "negative mass"
	NotANumber   Code = "not a number"
	AllEmpty     Code = "all empty"
	TooFew       Code = "too few sieves"
	NotReached   Code = "beyond the sieves"
)

// The doubts and warnings.
const (
	TareForgotten Code = "tare forgotten"
	Loss          Code = "loss"
	Gain          Code = "gain"
	ChargeUnknown Code = "charge not weighed"
	MixedForms    Code = "round and square holes"
	CoarseTop     Code = "top sieve holds much"
	FullPan       Code = "pan holds much"
	WideStep      Code = "wide gap between sieves"
)

// EntryError refuses an entry.
type EntryError struct {
	Code    Code
	Portion int    // from 1, 0 when it concerns all
	Row     int    // row of the stack from 1, the pan last; 0 when it concerns all
	What    string // what was wrong
	Hint    string // what to do
}

// Error renders place, fault and hint.
func (e *EntryError) Error() string {
	where := ""
	if e.Portion > 1 {
		where = fmt.Sprintf("portion %d, ", e.Portion)
	}
	if e.Row > 0 {
		where += fmt.Sprintf("row %d: ", e.Row)
	}
	if e.Hint == "" {
		return where + e.What
	}
	return where + e.What + "; " + e.Hint
}

// Doubt asks about an entry that is possible but unlikely. The analysis is
// reckoned as entered; whoever entered it decides.
type Doubt struct {
	Code    Code
	Portion int     // from 1
	Value   float64 // what it would explain: the tare of each row [kg]
	Rows    int     // how many rows it would concern
}
