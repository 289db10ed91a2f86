package shop

import "time"

// RecordID numbers the records of a shop from 1 in the order they were written.
type RecordID int64

// Record is one thing that happened.
type Record struct {
	ID       RecordID  // 0 until it is kept
	At       time.Time // when it happened, by the user's word
	NotedAt  time.Time // when it was written down
	By       string    // person, may be empty
	Note     string    // free text, may be empty
	Corrects RecordID  // the record this one replaces, 0 for none
	Body     Body      // what happened
}

// Body is what a record says. Each kind of record has its own type, listed in
// [Bodies]; [Void] strikes a record out without replacing it.
type Body interface {
	// Kind is the stable name the record is kept under: "taken_in".
	Kind() string
	// check says what is wrong with the body in this state, or nil.
	check(s *State, r Record) error
	// apply folds the body into the state.
	apply(s *State, r Record)
}

// Bodies returns one empty body of every kind, in the order a shop meets them.
func Bodies() []Body {
	return []Body{
		&ShopSet{}, &PersonSet{}, &MillSet{}, &ScaleSet{}, &PrinterSet{}, &MaterialSet{},
		&NeedSet{}, &TakenIn{}, &Sorted{}, &Ground{}, &Weighed{}, &Printed{}, &Discarded{}, &Void{},
	}
}
