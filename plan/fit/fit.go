package fit

import (
	"time"

	"hopperful/answer"
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
	Answer   string           `json:"answer"`            // one sentence: the verdict and the item that decides it
	Verdict  answer.Verdict   `json:"verdict"`           // that of the worst item
	Decides  string           `json:"decides"`           // key of that item
	Refused  *answer.Block    `json:"refused,omitempty"` // it must not be melted at all: why, and what to do
	Spoilers []answer.Spoiler `json:"spoilers"`          // what could spoil it, worst first, at most three
	Lot      shop.LotID       `json:"lot"`
	LotName  string           `json:"lot_name"`
	Polymer  string           `json:"polymer"`
	NeedName string           `json:"need_name"`
	Printer  string           `json:"printer"` // empty: none described, an ordinary one is taken
	Items    []Item           `json:"items"`   // the questions, in the order the material travels
	Chance   figure.Figure    `json:"chance"`  // that all of it goes well at once
	Sheet    Sheet            `json:"sheet"`   // settings to start with
	Figures  []figure.Figure  `json:"figures"` // what else the check reckoned with
	Cautions []answer.Caution `json:"cautions"`
	Charts   []answer.Chart   `json:"charts"`
	Draws    int              `json:"draws"`
	Seed     uint64           `json:"seed"`
}

// Item is one question of the check and its answer.
type Item struct {
	Key      string         `json:"key"`
	Question string         `json:"question"` // "Is it dry?"
	Verdict  answer.Verdict `json:"verdict"`
	Says     string         `json:"says"`             // the answer in a sentence
	Chance   float64        `json:"chance"`           // that it goes well, 0–1
	Known    bool           `json:"known"`            // something the shop measured or said decides it, not books alone
	Figure   *figure.Figure `json:"figure,omitempty"` // with its limit
	Change   *Remedy        `json:"change,omitempty"` // the cheapest thing that would change the answer; nil when it is yes
}

// Remedy is something that would change an answer.
type Remedy struct {
	Do     string   `json:"do"`
	Kind   string   `json:"kind"`             // "measure" or "treat"
	Time   float64  `json:"time_s"`           // how long it takes a person, or the dryer
	Shown  string   `json:"shown"`            // the same for a reader: "5 min"
	Chance *float64 `json:"chance,omitempty"` // of the item afterwards, where it can be forecast
	Takes  *float64 `json:"takes,omitempty"`  // share of the lot it takes away, which then is not there to print [1]
}

// The kinds of remedy.
const (
	Measure = "measure"
	Treat   = "treat"
)

// Sheet is what goes to the printer: the settings to start with. It is empty
// when the lot is refused.
type Sheet struct {
	Settings []figure.Figure `json:"settings"`
	Advice   []string        `json:"advice"` // first layer, when to weigh again
}

// What a fitness check takes where nobody said.
const (
	fitDraws     = 240
	fitStrength  = 0.8 // judgement: a part that keeps four fifths of its strength still does its work
	purgedTo     = 0.01
	pressurePeak = 1.5 // peak flow over mean flow, where only the mean is known; judgement
)

// mostFitDraws bounds the work of one check.
const mostFitDraws = 20000
