package shop

// Code sorts refusals by what an edge does with them.
type Code string

// The codes.
const (
	Invalid  Code = "invalid"   // a value cannot be right
	NotFound Code = "not_found" // a lot, machine or record of that name is not there
	Conflict Code = "conflict"  // it contradicts what is already recorded
)

// Error is a refusal in the user's words.
type Error struct {
	Code  Code
	Field string // the body's JSON name of the field: "charge_kg", "mill.chamber_m3", "into.0.mass_kg"; may be empty
	Say   string // one sentence: what is wrong, with the values
	Hint  string // what to do about it
}

// Error is the sentence and the hint.
func (e *Error) Error() string {
	if e.Hint == "" {
		return e.Say
	}
	return e.Say + " " + e.Hint
}

func invalid(field, say, hint string) *Error {
	return &Error{Code: Invalid, Field: field, Say: say, Hint: hint}
}

func conflict(field, say, hint string) *Error {
	return &Error{Code: Conflict, Field: field, Say: say, Hint: hint}
}

// named refuses an empty name.
func named(name, field, what string) error {
	if name != "" {
		return nil
	}
	return invalid(field, "The "+what+" has no name.", "Give it one; records are written under it.")
}
