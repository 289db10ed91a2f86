package quantity

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// Fault says why a text is no quantity.
type Fault string

// The faults. Beside each stand its words, for the text of the error.
const (
	ofAnother   Fault = "of_another"   // part, other kind, kind, list of units
	notPart     Fault = "not_part"     // part, kind
	noSuchUnit  Fault = "no_such_unit" // part, kind, list of units
	unitMissing Fault = "unit_missing" // number, kind, list of units
	clockUnit   Fault = "clock_unit"   // text
	clockForm   Fault = "clock_form"
	clockDigits Fault = "clock_digits"
	clockLast   Fault = "clock_last"
	notFinite   Fault = "not_finite"
	tooLarge    Fault = "too_large"
	noKind      Fault = "no_kind"
	tooLong     Fault = "too_long" // bytes, most
	noText      Fault = "no_text"
	empty       Fault = "empty"      // list of units
	noNumber    Fault = "no_number"  // list of units
	notNumber   Fault = "not_number" // part
	powerOfTen  Fault = "power_of_ten"
	whichComma  Fault = "which_comma"
	commaEnds   Fault = "comma_ends"
	commaOpen   Fault = "comma_open" // without it, with a point
	signInside  Fault = "sign_inside"
	gap         Fault = "gap"        // number
	unitOrder   Fault = "unit_order" // smaller unit, larger unit
	coldest     Fault = "coldest"
)

var says = map[Fault]string{
	ofAnother: "%s is the unit of %s, wanted %s%s", notPart: "%q is not part of %s, which has no unit", noSuchUnit: "%q is no unit known here for %s; use %s",
	unitMissing: "%s has no unit; %s takes %s", clockUnit: "minutes and seconds, or hours and minutes? Write %[1]s min or %[1]s h",
	clockForm: "written with colons a duration is 3:20 min, 1:15 h or 1:02:03 h", clockDigits: "after a colon stand two digits below 60", clockLast: "only the last field may have decimals",
	notFinite: "only a finite number can be converted", tooLarge: "it is larger than a number here can hold", noKind: "that is no kind of quantity",
	tooLong: "it is %s bytes long; a quantity has at most %s", noText: "it holds bytes that are no text", empty: "it is empty; write a number%s", noNumber: "it does not start with a number; write one%s",
	notNumber: "it is not a number", powerOfTen: "the power of ten is beyond what a number here can hold",
	whichComma: "it is unclear which sign is the decimal one; write it without separators for thousands, as 1234.5", commaEnds: "a digit is missing after the comma",
	commaOpen: "the comma could group thousands or start the decimals; write %s or %s", signInside: "a sign stands inside", gap: "after %s comes a gap or a sign instead of a unit",
	unitOrder: "%s after %s; write the larger unit first", coldest: "it is below absolute zero, −273.15 °C",
}

// Faults are all there are, so that a test finds their wording.
func Faults() []Fault { return slices.Sorted(maps.Keys(says)) }

// Error says which part of a text could not be read as a quantity and what is
// accepted instead.
type Error struct {
	Text  string   // what was given, cut when it is very long
	Part  string   // the part that did not fit, "" when it is the whole
	Kind  Kind     // what was wanted
	Units []string // the units accepted
	Fault Fault
	Other Kind     // the kind the unit is of
	Words []string // what the fault names
}

// Error renders the text, what was wrong with it and what to write instead.
func (e *Error) Error() string { return fmt.Sprintf("cannot read %q: %s", e.Text, e.Why()) }

// Why is what was wrong, without the text.
func (e *Error) Why() string {
	var args []any
	for _, w := range e.Words {
		args = append(args, w)
	}
	switch e.Fault {
	case ofAnother:
		args = []any{e.Part, withArticle(e.Other), withArticle(e.Kind), e.Kind.list(": ")}
	case notPart:
		args = []any{e.Part, withArticle(e.Kind)}
	case noSuchUnit, unitMissing:
		args = []any{e.Part, withArticle(e.Kind), e.Kind.list("")}
	case empty, noNumber:
		args = []any{e.Kind.list(" with one of ")}
	}
	return fmt.Sprintf(says[e.Fault], args...)
}

// refuse builds an Error.
func (k Kind) refuse(text, part string, fault Fault, words ...string) *Error {
	const shown = 60 // enough to recognise one's own typing
	if r := []rune(text); len(r) > shown {
		text = string(r[:shown]) + "…"
	}
	if fault == commaOpen {
		words = []string{strings.ReplaceAll(part, ",", ""), strings.ReplaceAll(part, ",", ".")}
	}
	return &Error{Text: text, Part: part, Kind: k, Units: k.Units(), Fault: fault, Words: words}
}

// unknownUnit refuses a unit, and says so when it belongs to another kind.
func (k Kind) unknownUnit(text, part string) *Error {
	if other, ok := units.owner(k, part); ok {
		e := k.refuse(text, part, ofAnother)
		e.Other = other
		return e
	}
	if len(k.Units()) == 0 {
		return k.refuse(text, part, notPart)
	}
	return k.refuse(text, part, noSuchUnit)
}

func (k Kind) list(before string) string {
	if len(k.Units()) == 0 {
		return ""
	}
	return before + strings.Join(k.Units(), ", ")
}

func withArticle(k Kind) string {
	name := k.String()
	if strings.ContainsRune("aeio", rune(name[0])) {
		return "an " + name
	}
	return "a " + name
}
