// Package shop is the vocabulary of the workshop: its machines, its lots, and
// the records of what happened.
//
// A record is one thing that happened, as measured. Records are only ever
// appended; a mistake is mended by a later record that corrects it. Everything
// else (how much of a lot is left, what it came from, what still sits in the
// mill, what went missing) is state: [Fold] derives it from the records, one
// function a quantity, so that a reader can find the rule and a page can name
// the records behind a number.
//
// [State.Check] is the one gate: every write, whatever the edge it comes from,
// passes it, and a refusal is an [Error] in the user's words. Nothing here
// reads a clock or a file; the moment of writing is passed in.
package shop
