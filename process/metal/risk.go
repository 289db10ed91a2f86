package metal

// From wear to a blocked print.

import (
	"math"

	"hopperful/process"
)

// NozzleShare is the share of a nozzle's bore from which a chip counts as one
// that can block it [–] where nobody says otherwise; judgement.
const NozzleShare = 1.0 / 3

// Metal is what is in the granulate and what was done about it.
type Metal struct {
	Wear   float64  // metal per mass ground [–], 0 to 0.5
	Parts  []Part   // of what metals
	Sizes  Spectrum // of the chips before the screen
	Screen float64  // hole of the finest screen passed [m], 1e-5 to 0.2
	Slip   float64  // longest chip over the hole it slips through [–], 1 for round chips, to 5
	Passes int      // by a magnet, 0 to 20
}

// Check refuses a Metal outside the ranges of its fields with a RangeError.
func (m Metal) Check() error {
	if err := process.Within("metal per mass ground", m.Wear, 0, 0.5, "", judged); err != nil {
		return err
	}
	if err := checkParts(m.Parts); err != nil {
		return err
	}
	if err := process.Within("screen hole", m.Screen, 1e-5, 0.2, "m", judged); err != nil {
		return err
	}
	if err := process.Within("length of a chip over the hole it slips through", m.Slip, 1, 5, "", judged); err != nil {
		return err
	}
	return m.Sizes.Check()
}

// Print is what is to be printed.
type Print struct {
	Mass   float64 // [kg], above 0 to 1e6
	Nozzle float64 // bore [m], 1e-4 to 0.05
	Share  float64 // of the bore, from which on a chip can block it [–], to 1; 0: NozzleShare
}

func (p Print) share() float64 {
	if p.Share == 0 {
		return NozzleShare
	}
	return p.Share
}

// Outlook is what a print has to expect.
type Outlook struct {
	Staying  Staying // share of the metal after the magnet
	Metal    float64 // in the granulate after the magnet, chips of all sizes [–]
	Rate     float64 // chips that can block, per mass [1/kg]
	Low      float64 // the same with the magnet at its best [1/kg]
	High     float64 // with the magnet at its worst [1/kg]
	Chance   float64 // that the print meets one [–]
	MeanMass float64 // printed per such chip [kg]; 0 when there are none
	Sample   float64 // to look through and find clean before this rate is excluded at 95 % [kg]; 0 when there are none
}

// PrintRisk returns what a print has to expect from the metal in its granulate.
//
//	m  the metal, see its fields
//	p  the print, see its fields
//
// Equation: λ = w Σ s_i (1 − c_i)^n N_i, N_i = Blockers from nozzle/3 to slip × screen; P = 1 − exp(−λ m).
// Holds for: chips of all metals of one spectrum; a chip of nozzle/3 counts as a blocker, though most pass: reads high. Chips that come together read high too.
// Source: own derivation; nozzle/3 is judgement.
// Errors: RangeError for fields out of range.
// Checks: PrintRisk rows of checks.csv (second library, own derivation).
func PrintRisk(m Metal, p Print) (Outlook, error) {
	var out Outlook
	if err := m.Check(); err != nil {
		return out, err
	}
	if err := process.Within("mass of the print", p.Mass, 1e-6, mostKg, "kg", judged); err != nil {
		return out, err
	}
	if err := process.Within("nozzle", p.Nozzle, 1e-4, 0.05, "m", judged); err != nil {
		return out, err
	}
	var err error
	if out.Staying, err = StaysIn(m.Parts, m.Passes); err != nil {
		return out, err
	}
	out.Metal = m.Wear * out.Staying.Share
	window := Window{From: p.Nozzle * p.share(), To: m.Screen * m.Slip}
	n := float64(m.Passes)
	for _, part := range m.Parts {
		chips, err := Blockers(m.Sizes, window, part.Kind.Density)
		if err != nil {
			return out, err
		}
		in := m.Wear * part.Share * chips
		out.Rate += in * math.Pow(1-part.Kind.Catch, n)
		out.Low += in * math.Pow(1-part.Kind.High, n)
		out.High += in * math.Pow(1-part.Kind.Low, n)
	}
	if err := checkNumbers("chips per mass", out.Rate, out.Low, out.High); err != nil {
		return out, err
	}
	if out.Chance, err = Chance(out.Rate, p.Mass); err != nil {
		return out, err
	}
	if out.Rate > 1e-6 {
		out.MeanMass = 1 / out.Rate
		out.Sample, err = CleanMass(out.Rate, 0.95)
	}
	return out, err
}

// Change is a print before and after something was done.
type Change struct {
	Before, After Outlook
	Fewer         float64 // chips that can block after, over before [–]; 1 when there were none
}

// FinerScreen returns what a finer last screen changes for a print.
//
//	m       the metal, see its fields; its screen is the present one
//	p       the print, see its fields
//	screen  hole of the finer one [m], 1e-5 to the present one
//
// Equation: PrintRisk with the finer hole.
// Holds for: screening that wears off no metal itself. A screen of nozzle/3 or finer leaves no round chip that blocks.
// Source: own derivation.
// Errors: RangeError for fields out of range or a coarser screen.
// Checks: FinerScreen rows of checks.csv (second library, identity).
func FinerScreen(m Metal, p Print, screen float64) (Change, error) {
	before, err := PrintRisk(m, p)
	if err != nil {
		return Change{}, err
	}
	if err := process.Within("hole of the finer screen", screen, 1e-5, m.Screen, "m", derived); err != nil {
		return Change{}, err
	}
	m.Screen = screen
	after, err := PrintRisk(m, p)
	c := Change{Before: before, After: after, Fewer: 1}
	if before.Rate > 0 {
		c.Fewer = after.Rate / before.Rate
	}
	return c, err
}
