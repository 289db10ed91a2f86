package quantity

import (
	"fmt"
	"strings"
)

// Error says which part of a text could not be read as a quantity and what is
// accepted instead.
type Error struct {
	Text  string   // what was given, cut when it is very long
	Part  string   // the part that did not fit, "" when it is the whole
	Kind  Kind     // what was wanted
	Units []string // the units accepted
	Why   string   // the sentence after the text
}

// Error renders the text, what was wrong with it and what to write instead.
func (e *Error) Error() string { return fmt.Sprintf("cannot read %q: %s", e.Text, e.Why) }

// refuse builds an Error; why is a format over args.
func (k Kind) refuse(text, part, why string, args ...any) *Error {
	const shown = 60 // enough to recognise one's own typing
	if r := []rune(text); len(r) > shown {
		text = string(r[:shown]) + "…"
	}
	return &Error{Text: text, Part: part, Kind: k, Units: k.Units(), Why: fmt.Sprintf(why, args...)}
}

// unknownUnit refuses a unit, and says so when it belongs to another kind.
func (k Kind) unknownUnit(text, part string) *Error {
	if other, ok := units.owner(k, part); ok {
		return k.refuse(text, part, "%s is the unit of %s, wanted %s%s", part, withArticle(other), withArticle(k), k.list(": "))
	}
	if len(k.Units()) == 0 {
		return k.refuse(text, part, "%q is not part of %s, which has no unit", part, withArticle(k))
	}
	return k.refuse(text, part, "%q is no unit known here for %s; use %s", part, withArticle(k), k.list(""))
}

// noUnit refuses a bare number.
func (k Kind) noUnit(text, number string) *Error {
	return k.refuse(text, number, "%s has no unit; %s takes %s", number, withArticle(k), k.list(""))
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
