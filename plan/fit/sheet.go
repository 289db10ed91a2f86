package fit

import (
	"errors"
	"fmt"
	"math"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/plan/lineage"
	"hopperful/process"
	"hopperful/process/melt"
	"hopperful/process/screw"
	"hopperful/quantity"
)

// sheet are the settings to start with, for the printer.
func (j *job) sheet() (Sheet, error) {
	s := Sheet{}
	for _, one := range []func() (figure.Figure, error){
		j.setTemperature, j.setSpeed, j.setFactor, j.setPerTurn, j.setDuty, j.setPurge, j.setHold,
	} {
		f, err := one()
		if err != nil {
			return s, err
		}
		s.Settings = append(s.Settings, f)
	}
	s.Advice = j.advice()
	return s, nil
}

func (j *job) setTemperature() (figure.Figure, error) {
	f := figure.Exact("temperature", "nozzle temperature", quantity.Temperature, j.temperature, figure.Books)
	if j.req.Temperature != nil {
		f.Basis = figure.Entered
	}
	ceiling := j.beliefs[fCeiling]
	holds := share(j.runs, func(r run) bool { return r.over <= ceiling.Median })
	f = f.From("usual for the polymer, or as asked", j.in(fFloor, fCeiling)...).
		Held(figure.Limit{Name: "temperature not to exceed", Value: ceiling.Median, Side: figure.Below, Holds: holds})
	return f, nil
}

func (j *job) setSpeed() (figure.Figure, error) {
	f, err := j.over("screw_speed", "screw speed while printing", quantity.Rotation, func(r run) float64 { return r.speed })
	if err != nil {
		return f, err
	}
	if j.measuredTurn() {
		return f.From("flow ÷ melt a turn", j.in(fFlow, fPerTurn)...), nil
	}
	return f.From("flow ÷ what a turn takes in or pumps, the smaller", j.in(fFlow, fBulk, fScrew, fFeedDepth, fFilling)...).
		Warn("Nobody has weighed what a turn gives: start at the low end."), nil
}

// setFactor is what to enter so that the printer gives what it should: what it
// reckons a turn with over what a turn gave.
func (j *job) setFactor() (figure.Figure, error) {
	f := figure.Exact("flow_factor", "flow factor to enter", quantity.Number, 1, figure.Assumed)
	if j.printer.PerTurn == nil || len(j.beliefs[fPerTurn].Records) == 0 {
		return f.From("1 until a flow test has been weighed against what the printer reckons with").
			Warn("Weigh before trusting it."), nil
	}
	turn := j.beliefs[fPerTurn]
	measured := melt.Mean{Value: turn.Median, Range: melt.Span{Low: turn.Low, High: turn.High}, Count: len(turn.Records)}
	value, span, err := screw.FlowFactor(1, *j.printer.PerTurn, measured)
	if err != nil {
		return f, err
	}
	f = figure.Figure{Key: f.Key, Name: f.Name, Kind: f.Kind, Value: value, Low: span.Low, High: span.High, Basis: figure.Reckoned, Records: turn.Records}
	entered := figure.Exact("per_turn_entered", "melt a turn the printer reckons with", quantity.Volume, *j.printer.PerTurn, figure.Entered)
	return f.From("reckoned with ÷ weighed", entered, beliefFigure(turn)), nil
}

func (j *job) setPerTurn() (figure.Figure, error) {
	f, err := j.over("mass_per_turn", "what a turn should give", quantity.Mass, func(r run) float64 { return r.perTurn })
	return f.From("melt a turn × density of the melt", j.in(fSolid, fMelt)...), err
}

func (j *job) setDuty() (figure.Figure, error) {
	f, err := j.over("heater_duty", "share of the time the heaters are on", quantity.Share, func(r run) float64 { return r.duty })
	return f.From("heat the flow takes ÷ (heaters × efficiency); above 100 % they cannot keep up", j.in(fHeaters, fEfficiency, fHeat, fFlow)...), err
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
	f, err := figure.FromDraws("purge", "run out at a change of material or colour", quantity.Mass, all)
	return f.From("room the melt fills × its density × volumes until 1 % of the old is left, and up to three times that for dead corners",
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
		hold, err := screw.HoldTime(screw.Hot{Degrade: life, Volume: r.volume, Flow: r.mean / r.melted, Oldest: lineage.OldestShare})
		var spoilt *process.RangeError
		switch {
		case errors.As(err, &spoilt):
			hold = 0 // so slow a print is spoilt while it runs
		case err != nil:
			return figure.Figure{}, err
		}
		all[i] = hold
	}
	f, err := figure.FromDraws("hold", "an interrupted print may sit hot for", quantity.Duration, all)
	f = f.From("life of the melt − age of its oldest twentieth", j.in(fLife, fWarmth, fHead, fFlow)...).
		Cite("judgement", "10 to 45 min of life; 150 kJ/mol")
	return f.Warn("Keep to the low end; after it, cool down or purge."), err
}

// advice is what no number says.
func (j *job) advice() []string {
	bore := j.beliefs[fNozzle].Median
	all := []string{
		fmt.Sprintf("First layer: half the speed, lines about %s wide and %s high, and 5 K warmer if the ceiling allows; look at the first metre before walking away.",
			quantity.Length.Rough(1.3*bore), quantity.Length.Rough(0.4*bore)),
		"Before the print, run the screw for a minute into a cup three times and weigh; enter the flow factor again when the mean is off by more than 2 %.",
		"Weigh again with every new lot: another bulk density feeds another mass a turn.",
	}
	if j.beliefs[fMostPressure].Assumed {
		all = append(all, "What the head bears is not known here; look it up, and stop at any sound of a slipping screw or labouring drive.")
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
	c := answer.Chart{Key: "pressure", Title: "Pressure before the nozzle", XName: "flow of melt", YName: "pressure",
		XKind: quantity.VolumeFlow, YKind: quantity.Pressure, XUnit: quantity.VolumeFlow.SI(), YUnit: quantity.Pressure.SI(),
		Curves: []answer.Curve{answer.Band("pressure", "pressure", x, all)}, Lines: []answer.Line{{Key: "bears", Name: "what a small head bears", Value: bears}}}
	c.Summary = fmt.Sprintf("At twice the peak flow the nozzle asks about %s; a small head bears about %s.",
		quantity.Pressure.Rough(c.Curves[0].Mid[len(x)-1]), quantity.Pressure.Rough(bears))
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
	c := answer.Chart{Key: "open", Title: "Does the nozzle stay open?", XName: "printed", YName: "chance of no blocking chip",
		XKind: quantity.Mass, YKind: quantity.Share, XUnit: quantity.Mass.SI(), YUnit: quantity.Share.SI(),
		Curves: []answer.Curve{answer.Band("open", "no blocking chip", x, all)}, Lines: []answer.Line{{Key: "promise", Name: "one print in twenty", Value: 0.95}}}
	c.Summary = fmt.Sprintf("After %s the nozzle has met no chip that can block in about %s of cases.", quantity.Mass.Rough(x[len(x)-1]), quantity.Share.Rough(c.Curves[0].Mid[len(x)-1]))
	return c
}
