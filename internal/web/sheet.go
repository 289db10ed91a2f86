package web

import (
	"hopperful/quantity"
	"hopperful/shop"
)

// A sheet is the paper form of one kind of record: which questions it asks, in
// which order. The name of a field is the path of its answer in the record's
// body ("mill.screen.hole_m"), so a sheet reads into a body, shows a body again
// for correction, and finds its place when the shop refuses a value, all by the
// same name.
type sheet struct {
	Kind   string // of the record's body
	Title  string
	Intro  string
	Submit string // on the button
	Place  string // which of the five places it belongs to
	Groups []group
	Timed  bool       // asks when, who and a note
	Stack  *stack     // the sieves it asks for, for another choice of them
	Clock  *stopwatch // at the head of the sheet, for who stands at the machine

	// Shape puts right what was read into the body before it is made.
	Shape func(tree map[string]any)
	// check says what is wrong beyond single fields, before the shop is asked.
	Check func(in *input)
	// after is where to go once the record is written.
	After func(st *shop.State, r shop.Record) string
}

// stopwatch times what happens at a machine, and fills in what it timed. It is
// drawn only where JavaScript runs; the fields it fills stand on their own.
type stopwatch struct {
	Fills  string  // path of the time from start to stop
	Since  string  // path of the time since the last stop; "" when nobody asks
	Then   string  // path of the answer to give next
	Target float64 // when to stop [s]; 0 for none
	Shown  string  // the target in words
}

// group is a few questions under one heading; a folded one holds what most
// people leave out.
type group struct {
	Title, Intro string
	Folded       bool
	Class        string // of how it is drawn, "" for the usual way
	Fields       []field
}

// field is one question.
type field struct {
	Path    string // of the answer in the body
	Label   string
	Help    string
	As      entry
	Kind    quantity.Kind // of an amount
	Unit    string        // assumed for a bare number and printed beside the field
	Choices []option      // of a choice; of a whole number only offered
	Must    bool          // the record says nothing without it
	First   string        // filled in on an empty sheet: a sensible default
	Hint    string        // stands in the empty field: what is taken then
	Dial    *dial         // ends to move the number between with a finger; nil: none
	Opening float64       // of the sieve the answer belongs to [m], for the live curve
	Suggest []string      // offered while typing, anything else may be typed
}

// entry says how a field is answered.
type entry string

// The kinds of answers.
const (
	asText   entry = "text"
	asLong   entry = "long"   // several lines
	asAmount entry = "amount" // a quantity with its unit
	asWhole  entry = "whole"  // a whole number
	asYesNo  entry = "yesno"  // yes, no, or not known
	asChoice entry = "choice" // one of a few
	asSelect entry = "select" // one of many
	asCheck  entry = "check"  // a box
	asColour entry = "colour" // a picked colour, or none
	asLevels entry = "levels" // watts at levels of a controller, a line each
	asFile   entry = "file"   // an uploaded file
	asMoment entry = "moment" // a date and time
	asList   entry = "list"   // several quantities, a line each
	asCurve  entry = "curve"  // wavelengths and what is sent back there, a line each
	asCode   entry = "code"   // a colour code as text, which may be left out
	asShares entry = "shares" // colour codes with their shares
	asMany   entry = "many"   // any number of some choices
	asHidden entry = "hidden"
)

// option is one answer of a choice.
type option struct{ Value, Say string }

// amount asks for a quantity.
func amount(path, label string, kind quantity.Kind, unit, help string) field {
	return field{Path: path, Label: label, As: asAmount, Kind: kind, Unit: unit, Help: help}
}

// text asks for a few words.
func text(path, label, help string) field {
	return field{Path: path, Label: label, As: asText, Help: help}
}

// yesNo asks what may also be unknown.
func yesNo(path, label, help string) field {
	return field{Path: path, Label: label, As: asYesNo, Help: help,
		Choices: []option{{"yes", "form.yes"}, {"no", "form.no"}, {"", "form.dont_know"}}}
}

// must marks the answer the record says nothing without.
func (f field) must() field { f.Must = true; return f }

// first fills an empty sheet with a sensible answer.
func (f field) first(value string) field { f.First = value; return f }

// fields walks over every question of the sheet.
func (s sheet) fields(visit func(field)) {
	for _, g := range s.Groups {
		for _, f := range g.Fields {
			visit(f)
		}
	}
}
