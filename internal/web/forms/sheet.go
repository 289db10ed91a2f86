package forms

import (
	"net/url"

	"hopperful/quantity"
	"hopperful/shop"
)

// A sheet is the paper form of one kind of record: which questions it asks, in
// which order. The name of a field is the path of its answer in the record's
// body ("mill.screen.hole_m"), so a sheet reads into a body, shows a body again
// for correction, and finds its place when the shop refuses a value, all by the
// same name.
type Sheet struct {
	Kind   string // of the record's body
	Title  string
	Intro  string
	Submit string // on the button
	Place  string // which of the five places it belongs to
	Groups []Group
	Timed  bool       // asks when, who and a note
	Stack  Rows       // the sieves it asks for, for another choice of them; nil elsewhere
	Clock  *Stopwatch // at the head of the sheet, for who stands at the machine

	// Shape puts right what was read into the body before it is made.
	Shape func(tree map[string]any)
	// check says what is wrong beyond single fields, before the shop is asked.
	Check func(in *Input)
	// after is where to go once the record is written.
	After func(st *shop.State, r shop.Record) string
}

// Rows are lines of a sheet that follow from its address, as the sieves of a stack do.
type Rows interface {
	// Row is the field a refusal of the shop is about: it counts the rows that were
	// used, the sheet all of them.
	Row(path string) string
	// Sent is the address that takes the answers, with the rows they were typed for.
	Sent(u *url.URL) string
}

// Stopwatch times what happens at a machine, and fills in what it timed. It is
// drawn only where JavaScript runs; the fields it fills stand on their own.
type Stopwatch struct {
	Fills  string  // path of the time from start to stop
	Since  string  // path of the time since the last stop; "" when nobody asks
	Then   string  // path of the answer to give next
	Target float64 // when to stop [s]; 0 for none
	Shown  string  // the target in words
}

// Group is a few questions under one heading; a folded one holds what most
// people leave out.
type Group struct {
	Title, Intro string
	Folded       bool
	Class        string // of how it is drawn, "" for the usual way
	Fields       []Field
}

// Field is one question.
type Field struct {
	Path    string // of the answer in the body
	Label   string
	Help    string
	As      Way
	Kind    quantity.Kind // of an amount
	Unit    string        // assumed for a bare number and printed beside the field
	Choices []Option      // of a choice; of a whole number only offered
	Must    bool          // the record says nothing without it
	First   string        // filled in on an empty sheet: a sensible default
	Hint    string        // stands in the empty field: what is taken then
	Dial    *Dial         // ends to move the number between with a finger; nil: none
	Opening float64       // of the sieve the answer belongs to [m], for the live curve
	Suggest []string      // offered while typing, anything else may be typed
}

// Way says how a field is answered.
type Way string

// The kinds of answers.
const (
	AsText   Way = "text"
	AsLong   Way = "long"   // several lines
	AsAmount Way = "amount" // a quantity with its unit
	AsWhole  Way = "whole"  // a whole number
	asYesNo  Way = "yesno"  // yes, no, or not known
	AsChoice Way = "choice" // one of a few
	AsSelect Way = "select" // one of many
	AsCheck  Way = "check"  // a box
	AsColour Way = "colour" // a picked colour, or none
	asLevels Way = "levels" // watts at levels of a controller, a line each
	AsFile   Way = "file"   // an uploaded file
	asMoment Way = "moment" // a date and time
	AsDay    Way = "day"    // a date
	AsMonth  Way = "month"  // a month
	AsList   Way = "list"   // several quantities, a line each
	AsCurve  Way = "curve"  // wavelengths and what is sent back there, a line each
	AsCode   Way = "code"   // a colour code as text, which may be left out
	AsShares Way = "shares" // colour codes with their shares
	AsMany   Way = "many"   // any number of some choices
	AsHidden Way = "hidden"
)

// Option is one answer of a choice.
type Option struct{ Value, Say string }

// Amount asks for a quantity.
func Amount(path, label string, kind quantity.Kind, unit, help string) Field {
	return Field{Path: path, Label: label, As: AsAmount, Kind: kind, Unit: unit, Help: help}
}

// Text asks for a few words.
func Text(path, label, help string) Field {
	return Field{Path: path, Label: label, As: AsText, Help: help}
}

// YesNo asks what may also be unknown.
func YesNo(path, label, help string) Field {
	return Field{Path: path, Label: label, As: asYesNo, Help: help,
		Choices: []Option{{"yes", "form.yes"}, {"no", "form.no"}, {"", "form.dont_know"}}}
}

// Needed marks the answer the record says nothing without.
func (f Field) Needed() Field { f.Must = true; return f }

// Begins fills an empty sheet with a sensible answer.
func (f Field) Begins(value string) Field { f.First = value; return f }

// Fields walks over every question of the sheet.
func (s Sheet) Fields(visit func(Field)) {
	for _, g := range s.Groups {
		for _, f := range g.Fields {
			visit(f)
		}
	}
}

// Dial are the ends a number may be moved between with a finger, in the field's
// unit.
type Dial struct{ Low, High float64 }
