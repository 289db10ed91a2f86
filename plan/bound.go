package plan

import (
	"fmt"
	"math"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/figure"
	"hopperful/quantity"
)

// limits lists every bound the campaign was held against, how well it keeps it,
// and what easing it would save.
func (j *job) limits(g *Grinding, t campaign, prices []price) error {
	for _, make := range []func(*Grinding, campaign) (answer.Limit, bool, error){
		j.chargeLimit, j.wallLimit, j.fillLimit, j.controllerLimit, j.motorLimit, j.jarLimit, j.stallLimit, j.noiseLimit, j.timeLimit,
	} {
		l, there, err := make(g, t)
		if err != nil {
			return err
		}
		if !there {
			continue
		}
		for _, p := range prices {
			if p.limit == l.Key {
				l.Relax = p.saying()
				l.Binds = l.Relax != ""
			}
		}
		l.Figure.Limit.Holds = l.Holds
		g.Limits = append(g.Limits, l)
	}
	return nil
}

// drawNoise is a share of the draws that says nothing. Judgement.
const drawNoise = 0.02

// bound is a limit on a quantity that may not be exceeded.
func bound(key, name string, f figure.Figure, value, holds float64) answer.Limit {
	return answer.Limit{Key: key, Name: name, Holds: holds,
		Figure: f.Held(figure.Limit{Name: name, Value: value, Side: figure.Below, Holds: holds})}
}

func (j *job) chargeLimit(g *Grinding, t campaign) (answer.Limit, bool, error) {
	b := j.bench
	f, err := b.over("charge_temperature", "hottest charge", quantity.Temperature, func(i int, _ []float64) float64 {
		return b.room + b.hottest(t, i).charge
	})
	f = f.From("heat of grinding into the charge, less what it gives the wall and what leaves with the product",
		g.Setting.Power, belief(&b.beliefs, estimate.IdleShare), belief(&b.beliefs, estimate.HeatShare),
		belief(&b.beliefs, estimate.Film), belief(&b.beliefs, estimate.SpecificHeat), j.roomFigure())
	soft := b.beliefs[estimate.Softening].Median
	if t.shares.cool < answer.SureShare-drawNoise {
		f = f.Warn("By the forecast alone it would be too warm; it is allowed because it is about as warm as runs on record that came out as grains.")
	}
	l := bound("charge_temperature", fmt.Sprintf("charge stays %g K below softening", b.bounds.margin), f, soft-b.bounds.margin, t.shares.cool)
	l.Figure.Inputs = append(l.Figure.Inputs, belief(&b.beliefs, estimate.Softening))
	return l, true, err
}

func (j *job) wallLimit(g *Grinding, t campaign) (answer.Limit, bool, error) {
	b := j.bench
	f, err := b.over("wall_temperature", "hottest wall", quantity.Temperature, func(i int, _ []float64) float64 {
		return b.room + b.hottest(t, i).wall
	})
	f = f.From("heat from the charge and the rotor, less what the pot gives to the room",
		g.Setting.Power, belief(&b.beliefs, estimate.WallCapacity), belief(&b.beliefs, estimate.WallLoss), j.roomFigure())
	return bound("wall_temperature", "wall can be touched", f, b.bounds.touch, t.shares.wall), true, err
}

func (j *job) roomFigure() figure.Figure {
	f := figure.Exact("room", "room temperature", quantity.Temperature, j.bench.room, figure.Entered)
	switch _, from, ok := roomOf(j.state, j.mill.Name); {
	case !ok:
		f.Basis = figure.Assumed
	case from > 0:
		f.Basis, f.Records = figure.Measured, []int64{int64(from)}
	}
	return f
}

