package estimate

import (
	"fmt"
	"math"

	"hopperful/process"
)

// Run is one run of a mill as its shop recorded it, in SI units. A nil pointer
// means that nobody measured it.
type Run struct {
	Record    int64  // id of the record it comes from
	Polymer   string // key into [Setup.Priors]
	Screen    string // names the sheet at the outlet; runs of one name share its lessons
	Hole      *float64
	OpenShare *float64

	Chapter int     // services of blade or rotor before it
	Since   float64 // ground since the latest one, or since the first run [kg]
	Day     int     // numbers the days on which the mill ran
	OfDay   int     // which charge of its day it is, from 1; 0: not known

	Charge    float64    // filled in [kg]
	Time      float64    // ground for [s]
	Load      Load       // what the mill draws at the level; zero: level not known, and masses teach nothing
	Largest   float64    // largest piece of the scrap [m]
	Thickness float64    // of its walls [m]
	Follows   bool       // what the run before it left may still be in the mill
	lay       *remainder // what the run before it left, where that one is not learned from
	LongAfter bool       // it follows after a break long enough for the mill to have been emptied

	Product *float64 // through the screen [kg]
	Left    *float64 // in the mill at the end [kg]
	Energy  *float64 // from the socket [J]
	Stalled bool
	Intact  bool // its charge came out as grains, and nobody read how warm it was
	// StallOdds is the book's log odds of a stall in such a run, before this
	// mill's own shift; nil: not known.
	StallOdds *float64

	Room                      float64 // [K]
	RoomGuessed               bool    // nobody read it
	WallBefore, WallAfter     *float64
	ChargeBefore, ChargeAfter *float64
	Rest                      *float64 // since the end of the run before [s]
	WallStopped               *float64 // wall when the run before ended [K]

	Resolution float64 // of the scale [kg]
	Sieved     *Sieved // the product's sieve stack, if one belongs to it
}

// Sieved is a sieve analysis of a run's product.
type Sieved struct {
	Openings []float64 // [m], rising
	Passing  []float64 // share of the mass finer than each [1], rising
	Mass     float64   // of the sample [kg]
	Spread   float64   // standard deviation of the logarithm of all sizes together [1]; 0 on sieves, not so in pictures
}

// byJudgement marks ranges that no source gives.
const byJudgement = "judgement"

// check refuses a run that no mill can have made; a merely odd one is for the
// likelihood to weigh.
func (r *Run) check() error {
	for _, c := range [...]struct {
		name          string
		value, lo, hi float64
		unit          string
	}{
		{"run.charge", r.Charge, 1e-4, 1e3, "kg"}, {"run.time", r.Time, 1, 86400, "s"},
		{"run.largest", r.Largest, 2e-4, 1.4, "m"}, {"run.thickness", r.Thickness, 1e-5, 0.9 * r.Largest, "m"},
		{"run.room", r.Room, 243.15, 333.15, "K"}, {"run.resolution", r.Resolution, 0, 10, "kg"},
		{"run.since", r.Since, 0, 1e6, "kg"},
	} {
		if err := process.Within(c.name, c.value, c.lo, c.hi, c.unit, byJudgement); err != nil {
			return err
		}
	}
	for _, c := range [...]struct {
		name   string
		value  *float64
		lo, hi float64
		unit   string
	}{
		{"run.product", r.Product, 0, 1e3, "kg"}, {"run.left", r.Left, 0, 1e3, "kg"}, {"run.energy", r.Energy, 0, 1e9, "J"},
		{"run.wall_before", r.WallBefore, 233.15, 600, "K"}, {"run.wall_after", r.WallAfter, 233.15, 600, "K"},
		{"run.charge_before", r.ChargeBefore, 233.15, 600, "K"}, {"run.charge_after", r.ChargeAfter, 233.15, 600, "K"},
		{"run.wall_stopped", r.WallStopped, 233.15, 600, "K"}, {"run.rest", r.Rest, 0, 1e9, "s"},
		{"run.hole", r.Hole, process63, 0.1, "m"}, {"run.open_share", r.OpenShare, 1e-3, 0.999, ""},
		{"run.stall_odds", r.StallOdds, -60, 60, ""},
	} {
		if c.value == nil {
			continue
		}
		if err := process.Within(c.name, *c.value, c.lo, c.hi, c.unit, byJudgement); err != nil {
			return err
		}
	}
	if l := r.Load; l.Watts != 0 && !(l.Watts > 0 && l.Watts <= 1e5 && l.Spread > 1 && l.Spread <= 10 && l.IdleShare >= 0 && l.IdleShare < 1) {
		return &process.RangeError{Name: "run.load", Value: l.Watts, Lo: 0, Hi: 1e5, Unit: "W", Source: byJudgement}
	}
	if err := process.Within("run.level", float64(r.Load.Level), 0, mostLevels, "", byJudgement); err != nil {
		return err
	}
	return r.Sieved.check()
}

// process63 is the smallest hole a screen of the breakage model may have [m].
const process63 = 63e-6

// check refuses a stack whose sieves do not rise or whose shares fall.
func (s *Sieved) check() error {
	if s == nil {
		return nil
	}
	if len(s.Openings) != len(s.Passing) || len(s.Openings) == 0 || len(s.Openings) > 40 {
		return fmt.Errorf("a sieve stack with %d openings and %d shares", len(s.Openings), len(s.Passing))
	}
	if err := process.Within("mass sieved", s.Mass, 0, 1e3, "kg", byJudgement); err != nil {
		return err
	}
	size, share := 0.0, 0.0
	for i := range s.Openings {
		if !(s.Openings[i] > size && s.Openings[i] < 10) {
			return process.Within("sieve opening", s.Openings[i], size, 10, "m", "own derivation")
		}
		if !(s.Passing[i] >= share && s.Passing[i] <= 1) {
			return process.Within("share passing", s.Passing[i], share, 1, "", "own derivation")
		}
		size, share = s.Openings[i], s.Passing[i]
	}
	return nil
}

// grindable reports whether the run's grinding can be reckoned: its level is
// known and it was not cut short by a stall.
func (r *Run) grindable() bool { return r.Load.Watts > 0 && !r.Stalled }

// in is what was in the mill at the start [kg].
func (r *Run) in(residue float64) float64 { return math.Max(r.Charge+residue, 1e-6) }

// Found says what lay in the mill when the run began, where the run before it cannot be
// learned from: mean and standard deviation [kg].
func (r *Run) Found(mean, spread float64) { r.lay = &remainder{mean, spread} }

// Met is what lay in the mill when the run began [kg], from what the run before it is
// reckoned to have left.
func (r *Run) Met(before float64) float64 {
	switch {
	case !r.Follows:
		return 0
	case r.lay != nil:
		return r.lay.mean
	}
	return before
}

// setting is where the run lies among settings.
func (r *Run) setting() Setting {
	return Setting{Charge: r.Charge, Time: r.Time, LevelShare: r.Load.Share, ChargeOfDay: float64(r.OfDay), Since: r.Since}
}
