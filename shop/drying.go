package shop

import (
	"hopperful/fact"
	"hopperful/quantity"
)

// Dried is one stay of a lot, or some of it, in a dryer. Weighed before and
// after, it takes the water off the lot's mass.
type Dried struct {
	Lot         LotID    `json:"lot"`
	Way         Way      `json:"way"`
	Temperature float64  `json:"temperature_k"`
	Time        float64  `json:"time_s"`
	In          *float64 `json:"in_kg,omitempty"`
	Out         *float64 `json:"out_kg,omitempty"`
	DewPoint    *float64 `json:"dew_point_k,omitempty"` // of the dryer's air
	Bed         *float64 `json:"bed_m,omitempty"`       // depth of the heap
	Energy      *float64 `json:"energy_j,omitempty"`    // by the plug-in meter
}

// Way is how a lot was dried.
type Way string

// The ways.
const (
	Oven         Way = "oven"
	Dehydrator   Way = "dehydrator"
	DesiccantBox Way = "desiccant box"
	DryAir       Way = "dry air"
	OtherWay     Way = "other"
)

// wettest is the most a lot can lose by drying, as a share of what went in:
// washed flakes hold water between them, but never more than their own weight.
// Judgement.
const wettest = 0.5

// Kind is "dried".
func (*Dried) Kind() string { return "dried" }

func (b *Dried) check(s *State, _ Record) error {
	if _, err := s.lotNamed(b.Lot, "lot"); err != nil {
		return err
	}
	if b.DewPoint != nil && *b.DewPoint > b.Temperature {
		return invalid("dew_point_k", fact.Say("shop.dew_point_over_air", fact.Measured("dew_point", quantity.Temperature, *b.DewPoint), fact.Measured("temperature", quantity.Temperature, b.Temperature)),
			fact.Say("shop.do_check_air_water"))
	}
	return nil
}

func (b *Dried) apply(s *State, r Record) {
	if b.In == nil || b.Out == nil {
		s.change(b.Lot).note(r.ID)
		return
	}
	water := *b.In - *b.Out
	s.take(r, b.Lot, water)
	if water < 0 {
		s.lose(r, Difference, b.Lot, water)
		return
	}
	s.lose(r, DriedOff, b.Lot, water)
}

// Dryings are the times a lot was dried, the newest first.
func (s *State) Dryings(id LotID) []Entry[*Dried] {
	return ofLot(s, id, func(b *Dried) bool { return b.Lot == id })
}

// DriedLast is the latest time a lot was dried.
func (s *State) DriedLast(id LotID) (Entry[*Dried], bool) { return newest(s.Dryings(id)) }
