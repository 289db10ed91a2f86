package outside

// Kind is one way in which a mill departs from the books.
type Kind int

// The oddities, each with the reason to expect it.
const (
	// Warming: pieces break more slowly as the charge warms. Warm coffee beans
	// are less brittle and give fewer fines and more large pieces (Uman et al.,
	// Sci. Rep. 6 (2016) 24483, direction only); the strength is judgement.
	Warming Kind = iota
	// Blinding: warm fines smear over the holes, so the open area falls with
	// what passes until somebody brushes the sheet. Common practice, no source.
	Blinding
	// Windage: the empty rotor takes the cube of its speed, as a fan does
	// (affinity law), where other mills rub with a steady torque.
	Windage
	// Response: the speed follows the controller's dial along an S, as
	// electronic speed controls with a feedback do; no law of a phase angle.
	Response
	// Tough: some pieces (thick walls, seams, another make) break at a quarter
	// of the rate. Judgement.
	Tough
	// Spills: what escapes at lid and outlet grows with the speed, and nobody
	// writes it down. Judgement.
	Spills
	// Emissivity: the thermometer looks at bright metal and reads a constant
	// share of the rise over the room: emissivities of worked steel and
	// aluminium lie far below the 0.95 such thermometers are set to (from memory).
	Emissivity
	// Bags: scrap comes in bags, and pieces, infill and walls change from one to
	// the next. Common practice, no source.
	Bags
	// Corner: a dead corner fills with material that neither breaks nor leaves.
	// Common practice, no source.
	Corner
	// Crowding: the rate at which a piece breaks falls with a power between 0
	// and 1 of what lies in the mill. A screen mill's rate was found not to
	// depend on fill (Mirtič & Reynolds, Powder Technol. 298 (2016) 99), an
	// energy balance gives 1.
	Crowding
	// Fan: the rotor or the motor blows on the pot while it turns, so it cools
	// several times faster running than at rest. Judgement.
	Fan
	// Watch: the run is timed by hand: started late, stopped late, run out.
	// Judgement.
	Watch
	// SlowWall: the outside of a thick pot follows its inside minutes later.
	// Heat conduction; the coupling is judgement.
	SlowWall
	kinds
)

// String names the oddity.
func (k Kind) String() string {
	return [...]string{"slower when warm", "screen blinds", "windage", "speed along an S", "tough pieces", "spills", "thermometer reads low",
		"bags differ", "dead corner", "rate against fill", "fan-cooled", "timed by hand", "slow wall"}[k]
}

// Kinds are all of them.
func Kinds() []Kind {
	all := make([]Kind, kinds)
	for i := range all {
		all[i] = Kind(i)
	}
	return all
}
