package answer

import (
	"fmt"

	"hopperful/figure"
	"hopperful/shop"
)

// Aside is a lot the plan does not take, or not before something is done.
type Aside struct {
	Lot    shop.LotID `json:"lot"`
	Name   string     `json:"name"`
	Why    string     `json:"why"`    // "pieces of 60 mm do not fit the 40 mm inlet"
	Remedy string     `json:"remedy"` // "break or cut them below 40 mm"
	Lacks  Lack       `json:"-"`      // what written down would settle it; empty where nothing would
}

// Lack is what nobody has written down of a lot.
type Lack string

// What may be lacking.
const (
	LacksColour Lack = "colour"
	LacksFlow   Lack = "flow"
	LacksSieve  Lack = "sieve"
	LacksMagnet Lack = "magnet"
	LacksDrying Lack = "dry"
	LacksSort   Lack = "sort"
	LacksGrind  Lack = "charge"
)

// Limit is one bound of the optimisation.
type Limit struct {
	Key    string        `json:"key"`
	Name   string        `json:"name"`            // "charge stays 10 K below softening"
	Figure figure.Figure `json:"figure"`          // the bounded quantity with its limit and the share of draws that keep it
	Holds  float64       `json:"holds"`           // that share, 0–1
	Binds  bool          `json:"binds"`           // relaxing it would shorten the campaign
	Relax  string        `json:"relax,omitempty"` // what relaxing it a little would save
}

// Block says why no plan keeps every limit and what would come nearest.
type Block struct {
	Limit   string `json:"limit"`   // name of the limit that cannot be kept
	Why     string `json:"why"`     // in a sentence, with figures
	Nearest string `json:"nearest"` // the nearest plan that would
}

// Spoiler is something that could spoil the plan, and its remedy.
type Spoiler struct {
	What   string `json:"what"`
	Remedy string `json:"remedy"`
}

// Step is one thing to do.
type Step struct {
	Do   string     `json:"do"`
	Lot  shop.LotID `json:"-"`              // the lot it weighs in; empty for anything else
	Time string     `json:"time,omitempty"` // "3 min 20 s", where it takes known time
}

// Caution is a warning for a person, placed where the work is.
type Caution struct {
	Where string `json:"where"` // "before the first charge", "at this mill", "this material"
	Text  string `json:"text"`
}

// MostSpoilers is how many worries a person can act on.
const MostSpoilers = 3

// OfMaterial is where cautions about a material stand.
const OfMaterial = "this material"

// OnlyPlastic says which plastic was taken where nobody said.
func OnlyPlastic(plastic string) Spoiler {
	return Spoiler{What: fmt.Sprintf("Nobody has said what the print is made of; %s is all there is in stock, so that was taken.", plastic),
		Remedy: "If that is right, write it down with the print."}
}
