package shop

import (
	"hopperful/fact"
	"strings"
)

// Serviced is what was looked at or mended on a mill.
type Serviced struct {
	Mill   string   `json:"mill"`
	Part   MillPart `json:"part"`
	What   Upkeep   `json:"what"`
	Sound  YesNo    `json:"sound,omitempty"`     // as it went back in
	Before *float64 `json:"before_kg,omitempty"` // weight of the part as it came out
	After  *float64 `json:"after_kg,omitempty"`  // weight of the part that went in
}

// MillPart is a part of a mill that wears.
type MillPart string

// The parts.
const (
	BladePart   MillPart = "blade" // or the plate
	ScreenPart  MillPart = "screen"
	SealPart    MillPart = "seal"
	MagnetPart  MillPart = "magnet"
	BearingPart MillPart = "bearings"
	OtherPart   MillPart = "other"
)

// Upkeep is what was done to a part.
type Upkeep string

// What may be done.
const (
	Inspected    Upkeep = "inspected"
	Sharpened    Upkeep = "sharpened"
	Replaced     Upkeep = "replaced"
	Repaired     Upkeep = "repaired"
	FoundDamaged Upkeep = "found damaged"
)

// Kind is "serviced".
func (*Serviced) Kind() string { return "serviced" }

func (b *Serviced) check(s *State, _ Record) error {
	if _, err := s.millNamed(b.Mill); err != nil {
		return err
	}
	switch {
	case b.What == FoundDamaged && b.Sound == Yes:
		return invalid("sound", fact.Say("shop.damaged_is_not_sound", fact.Name("replace", strings.Replace(string(b.Part), "other", "part", 1))),
			fact.Say("shop.do_record_mending"))
	case b.What == Sharpened && b.Before != nil && b.After != nil && *b.After > *b.Before+s.weighed(*b.Before):
		return invalid("after_kg", fact.Say("shop.sharpened_gained", fact.Weighed("after", *b.After), fact.Weighed("before", *b.Before)), fact.Say("shop.do_check_or_replaced"))
	}
	return nil
}

func (b *Serviced) apply(s *State, _ Record) {
	if b.opens() {
		s.workedOn(b.Mill)
	}
}

// Services are what was done to a mill, the newest first.
func (s *State) Services(mill string) []Entry[*Serviced] {
	return entries(s, func(b *Serviced) bool { return b.Mill == mill })
}
