package recipe

// What is refused, and where it stands.

import (
	"fmt"
	"math"

	"hopperful/process"
)

const judged = "judgement"

func (p Problem) check() error {
	if err := process.Within("mass of the blend", p.Mass, 1e-6, 1e6, "kg", judged); err != nil {
		return err
	}
	if err := process.Within("slack of the mass", p.Slack, 0, p.Mass/2, "kg", judged); err != nil {
		return err
	}
	switch {
	case len(p.Lots) < 1 || len(p.Lots) > MaxLots:
		return fmt.Errorf("blend: %d lots; give 1 to %d", len(p.Lots), MaxLots)
	case len(p.Limits) > MaxLimits:
		return fmt.Errorf("blend: %d limits, at most %d are possible", len(p.Limits), MaxLimits)
	case len(p.Curves) > MaxCurves:
		return fmt.Errorf("blend: %d curved limits, at most %d are possible", len(p.Curves), MaxCurves)
	case p.Most < 0:
		return fmt.Errorf("blend: at most %d lots; give 0 for any number", p.Most)
	}
	musts := 0
	for i, l := range p.Lots {
		if err := l.check(p.Mass); err != nil {
			return fmt.Errorf("lot %d: %w", i, err)
		}
		if l.Must > 0 {
			musts++
		}
	}
	if p.Most > 0 && musts > p.Most {
		return fmt.Errorf("blend: %d lots must be used, but at most %d may be; allow more lots", musts, p.Most)
	}
	return p.checkConditions()
}

func (p Problem) checkConditions() error {
	for i, l := range p.Limits {
		if err := l.check(len(p.Lots)); err != nil {
			return fmt.Errorf("limit %d: %w", i, err)
		}
	}
	for i, c := range p.Curves {
		if err := c.check(); err != nil {
			return fmt.Errorf("curved limit %d: %w", i, err)
		}
	}
	return p.checkSteps()
}

func (l Lot) check(mass float64) error {
	for _, f := range [...]struct {
		name          string
		value, lo, hi float64
		unit          string
	}{
		{"cost", l.Cost, -1e9, 1e9, "1/kg"},
		{"stock", l.Stock, 0, 1e6, "kg"},
		{"amount that must be used", l.Must, 0, l.Stock, "kg"},
		{"least amount", l.Least, 0, 1e6, "kg"},
		{"step", l.Step, 0, 1e6, "kg"},
	} {
		if !(f.value >= f.lo && f.value <= f.hi) {
			return process.Within(f.name, f.value, f.lo, f.hi, f.unit, judged)
		}
	}
	if l.Step > 0 {
		if err := process.Within("step", l.Step, 1e-7*mass, math.Inf(1), "kg", judged); err != nil {
			return err
		}
	}
	if lo, hi := l.from(), l.upTo(math.Inf(1)); lo > hi {
		return fmt.Errorf("%g kg must be used, but least amount and whole steps leave only 0 to %g kg of its stock; lower one of them", l.Must, hi)
	}
	return nil
}

func (l Limit) check(lots int) error {
	if len(l.Of) != lots {
		return fmt.Errorf("%d values for %d lots; give one a lot", len(l.Of), lots)
	}
	for i, a := range l.Of {
		if !(math.Abs(a) <= 1e12) {
			return fmt.Errorf("lot %d: %w", i, process.Within("property", a, -1e12, 1e12, "", judged))
		}
	}
	return interval(l.Lo, l.Hi)
}

func interval(lo, hi float64) error {
	if math.IsNaN(lo) || math.IsNaN(hi) || math.IsInf(lo, 1) || math.IsInf(hi, -1) {
		return fmt.Errorf("%g to %g is no range; leave a side open with an infinite value", lo, hi)
	}
	if lo > hi {
		return fmt.Errorf("the least mean %g is above the greatest, %g; swap or widen them", lo, hi)
	}
	return nil
}

func (c Curve) check() error {
	if c.Value == nil {
		return fmt.Errorf("it has no function; give Value")
	}
	if err := process.Within("weight", c.Weight, 0, 1e9, "", judged); err != nil {
		return err
	}
	if err := process.Within("floor", c.Floor, -1e9, 1e9, "", judged); err != nil {
		return err
	}
	if c.Parts < 0 || c.Parts > 100 || c.Parts > 0 && c.Differences == nil {
		return fmt.Errorf("%d differences and no function for them, or more than 100; give Differences, or Parts 0", c.Parts)
	}
	if math.IsNaN(c.Limit) || c.Limit < c.Floor {
		return fmt.Errorf("the limit %g is below the floor %g; raise it", c.Limit, c.Floor)
	}
	return nil
}

// usualNodes is how far a search goes when the caller does not say: about a
// second of work, less where curves leave nothing to prove.
func (p Problem) usualNodes() int {
	if p.anchored() {
		return min(3000, max(500, 2_000_000/len(p.Lots)))
	}
	return min(20000, max(1000, 20_000_000/len(p.Lots)))
}

func (o *Options) fill(p Problem) error {
	if o.Recipes == 0 {
		o.Recipes = 3
	}
	if o.Nodes == 0 {
		o.Nodes = p.usualNodes()
	}
	if o.Gap == 0 {
		o.Gap = 1e-6
	}
	if o.Recipes < 1 || o.Recipes > 10 {
		return fmt.Errorf("blend: %d recipes wanted; 1 to 10 are possible", o.Recipes)
	}
	if o.Nodes < 1 {
		return fmt.Errorf("blend: %d search nodes; give 1 or more, or 0 for the usual number", o.Nodes)
	}
	if err := process.Within("cost that makes no difference", o.Near, 0, math.Inf(1), "", judged); err != nil {
		return err
	}
	return process.Within("gap", o.Gap, 0, 0.5, "", judged)
}

// slip is by how much a recipe of a cost may miss the best one [cost].
func (o Options) slip(cost float64) float64 { return max(o.Gap*math.Abs(cost), o.Near) }
