// Package polymer says what each material is: its density, where it softens,
// how dry it must be, how hard it is to break, what it must not be mixed with.
// One record is one value, with its 10–90 % range, unit, condition, source and
// a [Mark] that says how far to trust it.
//
// The books are plain text and diff: polymers.csv (values), names.csv (what a
// material is called), cautions.csv (what can hurt), pairs.csv (what spoils
// what). A line without a source, with low above high, or outside the
// plausible band of its property does not load.
//
//	pla, err := polymer.Find("pla")
//	v, err := pla.Value(polymer.Softening) // the default line
//	all := pla.All(polymer.Softening)      // every line, also those that disagree
//
// A shop's own values go on top with [Table.With]: own lines win, the books stay
// visible below them. Numbers are SI inside; the files are in workshop units.
package polymer
