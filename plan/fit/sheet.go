package fit

import (
	"errors"
	"math"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/plan/traceability"
	"hopperful/polymer"
	"hopperful/process"
	"hopperful/process/melt"
	"hopperful/process/screw"
	"hopperful/quantity"
)

// settings are those to start the printer with.
func (j *job) settings() ([]figure.Figure, error) {
	var all []figure.Figure
	for _, one := range []func() (figure.Figure, error){
		j.setTemperature, j.setSpeed, j.setFactor, j.setPerTurn, j.setDuty, j.setPurge, j.setHold,
	} {
		f, err := one()
		if err != nil {
			return nil, err
		}
		all = append(all, f)
	}
	return all, nil
}

func (j *job) setTemperature() (figure.Figure, error) {
	f := figure.Exact("temperature", "fit.temperature", quantity.Temperature, j.temperature, figure.Books)
	if j.req.Temperature != nil {
		f.Basis = figure.Entered
	} else if v, err := j.polymer.Value(polymer.PrintTemperature); err == nil {
		f = v.Vouch(f)
	} else {
		f = f.Cite("judgement", "")
	}
	ceiling := j.beliefs[fCeiling]
	holds := share(j.runs, func(r run) bool { return r.over <= ceiling.Median })
	f = f.From("how.temperature", j.in(fFloor, fCeiling)...).
		Held(figure.Limit{Name: "belief.ceiling", Value: ceiling.Median, Side: figure.Below, Holds: holds}.On(beliefFigure(ceiling)))
	return f, nil
}

func (j *job) setSpeed() (figure.Figure, error) {
	f, err := j.over("screw_speed", "fit.screw_speed", quantity.Rotation, func(r run) float64 { return r.speed })
	if err != nil {
		return f, err
	}
	if j.measuredTurn() {
		return f.From("how.screw_speed_measured", j.in(fFlow, fPerTurn)...), nil
	}
	return f.From("how.screw_speed", j.in(fFlow, fBulk, fScrew, fFeedDepth, fFilling)...).
		Warn("mind.no_turn_weighed"), nil
}

// setFactor is what to enter so that the printer gives what it should: what it
// reckons a turn with over what a turn gave.
func (j *job) setFactor() (figure.Figure, error) {
	f := figure.Exact("flow_factor", "fit.flow_factor", quantity.Number, 1, figure.Assumed)
	if j.printer.PerTurn == nil || len(j.beliefs[fPerTurn].Records) == 0 {
		return f.From("how.flow_factor_untested").
			Warn("mind.weigh_first"), nil
	}
	turn := j.beliefs[fPerTurn]
	measured := melt.Mean{Value: turn.Median, Range: melt.Span{Low: turn.Low, High: turn.High}, Count: len(turn.Records)}
	value, span, err := screw.FlowFactor(1, *j.printer.PerTurn, measured)
	if err != nil {
		return f, err
	}
	f = figure.Figure{Key: f.Key, Name: f.Name, Kind: f.Kind, Value: value, Low: span.Low, High: span.High, Basis: figure.Reckoned, Records: turn.Records}
	entered := figure.Exact("per_turn_entered", "fit.per_turn_entered", quantity.Volume, *j.printer.PerTurn, figure.Entered)
	return f.From("how.flow_factor", entered, beliefFigure(turn)), nil
}

func (j *job) setPerTurn() (figure.Figure, error) {
	f, err := j.over("mass_per_turn", "fit.mass_per_turn", quantity.Mass, func(r run) float64 { return r.perTurn })
	return f.From("how.mass_per_turn", j.in(fSolid, fMelt)...), err
}

func (j *job) setDuty() (figure.Figure, error) {
	f, err := j.over("heater_duty", "fit.heater_duty", quantity.Share, func(r run) float64 { return r.duty })
	return f.From("how.heater_duty", j.in(fHeaters, fEfficiency, fBarrel, fHeat, fFlow)...), err
}

func (j *job) setPurge() (figure.Figure, error) {
	all := make([]float64, len(j.runs))
	for i, r := range j.runs {
		span, err := screw.PurgeMass(r.volume, r.melted, purgedTo)
		if err != nil {
			return figure.Figure{}, err
		}
		all[i] = math.Sqrt(span.Low * span.High)
	}
	f, err := figure.FromDraws("purge", "fit.purge", quantity.Mass, all)
	return f.From("how.purge",
		j.in(fScrew, fPumpTurns, fHead)...).Cite("PintoTadmor1970", "residence in a screw").Cite("common practice, no source", "five to ten volumes"), err
}

