package shop

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
	b := Balance{Losses: map[string]float64{}, OnHand: s.OnHand(), In: s.came}
	for _, l := range s.Stock(Print) {
		b.Printed += l.Mass
	}
	for _, m := range s.Mills {
		b.InMills += m.Held
	}
	for _, l := range s.Losses.All() {
		b.Losses[l.Name] += l.Mass
		b.Lost += l.Mass
	}
	b.Residual = b.In - b.OnHand - b.InMills - b.Printed - b.Lost
	return b
}

// OnHand is the mass in all lots but prints [kg].
func (s *State) OnHand() float64 {
	sum := 0.0
	for _, l := range s.stocked() {
		if l.Class != Print {
			sum += l.Mass
		}
	}
	return sum
}

// Stock lists the lots of a class that have mass on hand, in the order they
// came; the empty class lists all.
func (s *State) Stock(class Class) []*Lot {
	var list []*Lot
	for _, l := range s.stocked() {
		if class == "" || l.Class == class {
			list = append(list, l)
		}
	}
	return list
}
