package shop

import (
	"hopperful/fact"
	"time"
)

// RecordID numbers the records of a shop from 1 in the order they were written.
type RecordID int64

// Record is one thing that happened.
type Record struct {
	ID       RecordID  // 0 until it is kept
	At       time.Time // when it happened, by the user's word; zero in a correction: as before
	NotedAt  time.Time // when it was written down
	By       string    // person, may be empty
	Note     string    // free text, may be empty
	Corrects RecordID  // the record this one replaces, 0 for none
	Body     Body      // what happened

	// CorrectedBy is set only in [State.Records]: the latest record that
	// corrected this one, 0 for none.
	CorrectedBy RecordID
}

// Body is what a record says. Each kind of record has its own type, listed in
// [Bodies]; [Void] strikes a record out without replacing it.
type Body interface {
	// Kind is the stable name the record is kept under: "taken_in".
	Kind() string
	// check says what is wrong with the body in this state, or nil. Number
	// bands and texts are checked for all bodies alike before.
	check(s *State, r Record) error
	// apply folds the body into the state.
	apply(s *State, r Record)
}

// describing is a body that says what a named thing is. The first description
// of a thing holds from the beginning, so that a run of last week can be
// written down for a mill described today.
type describing interface {
	names() (kind, name string)
}

// labelling is a body that makes lots; relabelled returns a copy of it with
// every empty label filled: from old, the body it corrects, or else from next.
type labelling interface {
	Body
	labels() []LotID
	relabelled(old Body, next func(Class) LotID) Body
}

// Bodies returns one empty body of every kind, in the order a shop meets them.
func Bodies() []Body {
	return []Body{
		&ShopSet{}, &PersonSet{}, &MillSet{}, &ScaleSet{}, &PrinterSet{}, &DryerSet{}, &MaterialSet{},
		&NeedSet{}, &TakenIn{}, &Sorted{}, &Ground{}, &Weighed{}, &Sieved{}, &PassedMagnet{}, &Dedusted{},
		&Dried{}, &JarWeighed{}, &Coloured{}, &Blended{}, &FlowTested{}, &Printed{}, &Discarded{}, &Serviced{}, &Happened{}, &Confirmed{}, &Pictured{},
		&CampaignBegun{}, &CampaignMarked{}, &Void{},
	}
}

// Void strikes out the record it corrects.
type Void struct {
	Why string `json:"why" text:"2000"`
}

// Kind is "void".
func (*Void) Kind() string { return "void" }

func (*Void) check(_ *State, r Record) error {
	if r.Corrects == 0 {
		return invalid("corrects", fact.Say("shop.strike_out_which"), fact.Saying{})
	}
	return nil
}

func (*Void) apply(*State, Record) {}
