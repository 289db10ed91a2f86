package demo

import (
	"fmt"
	"math"
	"slices"

	"hopperful/estimate"
	"hopperful/polymer"
	"hopperful/process/breakage"
	"hopperful/process/heat"
	"hopperful/shop"
)

// truth is a mill as it really is, which nobody in the shop knows: what its
// runs give comes from the models with these parameters, and the shop's people
// only read scales, watches and thermometers. What is learned from the records
// can so be held against it.
type truth struct {
	row    []float64             // parameters, but for the polymer's
	area   float64               // inner wall a charge touches [m²]
	loads  map[int]estimate.Load // what it draws, by level; 0 without a controller
	blunts float64               // of the break rate, lost a kilogram [1/kg]

	solver *breakage.Mill
	grid   breakage.Grid
	since  float64    // ground since the blade was sharpened [kg]
	held   []float64  // left in it, by size class [kg]
	warm   heat.State // of what is left and of the wall
	room   float64    // [K]
	newest []float64  // product of the latest run, by size class [kg]
}

// apart is how a parameter of a mill lies off the books' median for it.
type apart struct {
	param  estimate.Param
	factor float64
}

// largestPiece bounds the size classes: no larger piece is ground here [m].
const largestPiece = 70e-3

// rattleTruth is a mill a bit stronger and less dusty than the books' one, in a
// draughty corner. Its pot holds as much heat as its mass says.
func rattleTruth() (*truth, error) {
	m := millRattle()
	t := &truth{blunts: 0.03, loads: map[int]estimate.Load{}}
	for i, at := range m.Controller.Watts {
		t.loads[at.Level] = estimate.Load{Watts: at.Watts, Spread: 1.06, IdleShare: m.Controller.IdleWatts[i].Watts / at.Watts}
	}
	return t, t.build(m, 2.3*500, []apart{{estimate.BreakRate, 1.3}, {estimate.FineShare, 0.7}, {estimate.Discharge, 1.3},
		{estimate.HoldMass, 0.9}, {estimate.HeatShare, 0.6}, {estimate.Film, 3.0}, {estimate.WallLoss, 0.75}, {estimate.PieceShare, 1.1},
		{estimate.PowerScale, 1.02}, {estimate.Dust, 0.8}})
}

// grumbleTruth is a heavy, tired one.
func grumbleTruth() (*truth, error) {
	m := millGrumble()
	t := &truth{blunts: 0.03, loads: map[int]estimate.Load{0: {Watts: *m.RatedPower / 2, Spread: 1.35}}}
	return t, t.build(m, 5*460, []apart{{estimate.BreakRate, 0.85}, {estimate.PowerScale, 1.15}, {estimate.Dust, 1.3}})
}

// build sets a truth up from the books' medians for such a mill.
func (t *truth) build(m shop.Mill, wall float64, off []apart) error {
	beliefs := estimate.Prior()
	for _, b := range beliefs.List() {
		t.row = append(t.row, b.Median)
	}
	t.row[estimate.Hole], t.row[estimate.WallCapacity] = *m.Screen.Hole, wall
	if m.Screen.OpenShare != nil {
		t.row[estimate.OpenShare] = *m.Screen.OpenShare
	}
	t.row[estimate.HoldMass] *= *m.Chamber / 1e-3 // the books are about a litre
	for _, x := range off {
		t.row[x.param] *= x.factor
	}
	width := math.Cbrt(4 * *m.Chamber / math.Pi) // a chamber as tall as it is wide
	t.area = math.Pi*width*width + math.Pi*width*width/4
	var err error
	if t.grid, err = breakage.NewGrid(largestPiece); err != nil {
		return err
	}
	t.held = make([]float64, t.grid.Classes())
	t.solver, err = breakage.NewMill(t.grid, estimate.Kernel(t.row), estimate.Screen(t.row), breakage.Power{Net: 1, MinHeld: 1}, 1e-4)
	return err
}

