package polymer

import (
	"slices"
	"strings"

	"hopperful/fact"
)

// Whose data a value rests on. Where nobody measured the material itself, those of a
// related plastic stand in, and an answer that uses them has to say so.

// polystyrene lends much of what is known of its impact grades. Its name is an alias of
// theirs in the table, so that it cannot be told from the list of materials.
const polystyrene = "polystyrene"

// Lender is the plastic whose data stand in for the material's own, as the table
// writes it in the grade or among the conditions ("polystyrene", "as ABS"); "" where
// the value is of the material itself.
func (v Value) Lender() string {
	for _, part := range append(strings.Split(v.At, "; "), v.Grade) {
		part, _, _ = strings.Cut(part, ", ")
		who, as := strings.CutPrefix(part, "as ")
		if part == polystyrene || as && who != v.Polymer && slices.Contains(Names(), who) {
			return who
		}
	}
	return ""
}

// LenderWord is the word for a lender.
func LenderWord(name, lender string) fact.Fact {
	if lender == polystyrene {
		return fact.Term(name, "at", polystyrene)
	}
	return fact.Name(name, lender)
}
