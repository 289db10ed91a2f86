// Package shop is the vocabulary of the workshop: its machines, its lots, and
// the records of what happened.
//
// A record is one thing that happened, as measured. Records are only ever
// appended; a mistake is mended by a later record that corrects it. Everything
// else (how much of a lot is left, what it came from, what still sits in the
// mill, what went missing) is state: [Fold] derives it from the records, so
// that a reader can find the rule and a page can name the records behind a
// number. Each kind of record is in the file of its verb, with what it checks
// and what it does to the state.
//
// Where to look: fold.go for the order of records and corrections, with.go for
// the one gate that every write passes ([State.Admit]; a refusal is an [Error]
// in the user's words), sound.go and band.go for what a number or a text may
// be, ground.go and weighing.go for how mass parts in a mill, balance.go and
// family.go for where it is and where it came from; printlabel.go for shops of
// before prints had labels; entry.go for looking records up by lot or machine,
// telling.go for a record in one line. The reasons are in
// docs/decisions/0001-record-log.md.
//
// Nothing here reads a clock or a file; the moment of writing is passed in.
package shop
