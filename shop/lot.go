package shop

import (
	"hopperful/fact"
	"hopperful/quantity"
)

// LotID names a lot on its label: a letter for its class and a number, "S12".
type LotID string

// Class says what state a lot's material is in.
type Class string

// The classes; the letter starts the lot's label.
const (
	Scrap   Class = "scrap"   // S: prints and offcuts before grinding
	Regrind Class = "regrind" // R: ground scrap
	Virgin  Class = "virgin"  // V: bought granulate, never printed
	Blend   Class = "blend"   // B: several lots mixed
	Print   Class = "print"   // P: a printed part or failed print, not yet scrap
)

// Lot is an amount of material that is one thing.
type Lot struct {
	ID       LotID
	Class    Class
	Name     string    // the user's own words, may be empty
	Polymer  string    // name in package polymer or the shop's own; "" = unknown
	Sure     *float64  // how sure the owner is of the polymer, 0–1
	Colour   string    // the user's word: "black"
	RGB      string    // "#1c1c1c" if picked, else ""
	Taken    *Coloured // the newest colour taken that still holds, nil for none
	TakenBy  RecordID  // the record of it
	Halogen  YesNo     // suspected halogenated (chlorine, flame retardant)
	Pieces   Pieces    // what the scrap looks like
	Metal    string    // inserts, screws, magnets seen in it; "" = none seen
	Mass     float64   // on hand [kg]
	In       float64   // everything that ever came in [kg]
	Born     RecordID  // the record that made it
	Records  []RecordID
	Parents  []Edge // where it came from, by mass
	Children []Edge // where it went, by mass
	Dustings []Dusting
}

// Edge is mass that went from one lot to another.
type Edge struct {
	Lot    LotID
	Mass   float64  // kg
	Record RecordID // the record that says so
}

// Pieces describes scrap; nil pointers are unknown.
type Pieces struct {
	Largest *float64 `json:"largest_m,omitempty"` // largest dimension of the largest piece
	Wall    *float64 `json:"wall_m,omitempty"`    // wall thickness of the prints
	Infill  *float64 `json:"infill,omitempty"`    // share, 0 hollow … 1 solid
}

// From where on plastic is a brick to a small mill: its wall, or solid all
// through in a piece three times as long. Judgement, until runs say otherwise.
const (
	brickWall  = 0.008 // m
	solidShare = 0.8   // infill
)

// Bricks reports whether the pieces are so thick and solid that they want
// breaking up before a small mill takes them.
func (p Pieces) Bricks() bool {
	return p.Wall != nil && *p.Wall >= brickWall || p.Infill != nil && *p.Infill >= solidShare && p.Largest != nil && *p.Largest >= 3*brickWall
}

// BreakUp is what to do with them.
func (p Pieces) BreakUp() fact.Saying {
	return fact.Say("shop.break_up", fact.Set("wall", quantity.Length, brickWall))
}

// check says whether the pieces hold together.
func (p Pieces) check(path string) error {
	if p.Largest != nil && p.Wall != nil && *p.Wall > *p.Largest {
		return invalid(path+"wall_m", fact.Say("shop.wall_over_piece", fact.Measured("wall", quantity.Length, *p.Wall), fact.Measured("largest", quantity.Length, *p.Largest)),
			fact.Say("shop.do_check_units"))
	}
	return nil
}

// checkRGB refuses a colour code that is none.
func checkRGB(code, field string) error {
	if code == "" {
		return nil
	}
	ok := len(code) == 7 && code[0] == '#'
	for i := 1; ok && i < len(code); i++ {
		c := code[i]
		ok = '0' <= c && c <= '9' || 'a' <= c && c <= 'f' || 'A' <= c && c <= 'F'
	}
	if !ok {
		return invalid(field, fact.Say("shop.not_a_colour_code", fact.Name("code", clip(code))), fact.Say("shop.do_colour_code"))
	}
	return nil
}
