package fit

import (
	"time"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/shop"
)

// Request asks whether a lot is fit for a print.
type Request struct {
	Lot         shop.LotID
	Need        shop.Need // what the print eats
	Printer     string    // empty: the only one, or the first in use; a shop without one gets an ordinary one, and the answer says so
	Nozzle      *float64  // another nozzle than the printer's [m]
	Temperature *float64  // of the melt [K]; nil: usual for the polymer
	Strength    *float64  // share of a fresh print's strength the part must keep [1]; nil: 0.8
	Now         time.Time
	Seed        uint64 // of the draws; 0 takes a fixed one
	Draws       int    // 0 takes 240
}

// Fitness says whether a lot is fit for a print, question by question in the
// order the material travels.
type Fitness struct {
	Document answer.Document
	Verdict  answer.Verdict // that of the worst item
	Decides  string         // key of that item
	Refused  *shop.Bar      // it must not be melted at all; Mixed of what must not be melted together
	Mixed    bool
	Items    []Item
	Chance   figure.Figure   // that all of it goes well at once
	Settings []figure.Figure // to start the printer with
}

// Item is one question of the check and its answer.
type Item struct {
	Key      string
	Question fact.Saying
	Verdict  answer.Verdict
	Says     fact.Saying    // the answer
	Chance   float64        // that it goes well, 0–1
	Known    bool           // something the shop measured or said decides it, not books alone
	Figure   *figure.Figure // with its limit
	Change   *Remedy        // the cheapest thing that would change the answer; nil when it is yes
}

// Remedy is something that would change an answer.
type Remedy struct {
	Do     fact.Saying
	Kind   string
	Time   float64  // how long it takes a person, or the dryer [s]
	Chance *float64 // of the item afterwards, where it can be forecast
	Takes  *float64 // share of the lot it takes away, which then is not there to print [1]
}

// The kinds of remedy.
const (
	Measure = "measure"
	Treat   = "treat"
)

// What a fitness check takes where nobody said.
const (
	fitDraws     = 240
	purgedTo     = 0.01
	pressurePeak = 1.5 // peak flow over mean flow, where only the mean is known; judgement
)

// mostFitDraws bounds the work of one check.
const mostFitDraws = 20000
