package heat

// The heat a pot holds, which the balance is held against.

// Stored returns the heat in charge and wall above the temperature of the room [J].
func (p *Pot) Stored(s State, mass, room float64) float64 {
	return mass*p.SpecificHeat*(s.Charge-room) + p.Wall*(s.Wall-room)
}
