package shop

import (
	"hopperful/fact"
	"hopperful/quantity"
)

// JarWeighed is a jar of known volume filled from a lot and weighed: poured,
// and, tapped down and filled up again, tapped. What was in the jar goes back.
type JarWeighed struct {
	Lot    LotID    `json:"lot"`
	Jar    float64  `json:"jar_m3"`              // its volume
	Poured float64  `json:"poured_kg"`           // what it holds, without the jar
	Tapped *float64 `json:"tapped_kg,omitempty"` // what it holds tapped down and filled up again
}

// lightest and densest bound a bulk density [kg/m³]: lighter than foam beads,
// denser than metal-filled filament is as a solid. Only a slip of unit or a
// forgotten tare is caught; package process/bulk judges the rest. Judgement.
const (
	lightest = 5.0
	densest  = 5000.0
)

// Kind is "jar_weighed".
func (*JarWeighed) Kind() string { return "jar_weighed" }

func (b *JarWeighed) check(s *State, _ Record) error {
	if _, err := s.lotNamed(b.Lot, "lot"); err != nil {
		return err
	}
	if d := b.Bulk(); d < lightest || d > densest {
		return invalid("poured_kg", fact.Say("shop.jar_density_impossible", fact.Weighed("poured", b.Poured), fact.Measured("jar", quantity.Volume, b.Jar), fact.Set("d", quantity.Density, d)),
			fact.Say("shop.do_check_units_and_tare"))
	}
	return nil
}

func (b *JarWeighed) apply(s *State, r Record) { s.change(b.Lot).note(r.ID) }

// Bulk is the bulk density [kg/m³].
func (b *JarWeighed) Bulk() float64 { return b.Poured / b.Jar }

// JarWeighings are the weighings of a lot in a jar, the newest first.
func (s *State) JarWeighings(id LotID) []Entry[*JarWeighed] {
	return ofLot(s, id, func(b *JarWeighed) bool { return b.Lot == id })
}

// JarOf is the latest weighing of a lot in a jar.
func (s *State) JarOf(id LotID) (Entry[*JarWeighed], bool) { return newest(s.JarWeighings(id)) }
