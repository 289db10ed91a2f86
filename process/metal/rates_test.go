package metal

// What is believed of a rate and of a blade, in the figures the tables print.

import (
	"hopperful/process"
	"math"

	"gonum.org/v1/gonum/mathext"
)

// Mean is the mean rate [1/kg]; a RangeError for a rate that says nothing yet.
func (r Rate) Mean() (float64, error) {
	if err := r.Check(); err != nil {
		return 0, err
	}
	return r.Shape / r.Exposure, nil
}

// Deviation is the standard deviation of the rate [1/kg].
func (r Rate) Deviation() (float64, error) {
	if err := r.Check(); err != nil {
		return 0, err
	}
	return math.Sqrt(r.Shape) / r.Exposure, nil
}

// Above is the chance that the rate is above a value [–]; rate [1/kg] 0 to 1e12.
func (r Rate) Above(rate float64) (float64, error) {
	if err := r.Check(); err != nil {
		return 0, err
	}
	if err := process.Within("chips per mass", rate, 0, mostRate, "1/kg", judged); err != nil {
		return 0, err
	}
	return mathext.GammaIncRegComp(r.Shape, rate*r.Exposure), nil
}

// Prior returns how much wear metal to expect before anything was weighed;
// judgement, 1 to 100 mg/kg over all states. ok is false for an unknown state.
func (b Blade) Prior() (e Expected, ok bool) {
	switch b {
	case Sharp:
		return Expected{3e-6, 1e-6, 10e-6}, true
	case Worn:
		return Expected{10e-6, 3e-6, 30e-6}, true
	case Chipped:
		return Expected{30e-6, 10e-6, 100e-6}, true
	}
	return Expected{}, false
}

// Blade is the state of a mill's blades.
type Blade int

// The states.
const (
	Sharp   Blade = iota // clean edges, screen sound
	Worn                 // rounded edges
	Chipped              // nicks seen, or it rubs
)

// Expected is a share of metal that is expected, per mass ground.
type Expected struct {
	Median float64 // [–]
	Low    float64 // one in ten is below [–]
	High   float64 // one in ten is above [–]
}
