package moisture

// A size distribution of grains.

import (
	"math"

	"hopperful/process"
)

const (
	smallest = 1e-6 // smallest grain [m]
	largest  = 0.1  // largest [m]
	classes  = 200  // most size classes taken
)

// Grains is a size distribution.
type Grains struct {
	Shape Shape
	Size  []float64 // diameter, or thickness of plates, of each class [m], 1e-6 to 0.1
	Share []float64 // share of each class by mass [–], 0 to 1, together 1
}

// Check refuses grains outside the ranges of their fields with a RangeError.
// Shares that do not add up to 1 are refused and not stretched: what is missing
// is to be named.
func (g Grains) Check() error {
	if err := checkBody(g.Shape, math.Inf(1)); err != nil {
		return err
	}
	if err := process.Within("size classes", float64(len(g.Size)), 1, classes, "", judged); err != nil {
		return err
	}
	if err := process.Within("shares", float64(len(g.Share)), float64(len(g.Size)), float64(len(g.Size)), "", derived); err != nil {
		return err
	}
	total := 0.0
	for i, d := range g.Size {
		if err := process.Within("grain size", d, smallest, largest, "m", judged); err != nil {
			return err
		}
		if err := process.Within("share of a size", g.Share[i], 0, 1, "", derived); err != nil {
			return err
		}
		total += g.Share[i]
	}
	return process.Within("sum of the shares", total, 1-1e-6, 1+1e-6, "", derived)
}

// Motion is how water moves in a grain and leaves it.
type Motion struct {
	Diffusivity float64 // in the plastic [m²/s], 1e-20 to 1e-6
	Transfer    float64 // k at the surface [m/s], 1e-15 to 1e3, or +Inf for a surface at equilibrium at once
}

// Lot is a size distribution prepared for one motion.
type Lot struct {
	share []float64
	rate  []float64 // D/a² [1/s]
	body  []*Body
	slow  float64 // the least rate of a class that is there
}

// NewLot prepares grains. It allocates; asking the Lot does not.
//
// Errors: RangeError for grains or a motion out of range.
func NewLot(g Grains, m Motion) (*Lot, error) {
	if err := g.Check(); err != nil {
		return nil, err
	}
	if err := process.Within("diffusivity", m.Diffusivity, 1e-20, 1e-6, "m²/s", judged); err != nil {
		return nil, err
	}
	free := math.IsInf(m.Transfer, 1)
	if !free {
		if err := process.Within("surface transfer", m.Transfer, 1e-15, 1e3, "m/s", judged); err != nil {
			return nil, err
		}
	}
	l := &Lot{slow: math.Inf(1)}
	for i, d := range g.Size {
		if g.Share[i] == 0 {
			continue
		}
		biot := math.Inf(1)
		if !free {
			biot = m.Transfer * d / 2 / m.Diffusivity
		}
		var b *Body
		if free && len(l.body) > 0 {
			b = l.body[0] // the same for all sizes
		} else {
			var err error
			if b, err = NewBody(g.Shape, biot); err != nil {
				return nil, err
			}
		}
		l.share = append(l.share, g.Share[i])
		l.rate = append(l.rate, m.Diffusivity/(d*d/4))
		l.body = append(l.body, b)
		l.slow = min(l.slow, l.rate[len(l.rate)-1])
	}
	return l, nil
}

// Lost returns the share of the lot's excess water that is gone after a time
// [s], 0 to 1e10 [–]; a RangeError outside.
func (l *Lot) Lost(time float64) (float64, error) {
	if !(time >= 0 && time <= longestTime) {
		return 0, process.Within("time", time, 0, longestTime, "s", judged)
	}
	return l.lost(time), nil
}

const longestTime = 1e10 // [s], 300 years

func (l *Lot) lost(time float64) float64 {
	total := 0.0
	for i, b := range l.body {
		total += l.share[i] * b.lost(min(time*l.rate[i], longest))
	}
	return total
}

// Time returns how long it takes until a share of the lot's excess water is gone
// [s]; a RangeError for a share not in 0 to 1 − 1e-9, or longer than 1e10 s.
func (l *Lot) Time(lost float64) (float64, error) {
	if !(lost >= 0 && lost <= 1-1e-9) {
		return 0, process.Within("share of the water that has to go", lost, 0, 1-1e-9, "", derived)
	}
	if lost == 0 {
		return 0, nil
	}
	if end := l.lost(longestTime); end < lost {
		return 0, process.Within("share of the water that has to go within 300 years", lost, 0, end, "", judged)
	}
	return rising(lost, longestTime, l.lost), nil
}

// LotLost returns the share of the excess water of a size distribution that is
// gone after a time [–]. Small grains dry first: the square of the size counts.
//
//	g     the grains, see its fields
//	m     how water moves, see its fields
//	time  time [s], 0 to 1e10
//
// Equation: Σ s_i M(D t/a_i²).
// Holds for: grains that all see the same air.
// Source: own derivation, from Lost.
// Errors: RangeError for arguments out of range, shares that do not add up to 1.
// Checks: LotLost rows of checks.csv (second library, identity).
func LotLost(g Grains, m Motion, time float64) (float64, error) {
	l, err := NewLot(g, m)
	if err != nil {
		return 0, err
	}
	return l.Lost(time)
}

// LotTime returns how long it takes until a share of the excess water of a size
// distribution is gone [s].
//
//	g     the grains, see its fields
//	m     how water moves, see its fields
//	lost  share that has to go [–], 0 to 1 − 1e-9
//
// Equation: LotLost(t) = lost, solved within a bracket.
// Holds for: as LotLost.
// Source: own derivation.
// Errors: RangeError for arguments out of range, or longer than 1e10 s.
// Checks: LotTime rows of checks.csv (own derivation).
func LotTime(g Grains, m Motion, lost float64) (float64, error) {
	l, err := NewLot(g, m)
	if err != nil {
		return 0, err
	}
	return l.Time(lost)
}
