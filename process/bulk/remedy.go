package bulk

// Granulate over an outlet, and what would help.

import "hopperful/process"

// Granulate is what stands over an outlet.
type Granulate struct {
	Mix   Mixture
	Stick Sticking
	D95   float64 // size that 95 % by mass are below [m], 1e-5 to 0.2
	Mean  float64 // mean size [m], 1e-5 to D95
	Solid float64 // density of the solid [kg/m³], 100 to 10000
}

// Check refuses granulate outside the ranges of its fields with a RangeError.
func (g Granulate) Check() error {
	if err := process.Within("d95", g.D95, 1e-5, 0.2, "m", judged); err != nil {
		return err
	}
	if err := process.Within("mean size", g.Mean, 1e-5, g.D95, "m", derived); err != nil {
		return err
	}
	if err := process.Within("density of the solid", g.Solid, 100, 1e4, "kg/m³", judged); err != nil {
		return err
	}
	return g.Mix.Check()
}

// Bridge is how granulate does over an outlet.
type Bridge struct {
	Bulk     float64 // bulk density of the mixture at best packing [kg/m³]
	Strength float64 // of it [Pa]
	Ratio    float64 // outlet over d95 [–]
	Wedging  Risk    // grains that wedge
	Least    float64 // outlet below which they do likely [m]
	Free     float64 // outlet above which they do seldom [m]
	Sticky   float64 // outlet above which a sticking arch breaks [m]
	Sticks   bool    // the outlet is smaller than that
	Rate     float64 // discharge where it runs [kg/s]; 0 where it sticks, is a slot or below 6 mean grains
}

// Runs reports whether neither kind of arch is to be expected.
func (b Bridge) Runs() bool { return !b.Sticks && b.Wedging <= Possible }

// Bridging returns how granulate does over an outlet.
//
//	o  the outlet, see its fields
//	g  the granulate, see its fields
//
// Equation: MechanicalOutlet, CohesiveOutlet with MixedStrength and MixedPacking, DischargeRate.
// Holds for: as those do.
// Source: own derivation, joining them.
// Errors: RangeError for fields out of range.
// Checks: Bridging rows of checks.csv (own derivation).
func Bridging(o Outlet, g Granulate) (Bridge, error) {
	var b Bridge
	if err := g.Check(); err != nil {
		return b, err
	}
	packing, err := MixedPacking(g.Mix)
	if err != nil {
		return b, err
	}
	b.Bulk = packing * g.Solid
	if b.Strength, err = MixedStrength(g.Stick, g.Mix); err != nil {
		return b, err
	}
	if b.Sticky, err = CohesiveOutlet(o, b.Strength, b.Bulk); err != nil {
		return b, err
	}
	if b.Least, b.Free, err = MechanicalOutlet(g.D95, o.Slot); err != nil {
		return b, err
	}
	if b.Wedging, err = MechanicalRisk(o, g.D95); err != nil {
		return b, err
	}
	b.Ratio = o.Width / g.D95
	b.Sticks = o.Width < b.Sticky
	if !b.Sticks && !o.Slot && o.Width >= 6*g.Mean {
		b.Rate, err = DischargeRate(Discharge{o.Width, g.Mean, b.Bulk, DischargeC, DischargeK})
	}
	return b, err
}

// Remedy is something that can be done.
type Remedy string

// The remedies.
const (
	WidenOutlet Remedy = "a larger outlet"
	TakeOffDust Remedy = "take off the dust"
	FinerScreen Remedy = "a finer last screen"
	Agitate     Remedy = "an agitator"
)

// Effect is what a remedy changes.
type Effect struct {
	Remedy Remedy
	To     float64 // outlet [m], share of dust left [–], d95 [m]; 0 for the agitator
	Cost   float64 // share of the mass that is lost [–]
	After  Bridge
	Runs   bool // neither kind of arch is to be expected afterwards
}

// Means is what a shop can do.
type Means struct {
	DustLeft float64 // share of the dust that stays after taking it off [–], 0 to 1
	D95      float64 // after a finer last screen [m], 1e-5 to d95 now
}

// Remedies returns what each remedy would change, in numbers.
//
//	o     the outlet, see its fields
//	g     the granulate, see its fields
//	with  what the shop can do, see its fields
//
// Equation: Bridging again, with the outlet at the larger of Free and Sticky; with DustLeft of the dust (dust taken off is lost mass); with the finer D95 and the mean in proportion. Shaken or stirred, grains pass down to a hole of about one diameter, and an arch that sticks is broken.
// Holds for: one remedy at a time. A finer screen also makes more dust, which is not reckoned here.
// Source: Janda2009 for grains kept moving; the rest is own derivation.
// Errors: RangeError for fields out of range.
// Checks: Remedies rows of checks.csv (own derivation).
func Remedies(o Outlet, g Granulate, with Means) ([]Effect, error) {
	now, err := Bridging(o, g)
	if err != nil {
		return nil, err
	}
	if err := process.Within("share of the dust that stays", with.DustLeft, 0, 1, "", derived); err != nil {
		return nil, err
	}
	if err := process.Within("d95 after a finer screen", with.D95, 1e-5, g.D95, "m", derived); err != nil {
		return nil, err
	}
	wide, clean, fine := o, g, g
	wide.Width = max(now.Free, now.Sticky, o.Width) * (1 + 1e-12)
	left := g.Mix.Dust * with.DustLeft
	gone := g.Mix.Dust - left
	if err := process.Within("share of the mass that the dust takes away", gone, 0, 0.99, "", judged); err != nil {
		return nil, err
	}
	clean.Mix.Dust = left / (1 - gone)
	fine.D95, fine.Mean = with.D95, g.Mean*with.D95/g.D95
	all := []Effect{{Remedy: WidenOutlet, To: wide.Width}, {Remedy: TakeOffDust, To: clean.Mix.Dust, Cost: gone}, {Remedy: FinerScreen, To: with.D95}}
	for i, c := range [...]struct {
		o Outlet
		g Granulate
	}{{wide, g}, {o, clean}, {o, fine}} {
		if all[i].After, err = Bridging(c.o, c.g); err != nil {
			return nil, err
		}
		all[i].Runs = all[i].After.Runs()
	}
	stirred := now
	stirred.Least, stirred.Free, stirred.Sticks = g.D95, g.D95, false
	stirred.Wedging = Blocked
	if o.Width > g.D95 {
		stirred.Wedging = Seldom
	}
	return append(all, Effect{Remedy: Agitate, After: stirred, Runs: o.Width > g.D95}), nil
}
