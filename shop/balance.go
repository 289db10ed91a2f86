package shop

import (
	"slices"
	"time"
)

// Balance is where every gram that came into the shop is. All in kg.
type Balance struct {
	In       float64            // taken in from outside
	OnHand   float64            // in lots, but for prints
	InMills  float64            // left inside mills, or ground and not weighed yet
	Printed  float64            // in prints
	Losses   map[string]float64 // by name; negative for a gain
	Lost     float64            // all losses together
	Residual float64            // In − OnHand − InMills − Printed − Lost: rounding of numbers only
}

// BalanceOf adds up the shop's mass.
func BalanceOf(s *State) Balance {
	b := s.whereabouts()
	b.Losses = map[string]float64{}
	for _, l := range s.Losses.All() {
		b.Losses[l.Name] += l.Mass
		b.Lost += l.Mass
	}
	b.Residual = b.In - b.OnHand - b.InMills - b.Printed - b.Lost
	return b
}

// month is where the mass was when a month began, so that its books need not fold all
// that was before it.
type month struct {
	before  time.Time // of the last record of another month, zero for none
	at      time.Time // of the first of this
	balance Balance   // before it; without the losses
}

// turn notes where the mass is when a record begins a month, in its own place. What only
// describes a thing does not count: it may hold from before it was written.
func (s *State) turn(r Record) {
	if _, describes := r.Body.(describing); describes {
		return
	}
	if y, m, _ := r.At.Date(); len(s.months) == 0 || s.moved.Month() != m || s.moved.Year() != y {
		s.months = append(s.months, month{s.moved, r.At, s.whereabouts()})
	}
	s.moved = r.At
}

// whereabouts is where what is in the shop is.
func (s *State) whereabouts() Balance {
	printed := func(id LotID) bool { return id.Class() == Print }
	b := Balance{OnHand: s.OnHand(), Printed: massOf(s.there(printed)), In: s.came}
	for _, m := range s.Mills {
		b.InMills += m.Held
	}
	return b
}

// Whereabouts is where what was in the shop at a moment was: what follows from the records
// before it, without the losses. Where a month began it is known; for any other moment
// all before it is folded anew.
func (s *State) Whereabouts(at time.Time) (Balance, error) {
	if at.After(s.Last) {
		return s.whereabouts(), nil
	}
	for _, m := range slices.Backward(s.months) {
		if m.before.Before(at) && !m.at.Before(at) {
			return m.balance, nil
		}
	}
	then, err := Fold(s.Records.First(s.Records.Began(at)).List())
	if err != nil {
		return Balance{}, err
	}
	return then.whereabouts(), nil
}

// OnHand is the mass in all lots but prints [kg].
func (s *State) OnHand() float64 {
	return massOf(s.there(func(id LotID) bool { return id.Class() != Print }))
}

// MassOf is the mass of some lots together [kg], added in their order, so that the last
// digit is always alike too.
func MassOf(lots []*Lot) float64 {
	sum := 0.0
	for _, l := range lots {
		sum += l.Mass
	}
	return sum
}

// Constituents is what a lot is made of, as the mass of each that is in it now [kg].
func (s *State) Constituents(id LotID) []Edge {
	l, ok := s.Lot(id)
	if !ok {
		return nil
	}
	made := slices.Clone(s.Composition(id))
	for i := range made {
		made[i].Mass *= l.Mass
	}
	return made
}

// Stock lists the lots of some classes that have mass on hand, in the order they
// came; the empty class lists all.
func (s *State) Stock(classes ...Class) []*Lot {
	return s.stocked(anyOf(classes))
}

// StockFrom lists up to n of the same lots, without looking at the others: the skip first of them are passed over.
func (s *State) StockFrom(skip, n int, classes ...Class) []*Lot {
	list := s.there(anyOf(classes))
	list = list[min(skip, len(list)):]
	return s.unpacked(list[:min(n, len(list))])
}

// Stocked is how many lots of some classes have mass on hand, and how much together [kg].
func (s *State) Stocked(classes ...Class) (n int, mass float64) {
	list := s.there(anyOf(classes))
	return len(list), massOf(list)
}

func anyOf(classes []Class) func(LotID) bool {
	all := slices.Contains(classes, "")
	return func(id LotID) bool { return all || slices.Contains(classes, id.Class()) }
}