// setHold is how long an interrupted print may sit hot.
func (j *job) setHold() (figure.Figure, error) {
	all := make([]float64, len(j.runs))
	for i, r := range j.runs {
		life, err := screw.DegradeTime(screw.Ageing{Time: j.rows[i][fLife], At: j.usualTemperature(), Energy: 1.5e5}, r.over)
		if err != nil {
			return figure.Figure{}, err
		}
		hold, err := screw.HoldTime(screw.Hot{Degrade: life, Volume: r.volume, Flow: r.mean / r.melted, Oldest: traceability.OldestShare})
		var spoilt *process.RangeError
		switch {
		case errors.As(err, &spoilt):
			hold = 0 // so slow a print is spoilt while it runs
		case err != nil:
			return figure.Figure{}, err
		}
		all[i] = hold
	}
	f, err := figure.FromDraws("hold", "fit.hold", quantity.Duration, all)
	f = f.From("how.hold", j.in(fLife, fWarmth, fHead, fFlow)...).
		Cite("judgement", "10 to 45 min of life; 150 kJ/mol")
	return f.Warn("mind.low_end"), err
}

// advice is what no number says.
func (j *job) advice() []fact.Saying {
	bore := j.beliefs[fNozzle].Median
	all := []fact.Saying{
		fact.Say("fit.first_layer", fact.About("wide", quantity.Length, 1.3*bore), fact.About("high", quantity.Length, 0.4*bore)),
		fact.Say("fit.weigh_a_minute"), fact.Say("fit.weigh_each_lot"),
	}
	if j.beliefs[fMostPressure].Assumed {
		all = append(all, fact.Say("fit.look_up_head"))
	}
	return all
}

// charts are the pictures of the check.
func (j *job) charts() ([]answer.Chart, error) {
	c, err := j.pressureChart()
	if err != nil {
		return nil, err
	}
	return []answer.Chart{c, j.printChart()}, nil
}

// chartDraws bounds the draws behind a curve; more do not show.
const chartDraws = 60

// pressureChart shows the pressure over the flow.
func (j *job) pressureChart() (answer.Chart, error) {
	rows := j.rows[:min(len(j.rows), chartDraws)]
	most := 2 * j.beliefs[fFlow].Median * math.Max(j.beliefs[fPeak].Median, 1)
	x := make([]float64, 14)
	all := answer.Moments(len(x), len(rows))
	for m := range x {
		x[m] = most * float64(m+1) / float64(len(x))
	}
	for i, row := range rows {
		curve, err := j.law.Curve(j.temperature+row[fWarmth], math.Min(math.Max(row[fRunny], 1e-2), 1e2))
		if err != nil {
			return answer.Chart{}, err
		}
		z := nozzleOf(row)
		z.Losses = melt.Span{Low: math.Min(row[fLoss], 50), High: math.Min(row[fLoss], 50)}
		for m := range x {
			d, err := melt.NozzleDrop(curve, z, x[m])
			if err != nil {
				return answer.Chart{}, err
			}
			all[m][i] = d.Total.High
		}
	}
	bears := j.beliefs[fMostPressure].Median
	c := answer.Chart{Key: "pressure", Title: "fit.chart_pressure", XName: "fit.axis_flow", YName: "fit.axis_pressure",
		XKind: quantity.VolumeFlow, YKind: quantity.Pressure, XUnit: quantity.VolumeFlow.SI(), YUnit: quantity.Pressure.SI(),
		Curves: []answer.Curve{answer.Band("pressure", "fit.axis_pressure", x, all)}, Lines: []answer.Line{{Key: "bears", Name: "limit.head", Value: bears}}, Summary: "fit.chart_pressure_sum"}
	c.Facts = []fact.Fact{fact.About("asks", quantity.Pressure, c.Curves[0].Mid[len(x)-1]), fact.About("bears", quantity.Pressure, bears)}
	return c, nil
}

// printChart shows the chance that the nozzle stays open over the mass printed.
func (j *job) printChart() answer.Chart {
	mass := answer.Quantile(j.collect(func(r run) float64 { return r.mass }), 0.5)
	x := make([]float64, 21)
	all := answer.Moments(len(x), len(j.runs))
	for m := range x {
		x[m] = 4 * mass * float64(m) / float64(len(x)-1)
		for i, r := range j.runs {
			all[m][i] = math.Exp(-r.rate * x[m])
		}
	}
	c := answer.Chart{Key: "open", Title: "fit.open", Summary: "fit.chart_open_sum", XName: "fit.axis_printed", YName: "fit.axis_no_chip",
		XKind: quantity.Mass, YKind: quantity.Share, XUnit: quantity.Mass.SI(), YUnit: quantity.Share.SI(),
		Curves: []answer.Curve{answer.Band("open", "fit.axis_no_chip", x, all)}, Lines: []answer.Line{{Key: "promise", Name: "limit.blocked", Value: 0.95}}}
	c.Facts = []fact.Fact{fact.About("mass", quantity.Mass, x[len(x)-1]), fact.About("share", quantity.Share, c.Curves[0].Mid[len(x)-1])}
	return c
}
