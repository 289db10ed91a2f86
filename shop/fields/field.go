// Package fields is the one table of what a record is asked: each field with its
// path, kind, unit, bounds, words and help. The shop's checks, the forms of the
// pages, the flags of the command line and the documentation come from it, so that
// no edge asks for less than another, or takes what another refuses.
package fields

import (
	"fmt"
	"strings"

	"hopperful/quantity"
)

// Field is one question of a record.
type Field struct {
	Path  string        // in the record's body: "charge_kg", "mill.screen.hole_m"
	As    As            // how it is answered
	Kind  quantity.Kind // of an amount or a count
	Unit  string        // beside the field of a form; a bare number there is in it
	Lo    float64       // bounds of a number, in SI. Judgement: they catch a slip of unit or point
	Hi    float64       // and never a rare machine
	Words string        // what a refusal calls it: "rest before the run"
	Label string        // of the question on a page
	Help  string        // beside it
	Flag  string        // on the command line; "" for what is a word of the command
	Usage string        // of the flag
	Must  bool          // the record says nothing without it
	Pick  []Choice      // of a choice
}

// As says how a field is answered.
type As string

// The ways.
const (
	Amount As = "amount" // a quantity with its unit
	Whole  As = "whole"  // a whole number
	Text   As = "text"
	YesNo  As = "yesno"  // yes, no, or not known
	Pick   As = "choice" // one of a few
	Check  As = "check"  // said or not
	Colour As = "colour" // of a screen
	Levels As = "levels" // watts at levels of a controller
	Lot    As = "lot"    // a lot's label
	Named  As = "named"  // the name of a machine of the shop
)

// Choice is one answer of a choice.
type Choice struct{ Value, Say string }

// Numeric reports a field whose answer is a number with bounds.
func (f Field) Numeric() bool { return f.As == Amount || f.As == Whole || f.As == Levels }

// tables holds the fields of each kind of record that has moved here, in the order
// a page asks them.
var tables = map[string][]Field{"ground": ground, "taken_in": takenIn, "mill_set": mill}

// Kinds are the kinds of records in the table.
func Kinds() []string { return []string{"taken_in", "ground", "mill_set"} }

// Of are the fields of a kind of record; nil when it has none here.
func Of(kind string) []Field { return tables[kind] }

// Get is one field of a record. A path that is in no table is a slip of the
// program, found by the first test that builds the form or the command.
func Get(kind, path string) Field {
	f, ok := Find(kind, path)
	if !ok {
		panic(fmt.Sprintf("record %s has no field %s", kind, path))
	}
	return f
}

// Find is the same for who does not know whether it is there. A number in the
// path, the place in a list, is passed over.
func Find(kind, path string) (Field, bool) {
	for _, f := range tables[kind] {
		if f.Path == path {
			return f, true
		}
	}
	return Field{}, false
}

// Bounds are the bounds as people write them: "10 mg to 1 t"; "" for what is no
// number.
func (f Field) Bounds() string {
	if !f.Numeric() {
		return ""
	}
	return strings.TrimSpace(f.Kind.Plain(f.Lo) + " to " + f.Kind.Plain(f.Hi))
}