// of is the mill with a polymer in it, as blunt as it is by now. The plastics
// take a little more heat than the books say, and tough ones are a bit tougher.
func (t *truth) of(name string) ([]float64, error) {
	row := slices.Clone(t.row)
	p, err := polymer.Books().Find(name)
	if err != nil {
		return nil, err
	}
	for _, w := range []struct {
		property polymer.Property
		into     estimate.Param
		truly    func(book float64) float64
	}{
		{polymer.Density, estimate.SolidDensity, func(book float64) float64 { return book }},
		{polymer.SpecificHeatSolid, estimate.SpecificHeat, func(book float64) float64 { return 1.03 * book }},
		// The reference polymer stays 1, which is what it is by definition.
		{polymer.BreakageResistance, estimate.Toughness, func(book float64) float64 { return math.Pow(book, 1.05) }},
	} {
		v, err := p.Value(w.property)
		if err != nil {
			return nil, err
		}
		row[w.into] = w.truly(v.Value)
	}
	row[estimate.BreakRate] *= math.Exp(-t.blunts * t.since)
	return row, nil
}

// coldStart empties the mill and lets it stand until it is as warm as the room.
func (t *truth) coldStart(room float64) {
	t.room, t.warm = room, heat.State{Charge: room, Wall: room}
	clear(t.held)
}

// rest lets the mill stand open between two runs [s].
func (t *truth) rest(time float64) error {
	pot := estimate.Pot(t.row, t.area)
	return pot.Rest(&t.warm, &heat.Account{}, time, sum(t.held), t.room, t.row[estimate.LidFactor])
}

// gave is what a run truly came to.
type gave struct {
	passed  []float64 // through the screen, by size class [kg]
	dust    float64   // of it, lost as dust and spill [1]
	left    float64   // in the mill [kg]
	energy  float64   // from the socket [J]
	wall    float64   // at the end [K]
	content float64   // temperature of what is in the mill at the end [K]
}

// moments is at how many times the heat balance looks at a run.
const moments = 10

// run grinds a charge on top of what the mill holds.
func (t *truth) run(lot *shop.Lot, charge float64, level int, time float64) (gave, error) {
	row, err := t.of(lot.Polymer)
	if err != nil {
		return gave{}, err
	}
	load, ok := t.loads[level]
	if !ok {
		return gave{}, fmt.Errorf("nobody metered level %d", level)
	}
	if err := t.solver.Reset(estimate.Kernel(row), estimate.Screen(row), estimate.Power(row, load)); err != nil {
		return gave{}, err
	}
	largest, wall := *lot.Pieces.Largest, *lot.Pieces.Wall
	inside := breakage.NewCharge(t.grid)
	copy(inside.Held, t.held)
	residue := sum(t.held)
	if err := breakage.AddFeed(t.grid, inside.Held, charge, largest, estimate.TypicalPiece(row, largest, wall), wall); err != nil {
		return gave{}, err
	}
	course := breakage.Course{Held: make([]float64, moments), Passed: make([]float64, moments), Energy: make([]float64, moments)}
	for i := range moments {
		course.Time = append(course.Time, time*float64(i+1)/moments)
	}
	course.Time[moments-1] = time // and not a last digit later
	if err := t.solver.Run(inside, time, &course); err != nil {
		return gave{}, err
	}
	if t.warm.Charge, err = heat.MixTemperature(residue, t.warm.Charge, charge, t.room); err != nil {
		return gave{}, err
	}
	pot := estimate.Pot(row, t.area)
	if _, err := pot.Follow(&t.warm, &heat.Account{}, residue+charge, t.room,
		&heat.Course{Time: course.Time, Held: course.Held, Energy: course.Energy}); err != nil {
		return gave{}, err
	}
	t.held, t.newest, t.since = inside.Held, inside.Passed, t.since+charge
	return gave{passed: inside.Passed, dust: row[estimate.Dust], left: sum(t.held),
		energy: estimate.Idle(row, load)*time + course.Energy[moments-1], wall: t.warm.Wall, content: t.warm.Charge}, nil
}

// finer is the share of a product that is finer than each of the sizes, which rise.
func (t *truth) finer(classes, sizes []float64) ([]float64, error) {
	share := make([]float64, len(sizes))
	return share, t.grid.Passing(classes, sizes, share)
}

func sum(xs []float64) float64 {
	total := 0.0
	for _, x := range xs {
		total += x
	}
	return total
}