func (j *job) fillLimit(g *Grinding, t campaign) (answer.Limit, bool, error) {
	b := j.bench
	f, err := b.over("fill", "share of the chamber a loose charge fills", quantity.Share, func(i int, row []float64) float64 {
		return b.fillOf(row, t.mass, b.lies(t, i))
	})
	f = f.From("(charge ÷ (density × packing) + what stayed from earlier charges ÷ bulk density) ÷ chamber", g.Setting.Charge, belief(&b.beliefs, estimate.SolidDensity), belief(&b.beliefs, estimate.ScrapPacking)).
		Cite("common practice, no source", "a quarter to a third, loose")
	return bound("fill", "chamber is not overfilled", f, b.fillFor(t.mass), t.shares.fill), true, err
}

func (j *job) controllerLimit(g *Grinding, t campaign) (answer.Limit, bool, error) {
	b := j.bench
	if math.IsInf(b.bounds.controller, 1) {
		return answer.Limit{}, false, nil
	}
	return bound("controller", "controller carries it all day", g.Setting.Power, b.bounds.load*b.bounds.controller, t.limits.controller), true, nil
}

func (j *job) motorLimit(g *Grinding, t campaign) (answer.Limit, bool, error) {
	b := j.bench
	if math.IsInf(b.bounds.motor, 1) {
		return answer.Limit{}, false, nil
	}
	f, err := b.over("motor_load", "steady load that warms the motor as much", quantity.Power, func(i int, row []float64) float64 { return b.motorLoad(row, t, i) })
	f = f.From("draw × √(run ÷ (run + rest))", g.Setting.Power, g.Setting.Run, g.Setting.Rest)
	return bound("motor", "motor carries it all day", f, b.bounds.load*b.bounds.motor, t.shares.motor), true, err
}

func (j *job) jarLimit(g *Grinding, t campaign) (answer.Limit, bool, error) {
	b := j.bench
	if math.IsInf(b.bounds.jar, 1) {
		return answer.Limit{}, false, nil
	}
	f, err := b.over("jar", "jar fill after one charge at the most", quantity.Share, func(_ int, row []float64) float64 {
		return t.mass / row[estimate.GrainBulk] / b.bounds.jar
	})
	f = f.From("charge ÷ (bulk density × jar)", g.Setting.Charge, belief(&b.beliefs, estimate.GrainBulk))
	return bound("jar", "jar holds at least one charge", f, b.bounds.jarShare, t.shares.jar), true, err
}

func (j *job) stallLimit(g *Grinding, t campaign) (answer.Limit, bool, error) {
	b := j.bench
	f, err := b.over("stall", "chance of a stall in a run", quantity.Share, func(_ int, row []float64) float64 {
		return b.stallChance(row, t.d, b.fillOf(row, t.mass, 0))
	})
	mean := t.limits.stall
	f.Value = math.Min(math.Max(mean, f.Low), math.Max(f.High, mean))
	f.High = math.Max(f.High, f.Value)
	f = f.From("logistic in fill, energy to break the thickest section over rotor energy, and voltage; the mean over the draws counts",
		g.Setting.Charge, belief(&b.beliefs, estimate.StallShift)).Cite("judgement", "until this mill's own stalls are recorded")
	l := bound("stall", "rotor does not stall", f, b.bounds.stall, 1-mean)
	return l, true, err
}

func (j *job) noiseLimit(_ *Grinding, t campaign) (answer.Limit, bool, error) {
	b := j.bench
	f, err := b.over("noise", "the day's noise exposure behind hearing protection", quantity.SoundLevel, func(_ int, row []float64) float64 {
		return b.exposure(row, t) - protection
	})
	f = f.From("unprotected exposure less 15 dB assumed for worn protection", belief(&b.beliefs, estimate.Noise)).
		Cite("EU2003", "article 3, upper action value").Cite("judgement", "half of what labels of protectors promise")
	return bound("noise", "ears, protected, stay below the upper action value", f, b.bounds.noise, t.shares.noise), true, err
}

func (j *job) timeLimit(g *Grinding, t campaign) (answer.Limit, bool, error) {
	b := j.bench
	if math.IsInf(b.within, 1) {
		return answer.Limit{}, false, nil
	}
	holds := 0.0
	if t.total() <= b.within {
		holds = 1
	}
	return bound("time", "done in time", g.Setting.Total, b.within, holds), true, nil
}
