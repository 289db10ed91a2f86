package breakage

// A mill ready to run: rates of every class, worked out once.

import (
	"math"

	"hopperful/process"
)

// mostClasses is the number of classes of the largest grid: 2·log2(1.5 m/63 µm)
// rounded up, and the pan.
const mostClasses = 31

// Mill grinds charges. It holds the rates of every class and the room the
// solver needs, so Run allocates nothing; one Mill serves one goroutine.
type Mill struct {
	grid      Grid
	power     Power
	tolerance float64
	pan       int // index of the last class

	specific [mostClasses]float64 // s, breakage rate per specific power [kg/J]
	leave    [mostClasses]float64 // D, leaving rate [1/s]
	screen   Screen               // that it was worked out for
	worked   bool                 // whether it was

	pieces [3]float64           // of the scrap filled in last: largest, typical, thickness [m]
	fed    [mostClasses]float64 // how much of it is in each class [–]

	// On the √2 ladder both debris laws are geometric in the number of classes,
	// so births follow from one running sum a law: Σ_{j<i} b_ij F_j needs no
	// inner loop.
	fineDown, coarseDown float64 // factor of the running sum a class down
	fineIn, coarseIn     float64 // what a broken kilogram adds to it
	finePan, coarsePan   float64 // what of it is finer than the pan edge

	stage [stages][mostClasses]float64 // class masses at each stage
	slope [stages][mostClasses]float64 // γ h dm/dt at each stage
	from  [mostClasses]float64         // what a stage starts from
	fault [mostClasses]float64         // estimated error of a step
}

// NewMill prepares a mill that runs charges.
//
//	g          the size classes, made by NewGrid
//	k          how the polymer breaks, see its fields
//	s          the screen, see its fields
//	p          the power into the charge, see its fields
//	tolerance  local error allowed a step over the charge [–], 1e-9 to 1e-2; 1e-3 for plans, 1e-6 for checks
//
// Equation: dm_i/dt = −S_i m_i + Σ_{j<i} b_ij S_j m_j − D_i m_i, dp_i/dt = D_i m_i, S_i = s_i P/H.
// Holds for: charges below the softening point; see docs/models/breakage.md.
// Source: KokaTrass1988 for the balance; Powderpedia2026 for the passage.
// Errors: RangeError for a tolerance, kernel, screen or power out of range, or a grid without classes.
// Checks: Mill and MillPassed rows of checks.csv (6 second library).
func NewMill(g Grid, k Kernel, s Screen, p Power, tolerance float64) (*Mill, error) {
	if err := process.Within("number of classes", float64(g.Classes()), 2, mostClasses, "", "own derivation"); err != nil {
		return nil, err
	}
	if err := process.Within("tolerance", tolerance, 1e-9, 1e-2, "", "own derivation"); err != nil {
		return nil, err
	}
	m := &Mill{grid: g, tolerance: tolerance, pan: g.Classes() - 1}
	if err := m.Reset(k, s, p); err != nil {
		return nil, err
	}
	return m, nil
}

// Reset gives the mill another kernel, screen or power and keeps grid and
// tolerance. It allocates nothing unless it refuses with a RangeError.
func (m *Mill) Reset(k Kernel, s Screen, p Power) error {
	if err := k.check(); err != nil {
		return err
	}
	if err := s.check(); err != nil {
		return err
	}
	if err := p.check(); err != nil {
		return err
	}
	m.power = p
	m.fineDown, m.coarseDown = math.Exp2(-k.Gamma/2), math.Exp2(-k.Beta/2)
	m.fineIn, m.coarseIn = k.Phi*(1-m.fineDown), (1-k.Phi)*(1-m.coarseDown)
	m.finePan, m.coarsePan = 1/(1-m.fineDown), 1/(1-m.coarseDown)

	size := m.grid.Size(0)
	rate := k.Rate * math.Pow(size/ReferenceSize, k.SizeExponent)
	grip := math.Pow(size/k.RotorSize, k.RotorExponent)
	rateDown, gripDown := math.Exp2(-k.SizeExponent/2), math.Exp2(-k.RotorExponent/2)
	for i := range m.pan {
		m.specific[i] = rate / (1 + grip)
		rate *= rateDown
		grip *= gripDown
	}
	m.specific[m.pan] = 0
	if !m.worked || m.screen != s { // a plan grinds charge after charge on one screen
		for i := range m.pan {
			m.leave[i] = s.leaving(m.grid.Lower(i), m.grid.Upper(i))
		}
		m.leave[m.pan] = s.leaving(0, m.grid.Upper(m.pan))
		m.screen, m.worked = s, true
	}
	return nil
}

// PowerAt returns the power into the charge at a hold-up [W].
func (m *Mill) PowerAt(held float64) float64 { return m.power.perMass(held) * held }
