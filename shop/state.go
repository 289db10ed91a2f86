package shop

import "time"

// State is what follows from a shop's records.
type State struct {
	Shop      ShopSet
	People    []PersonSet
	Mills     []MillState
	Scales    []Scale
	Printers  []Printer
	Materials []MaterialSet
	Needs     []Need
	Lots      map[LotID]*Lot
	Order     []LotID // lots in the order they came
	Losses    []Loss  // every gram that left other than into a lot
	Records   []Record
	Last      time.Time // of the latest record
}

// MillState is a mill and what it still holds.
type MillState struct {
	Mill
	Held   float64 // left inside by earlier runs [kg]
	HeldOf LotID   // the lot the latest of it came from
	Ground float64 // everything it has ground [kg]
	Runs   []RecordID
}

// Loss is mass that went nowhere else, by name.
type Loss struct {
	Name   string // "metal cut out", "lost in grinding", "recount", "thrown away" …
	Lot    LotID
	Mass   float64 // kg; negative for a gain found at a recount
	Record RecordID
}
