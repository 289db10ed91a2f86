package consumption

// What the readers of files refuse and warn of, as findings.

import (
	"errors"
	"fmt"

	"hopperful/fact"
	"hopperful/process/mesh"
	"hopperful/process/toolpath"
	"hopperful/quantity"
	"hopperful/shop"
)

// unread says that a file is not what its name promises. An error of the stream itself is
// passed on.
func unread(name, what string, err error) error {
	why, advice := whyUnread(err)
	if why.Empty() {
		return fmt.Errorf("%s could not be read as %s: %w", name, what, err)
	}
	return shop.Refuse(shop.Invalid, "file", fact.Say("need.unread", fact.Name("name", name), fact.Term("what", "file_format", what), fact.Parts("why", why)), advice)
}

func whyUnread(err error) (why, advice fact.Saying) {
	var (
		bad   *toolpath.BadLinesError
		line  *toolpath.SyntaxError
		other *toolpath.FormatError
		large *toolpath.LimitError
		part  *mesh.ReadError
	)
	again := fact.Say("need.save_again")
	switch {
	case errors.Is(err, toolpath.ErrEmpty):
		return fact.Say("need.holds_nothing"), again
	case errors.Is(err, toolpath.ErrNoExtrusion):
		return fact.Say("need.extrudes_nothing"), fact.Say("need.check_e")
	case errors.As(err, &bad):
		return fact.Say("need.bad_lines", fact.Count("n", int(bad.Bad)), fact.Count("of", int(bad.Blocks)), fact.Parts("first", badLine(bad.First[0]))), fact.Say("need.copy_again")
	case errors.As(err, &line):
		return badLine(line), fact.Say("need.copy_again")
	case errors.As(err, &other):
		return fact.Say("need.looks_like", fact.Term("looks", "file_looks", string(other.Looks))), fact.Saying{Code: fact.TermCode("file_instead", string(other.Looks))}
	case errors.As(err, &large) && large.Packed > 0:
		return fact.Say("need.swells"), again
	case errors.As(err, &large):
		return fact.Say("need.file_large", fact.Count("mb", int(large.Limit>>20))), fact.Say("need.split_print")
	case errors.As(err, &part) && part.Fault != mesh.Unreadable:
		return fact.Say("need.bad_part", fact.Term("fault", "mesh_fault", string(part.Fault)), fact.Parts("at", at(part.Where))), fact.Saying{Code: fact.TermCode("mesh_instead", string(part.Fault))}
	}
	return fact.Saying{}, fact.Saying{}
}

// badLine says what is wrong with a line of G-code, and where.
func badLine(e *toolpath.SyntaxError) fact.Saying {
	return fact.Say("need.bad_line", fact.Count("line", int(e.Line)), fact.Count("column", e.Column), fact.Term("fault", "line_fault", string(e.Fault)), fact.Name("text", e.Text))
}

// at is a place in a mesh; empty where none is known.
func at(p mesh.Place) fact.Saying {
	if p == (mesh.Place{}) {
		return fact.Saying{}
	}
	of := fact.Name("of", "")
	if p.Of != "" {
		of = fact.Term("of", "mesh_place", p.Of)
	}
	return fact.Say("need.place", fact.Name("part", p.Part), of.As("of"), fact.Count("n", int(p.N)))
}

// lineWarning says where, how often, what, and shows the first line.
func lineWarning(w toolpath.Warning) fact.Saying {
	what := fact.Saying{Code: fact.TermCode("line_warning", w.Kind.String())}
	if w.Kind == toolpath.SaysOtherwise {
		kind := map[toolpath.Of]quantity.Kind{toolpath.Thickness: quantity.Length, toolpath.UsedVolume: quantity.Volume, toolpath.UsedMass: quantity.Mass, toolpath.UsedLength: quantity.Length}[w.Of]
		what = fact.Saying{Code: fact.TermCode("file_says", string(w.Of)), Facts: []fact.Fact{fact.Measured("said", kind, w.Said), fact.Measured("found", kind, w.Found)}}
	}
	return fact.Say("need.line_warning", fact.Count("line", int(w.Line)), fact.Count("more", int(w.Count-1)), fact.Parts("what", what), fact.Name("first", w.First))
}

// meshWarning is a warning about a solid.
func meshWarning(w mesh.Warning) fact.Saying {
	return fact.Saying{Code: fact.TermCode("mesh_warning", string(w.Caution)), Facts: []fact.Fact{fact.Count("n", w.N), fact.Name("of", w.Of)}}
}
