package shop

import (
	"fmt"

	"hopperful/polymer"
	"hopperful/process/bulk"
	"hopperful/quantity"
)

// What is asked of a lot: whether it can have given what a record takes, or
// have held what was looked at.

func (b *Blended) asks(s *State, _ Record) []Ask {
	var list []Ask
	for i, p := range b.From {
		list = append(list, s.moreThanLot(p.Lot, p.Mass, fmt.Sprintf("from.%d.mass_kg", i))...)
	}
	return list
}

func (b *Sorted) asks(s *State, _ Record) []Ask {
	return s.moreThanLot(b.From, b.total(), "into")
}

func (b *Printed) asks(s *State, _ Record) []Ask {
	return s.moreThanLot(b.From, b.Mass, "mass_kg")
}

func (b *Discarded) asks(s *State, _ Record) []Ask {
	return s.moreThanLot(b.Lot, b.Mass, "mass_kg")
}

func (b *Dedusted) asks(s *State, _ Record) []Ask {
	return s.moreThanLot(b.Lot, b.Dust, "dust_kg")
}

func (b *FlowTested) asks(s *State, _ Record) []Ask {
	return s.moreThanLot(b.Lot, b.Spent(), "lot")
}

func (b *PassedMagnet) asks(s *State, _ Record) []Ask {
	list := s.moreThanLot(b.Lot, b.Metal, "metal_kg")
	if b.Passed != nil {
		list = append(list, s.moreThanLot(b.Lot, *b.Passed, "passed_kg")...)
	}
	return list
}

func (b *Sieved) asks(s *State, _ Record) []Ask {
	return s.moreThanLot(b.Lot, b.Charge, "charge_kg")
}

func (b *Dried) asks(s *State, _ Record) []Ask {
	var list []Ask
	if b.In != nil {
		list = s.moreThanLot(b.Lot, *b.In, "in_kg")
	}
	if b.In == nil || b.Out == nil {
		return list
	}
	a := Ask{Field: "out_kg", Kind: quantity.Mass, Value: *b.Out, Bound: *b.In, Lot: b.Lot}
	switch in, out := *b.In, *b.Out; {
	case out > in+s.weighed(in):
		a.Code, a.Meant, a.Swap = HeavierDried, b.In, "in_kg"
	case out < in*(1-wettest):
		a.Code, a.Bound = MuchDriedOff, in*(1-wettest)
	default:
		return list
	}
	return append(list, a)
}

func (b *JarWeighed) asks(s *State, _ Record) []Ask {
	list := s.moreThanLot(b.Lot, b.Poured, "poured_kg")
	if b.Tapped != nil {
		if *b.Tapped < b.Poured-s.weighed(b.Poured) {
			list = append(list, Ask{Code: TappedLighter, Field: "tapped_kg", Kind: quantity.Mass, Value: *b.Tapped, Bound: b.Poured, Lot: b.Lot})
		} else {
			list = append(list, s.moreThanLot(b.Lot, *b.Tapped, "tapped_kg")...)
		}
	}
	return append(list, s.jarAsk(b.Lot, b.Poured, b.Jar, "poured_kg")...)
}

// jarAsk asks about a jar that weighs more than loose granulate of its plastic
// can.
func (s *State) jarAsk(id LotID, mass, jar float64, field string) []Ask {
	lot, ok := s.Lot(id)
	if !ok || lot.Polymer == "" || jar <= 0 {
		return nil
	}
	table, err := s.Table()
	if err != nil {
		return nil // the shop's own values are at fault, and every plan says so
	}
	p, err := table.Find(lot.Polymer)
	if err != nil {
		return nil // a name no table knows has no density to hold the jar against
	}
	solid, err := p.Value(polymer.Density)
	if err != nil {
		return nil
	}
	most := bulk.RandomClose * solid.Value * jar
	if mass <= most { // however little: an all but empty jar is none too dense
		return nil
	}
	return []Ask{{Code: JarTooDense, Field: field, Kind: quantity.Mass, Value: mass, Bound: most, Lot: id}}
}
