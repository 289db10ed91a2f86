// Package traceability says what a lot is by what it came from and went to: its
// family with the mass on every edge ([Trace]), how often its plastic was melted
// ([AgeOf]), its colour ([ColourOf]), and what it is made of and cost ([MadeOf]).
//
// Everything is derived from the records by walking the family once; a lot of
// which a part has no known past says so, and takes a judged one with its range.
package traceability
