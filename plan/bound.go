package plan

import (
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
				l.Binds = !l.Relax.Empty()
			}
		}
		g.Limits = append(g.Limits, l)
	}
	return nil
}

// asWarmAsBefore is said of a charge that what was done allows against the forecast.
const asWarmAsBefore = "plan.as_warm_as_before"

// drawNoise is a share of the draws that says nothing. Judgement.
const drawNoise = 0.02

// bound is a limit on a quantity that may not be exceeded.
func bound(key, name string, f figure.Figure, value, holds float64) answer.Limit {
	return answer.Limit{Key: key, Bound: answer.Bound{Figure: f.Held(figure.Limit{Name: name, Value: value, Side: figure.Below, Holds: holds})}}
}

func (j *job) chargeLimit(g *Grinding, t campaign) (answer.Limit, bool, error) {
	b := j.bench
	f, err := b.over("charge_temperature", "plan.hottest_charge", quantity.Temperature, func(i int, _ []float64) float64 {
		return b.room + b.hottest(t, i).charge
	})
	f = f.From("plan.hottest_charge_how",
		g.Setting.Power, belief(&b.beliefs, estimate.IdleShare), belief(&b.beliefs, estimate.HeatShare),
		belief(&b.beliefs, estimate.Film), belief(&b.beliefs, estimate.SpecificHeat), j.roomFigure())
	f.About = quantity.TemperatureDifference.Plain(b.bounds.margin)
	soft := b.beliefs[estimate.Softening].Median
	if t.shares.cool < answer.SureShare-drawNoise {
		f = f.Warn(asWarmAsBefore)
	}
	l := bound("charge_temperature", "plan.limit_charge", f, soft-b.bounds.margin, t.shares.cool)
	limit := belief(&b.beliefs, estimate.Softening)
	*l.Figure.Limit = l.Figure.Limit.On(limit)
	l.Figure.Inputs = append(l.Figure.Inputs, limit)
	return l, true, err
}

func (j *job) wallLimit(g *Grinding, t campaign) (answer.Limit, bool, error) {
	b := j.bench
	f, err := b.over("wall_temperature", "plan.hottest_wall", quantity.Temperature, func(i int, _ []float64) float64 {
		return b.room + b.hottest(t, i).wall
	})
	f = f.From("plan.hottest_wall_how",
		g.Setting.Power, belief(&b.beliefs, estimate.WallCapacity), belief(&b.beliefs, estimate.WallLoss), j.roomFigure())
	return bound("wall_temperature", "plan.limit_wall", f, b.bounds.touch, t.shares.wall), true, err
}

func (j *job) roomFigure() figure.Figure {
	f := figure.Exact("room", "plan.room", quantity.Temperature, j.bench.room, figure.Entered)
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
	f, err := b.over("fill", "plan.fill_share", quantity.Share, func(i int, row []float64) float64 {
		return b.fillOf(row, t.mass, b.lies(t, i))
	})
	f = f.From("plan.fill_share_how", g.Setting.Charge, belief(&b.beliefs, estimate.SolidDensity), belief(&b.beliefs, estimate.ScrapPacking)).
		Cite("common practice, no source", "a quarter to a third, loose")
	return bound("fill", "plan.limit_fill", f, b.fillFor(t.mass), t.shares.fill), true, err
}

func (j *job) controllerLimit(g *Grinding, t campaign) (answer.Limit, bool, error) {
	b := j.bench
	if math.IsInf(b.bounds.controller, 1) {
		return answer.Limit{}, false, nil
	}
	return bound("controller", "plan.limit_controller", g.Setting.Power, b.bounds.load*b.bounds.controller, t.limits.controller), true, nil
}

func (j *job) motorLimit(g *Grinding, t campaign) (answer.Limit, bool, error) {
	b := j.bench
	if math.IsInf(b.bounds.motor, 1) {
		return answer.Limit{}, false, nil
	}
	f, err := b.over("motor_load", "plan.motor_load", quantity.Power, func(i int, row []float64) float64 { return b.motorLoad(row, t, i) })
	f = f.From("plan.motor_load_how", g.Setting.Power, g.Setting.Run, g.Setting.Rest)
	return bound("motor", "plan.limit_motor", f, b.bounds.load*b.bounds.motor, t.shares.motor), true, err
}

func (j *job) jarLimit(g *Grinding, t campaign) (answer.Limit, bool, error) {
	b := j.bench
	if math.IsInf(b.bounds.jar, 1) {
		return answer.Limit{}, false, nil
	}
	f, err := b.over("jar", "plan.jar_fill", quantity.Share, func(_ int, row []float64) float64 {
		return t.mass / row[estimate.GrainBulk] / b.bounds.jar
	})
	f = f.From("plan.jar_fill_how", g.Setting.Charge, belief(&b.beliefs, estimate.GrainBulk))
	return bound("jar", "plan.limit_jar", f, b.bounds.jarShare, t.shares.jar), true, err
}

func (j *job) stallLimit(g *Grinding, t campaign) (answer.Limit, bool, error) {
	b := j.bench
	f, err := b.over("stall", "plan.stall_chance", quantity.Share, func(_ int, row []float64) float64 {
		return b.stallChance(row, t.d, b.fillOf(row, t.mass, 0))
	})
	mean := t.limits.stall
	f.Value = math.Min(math.Max(mean, f.Low), math.Max(f.High, mean))
	f.High = math.Max(f.High, f.Value)
	f = f.From("plan.stall_chance_how",
		g.Setting.Charge, belief(&b.beliefs, estimate.StallShift)).Cite("judgement", "until this mill's own stalls are recorded")
	l := bound("stall", "plan.limit_stall", f, t.limits.borne, 1-mean)
	return l, true, err
}

func (j *job) noiseLimit(_ *Grinding, t campaign) (answer.Limit, bool, error) {
	b := j.bench
	f, err := b.over("noise", "plan.noise_protected", quantity.SoundLevel, func(_ int, row []float64) float64 {
		return b.exposure(row, t) - protection
	})
	f = f.From("plan.noise_protected_how", belief(&b.beliefs, estimate.Noise)).
		Cite("EU2003", "article 3, upper action value").Cite("judgement", "half of what labels of protectors promise")
	return bound("noise", "plan.limit_noise", f, b.bounds.noise, t.shares.noise), true, err
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
	return bound("time", "plan.limit_time", g.Setting.Total, b.within, holds), true, nil
}
