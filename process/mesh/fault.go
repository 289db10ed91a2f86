// The refusals of the readers: what was wrong, and where.

package mesh

import (
	"fmt"
	"strings"
)

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

// Place is where in an input something is.
type Place struct {
	Part string // of a package: "3D/part.model"; may be empty
	Of   string // what is counted: "facet", "byte", "line"; "" for the whole part
	N    int64
}

// String is "line 7" or "3D/part.model, byte 310".
func (p Place) String() string {
	if p.Of == "" {
		return p.Part
	}
	return strings.TrimPrefix(fmt.Sprintf("%s, %s %d", p.Part, p.Of, p.N), ", ")
}

// ReadError says why an input was refused. Edges word it by fault and place.
type ReadError struct {
	Fault Fault
	Where Place  // may be empty
	What  string // what was wrong there, for who looks into the file
	Err   error  // the cause below, when there is one
}

// Error renders place, fault and cause in one line.
func (e *ReadError) Error() string {
	var b strings.Builder
	if e.Where != (Place{}) {
		b.WriteString(e.Where.String() + ": ")
	}
	b.WriteString(e.What)
	if e.Err != nil {
		b.WriteString(": " + e.Err.Error())
	}
	return b.String()
}

// Unwrap gives the cause below.
func (e *ReadError) Unwrap() error { return e.Err }
