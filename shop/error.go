package shop

import (
	"errors"
	"strings"

	"hopperful/fact"
)

// Code sorts refusals by what an edge does with them.
type Code string

// The codes.
const (
	Invalid  Code = "invalid"   // a value cannot be right
	NotFound Code = "not_found" // a lot, machine or record of that name is not there
	Conflict Code = "conflict"  // it contradicts what is already recorded
	Repeated Code = "repeated"  // the same device has sent it already; nothing is to be done
)

// Error is a refusal: what is wrong and what to do about it, as codes with their
// facts that the edges word.
type Error struct {
	Code   Code
	Field  string      // the body's JSON name of the field: "charge_kg", "mill.chamber_m3", "into.0.mass_kg"; may be empty
	What   fact.Saying // what is wrong, with the values
	Advice fact.Saying // what to do about it; may be empty
}

// Refuse makes a refusal.
func Refuse(code Code, field string, what, advice fact.Saying) *Error {
	return &Error{Code: code, Field: field, What: what, Advice: advice}
}

// NoLot refuses a label that no lot has.
func NoLot(field string, id LotID) *Error {
	return Refuse(NotFound, field, fact.Say("shop.no_lot", fact.Lot("lot", string(id), "")), fact.Say("shop.stock_lists"))
}

// Error is the code of what is wrong, for logs; the edges word it.
func (e *Error) Error() string { return e.What.Code }

// whatOf is what a refusal says is wrong, of another error its text.
func whatOf(err error) fact.Saying {
	var e *Error
	if errors.As(err, &e) {
		return e.What
	}
	return WhyNot(err)
}

func invalid(field string, what, advice fact.Saying) *Error {
	return Refuse(Invalid, field, what, advice)
}

func conflict(field string, what, advice fact.Saying) *Error {
	return Refuse(Conflict, field, what, advice)
}

// repeated refuses what was sent and written before.
func repeated(was RecordID) *Error {
	return Refuse(Repeated, "key", fact.Say("shop.sent_already", fact.Count("n", int(was))), fact.Saying{})
}

// named refuses an empty name, which none says.
func named(name, field string, none fact.Saying) error {
	if name != "" {
		return nil
	}
	return Refuse(Invalid, field, none, fact.Say("shop.give_name"))
}

// Faults are several refusals of one record, in the order of its fields.
type Faults []*Error

// Error is all of them, a line each.
func (f Faults) Error() string {
	var lines []string
	for _, e := range f {
		lines = append(lines, e.Error())
	}
	return strings.Join(lines, "\n")
}

// Unwrap gives each by itself; errors.As finds the first.
func (f Faults) Unwrap() []error {
	all := make([]error, len(f))
	for i, e := range f {
		all[i] = e
	}
	return all
}
