package estimate

import (
	"math"

	"hopperful/process/breakage"
	"hopperful/process/heat"
)

// moments is at how many times of a run the models look; plans use as many.
const moments = 10

// ground is what the breakage model says of one run.
type ground struct {
	before float64   // in the mill at the start [kg]
	time   []float64 // [s]
	held   []float64 // in the mill at those times [kg]
	passed []float64 // through the screen by then [kg]
	energy []float64 // into the charge by then [J]

	heldClasses, passedClasses []float64 // at the end [kg]
}

// misses is the factor on the product for a logarithm of the models' error.
func (g *ground) misses(err float64) float64 { return math.Exp(err * g.bite()) }

// bite is how much of that error shows in the run.
func (g *ground) bite() float64 { return bite(end(g.passed) / g.before) }

// flow is how fast product leaves at the end [kg/s].
func (g *ground) flow() float64 {
	n := len(g.passed)
	return (g.passed[n-1] - g.passed[n-2]) / (g.time[n-1] - g.time[n-2])
}

// power is what goes into the charge at the end [W].
func (g *ground) power() float64 {
	n := len(g.energy)
	return (g.energy[n-1] - g.energy[n-2]) / (g.time[n-1] - g.time[n-2])
}

// end is the last of a row.
func end(row []float64) float64 { return row[len(row)-1] }

// grindRun runs a charge on top of a residue's class masses (nil: an empty
// mill).
func grindRun(m *breakage.Mill, grid breakage.Grid, row []float64, r *Run, residue []float64) (*ground, error) {
	if err := m.Reset(Kernel(row), Screen(row), Power(row, r.Load)); err != nil {
		return nil, err
	}
	c := breakage.NewCharge(grid)
	copy(c.Held, residue)
	if err := m.Fill(c, r.Charge, r.Largest, TypicalPiece(row, r.Largest, r.Thickness), r.Thickness); err != nil {
		return nil, err
	}
	buffer := make([]float64, 4*moments)
	g := &ground{before: c.HeldMass(), time: buffer[:moments:moments], held: buffer[moments : 2*moments : 2*moments],
		passed: buffer[2*moments : 3*moments : 3*moments], energy: buffer[3*moments:]}
	for i := range g.time {
		g.time[i] = r.Time * float64(i+1) / moments
	}
	g.time[moments-1] = r.Time // not a last digit later
	course := breakage.Course{Time: g.time, Held: g.held, Passed: g.passed, Energy: g.energy}
	if err := m.Run(c, r.Time, &course); err != nil {
		return nil, err
	}
	g.heldClasses, g.passedClasses = c.Held, c.Passed
	return g, nil
}

// warmed is what the heat model says of a run's end, and of the charge at its
// hottest.
type warmed struct{ charge, wall, hottest float64 } // [K]

// erring moves the rises over the start by the models' error.
func (w warmed) erring(wall, charge float64, errs *[errorKinds]float64) warmed {
	by := math.Exp(errs[errorOfCharge])
	return warmed{charge: charge + (w.charge-charge)*by, wall: wall + (w.wall-wall)*math.Exp(errs[errorOfHeat]), hottest: charge + (w.hottest-charge)*by}
}

// readRise is the wall's rise at the usual level that a forecast of its reading errs in
// proportion to at the least [K]: the heat of the idling mill is in no equation. On 80
// mills to be tuned on half of the walls rose by less, and those of charges half as large
// were read 1 K off what was said with a rise of 3 K.
const readRise = 4.0

// unread is what a rise of the wall is below that; an idling mill at a lower level warms
// it less.
func (r *Run) unread(rise float64) float64 {
	least := readRise
	if share := r.setting().LevelShare; share > 0 {
		least *= math.Min(1, share/UsualShare)
	}
	return math.Max(0, least-math.Max(rise, 0))
}

// scorched stands for temperatures beyond the heat balance's range; the exact
// height does not matter there.
const scorched = 380.0

// startOf is how warm wall and charge are at the start [K], and whether that is
// known well enough to learn from. A cold mill stands at room temperature; one
// that has just run does not, and unread its wall says nothing.
func (r *Run) startOf(residue float64) (wall, charge float64, ok bool) {
	wall = r.Room
	if r.WallBefore != nil {
		wall = *r.WallBefore
	} else if r.Follows {
		return 0, 0, false
	}
	if r.ChargeBefore != nil {
		return wall, *r.ChargeBefore, true
	}
	return wall, (r.Room*r.Charge + wall*residue) / r.in(residue), true
}

// warmRun follows the temperatures of a run that starts with the wall and the
// charge as warm as given.
func warmRun(row []float64, area float64, r *Run, g *ground, wall, charge float64) warmed {
	pot := Pot(row, area)
	state := heat.State{Charge: charge, Wall: wall}
	var account heat.Account
	course := heat.Course{Time: g.time, Held: g.held, Energy: g.energy}
	hottest, err := pot.Follow(&state, &account, g.before, r.Room, &course)
	if err != nil {
		return warmed{r.Room + scorched, r.Room + scorched, r.Room + scorched}
	}
	return warmed{state.Charge, state.Wall, hottest}
}

// cooled is how warm the wall is after the rest before the run, lid open [K].
func cooled(row []float64, r *Run) float64 {
	return r.Room + (*r.WallStopped-r.Room)*math.Exp(-row[WallLoss]*row[LidFactor]**r.Rest/row[WallCapacity])
}

// drawn is what the mill took from the socket: the empty mill's draw for the
// whole run, and what went into the charge [J].
func drawn(row []float64, r *Run, g *ground) float64 {
	return Idle(row, r.Load)*r.Time + end(g.energy)
}
