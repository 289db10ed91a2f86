// The refusals of the readers: what was wrong, where, what to do.

package mesh

import "strings"

// Fault is the kind of a refusal, for programs that decide by it.
type Fault string

// The kinds of refusal.
const (
	Truncated   Fault = "truncated"     // the input ends too early, or not where a facet ends
	Malformed   Fault = "malformed"     // not what the format asks for
	NotFinite   Fault = "not a number"  // a coordinate is NaN, infinite or absurdly large
	TooLarge    Fault = "too large"     // beyond one of the Limits
	Unsupported Fault = "not supported" // a legal file that needs more than this reader knows
	Empty       Fault = "empty"         // nothing in it to measure
	Unreadable  Fault = "not readable"  // the stream itself failed; see Err
)

// ReadError says why an input was refused.
type ReadError struct {
	Fault Fault
	Where string // "facet 12", "byte 84", "line 7", "3D/part.model, byte 310"; may be empty
	What  string // what was wrong there
	Hint  string // what to do about it; may be empty
	Err   error  // the cause below, when there is one
}

// Error renders place, fault, cause and hint in one line.
func (e *ReadError) Error() string {
	var b strings.Builder
	if e.Where != "" {
		b.WriteString(e.Where + ": ")
	}
	b.WriteString(e.What)
	if e.Err != nil {
		b.WriteString(": " + e.Err.Error())
	}
	if e.Hint != "" {
		b.WriteString("; " + e.Hint)
	}
	return b.String()
}

// Unwrap gives the cause below.
func (e *ReadError) Unwrap() error { return e.Err }
