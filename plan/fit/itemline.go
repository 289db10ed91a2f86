package fit

import (
	"fmt"
	"math"
	"time"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/polymer"
	"hopperful/process/metal"
	"hopperful/process/screw"
	"hopperful/quantity"
	"hopperful/shop"
)

// measure and treat make the remedy of an item.
func measure(seconds float64, format string, args ...any) *Remedy {
	return remedy(Measure, seconds, nil, format, args...)
}

func treat(seconds float64, chance *float64, format string, args ...any) *Remedy {
	return remedy(Treat, seconds, chance, format, args...)
}

func remedy(kind string, seconds float64, chance *float64, format string, args ...any) *Remedy {
	r := &Remedy{Do: fmt.Sprintf(format, args...), Kind: kind, Time: seconds, Chance: chance}
	if seconds > 0 {
		r.Shown = quantity.Duration.Rough(seconds)
	}
	return r
}

// chanceWith is the chance of something after a change, by the steps of the
// chain it hangs on, or nil where the change cannot be reckoned.
func (j *job) chanceWith(change func(*job), ok func(run) bool, steps ...step) *float64 {
	k := *j
	k.rows = make([][]float64, len(j.rows))
	for i, row := range j.rows {
		k.rows[i] = append([]float64(nil), row...)
	}
	change(&k)
	runs := make([]run, len(k.rows))
	for i, row := range k.rows {
		for _, step := range steps {
			if step(&k, row, &runs[i]) != nil {
				return nil
			}
		}
	}
	if k.learnChips(runs) != nil {
		return nil
	}
	chance := share(runs, ok)
	return &chance
}

func (j *job) isDry() (Item, error) {
	f, err := j.over("water_now", "water in it now", quantity.Share, func(r run) float64 { return r.water })
	if err != nil {
		return Item{}, err
	}
	f = f.From("at rest with the room's air, less what drying took, plus what it took up since", append(j.in(fWater, fDiffusivity), j.humidityFigure())...)
	limit := j.beliefs[fDryLimit]
	last, dried := j.state.DriedLast(j.lot.ID)
	fresh := dried && j.req.Now.Sub(last.At) < freshFor
	ok := func(r run) bool { return r.water <= r.dryLimit }
	says := fmt.Sprintf("It holds about %s of water by the room's air; the melt bears %s. Nobody has dried it.", f.Shown(), quantity.Share.Rough(limit.Median))
	if dried {
		says = fmt.Sprintf("After drying and standing it holds about %s of water; the melt bears %s.", f.Shown(), quantity.Share.Rough(limit.Median))
	}
	x := j.item(question{"dry", "Is it dry?", ok, fresh, f, figure.Limit{Name: "highest moisture for the melt", Value: limit.Median, Side: figure.Below}, says})
	if x.Verdict == answer.Yes {
		return x, nil
	}
	if x.Verdict == answer.Unknown || x.Verdict == answer.Likely {
		x.Change = measure(300, "Extrude a short strand into the air: it should come clear and quiet. Bubbles, froth or crackling are water.")
		return x, nil
	}
	x.Change = j.dryingRemedy()
	return x, nil
}

// freshFor is how long after a drying its record still decides; later it depends
// on how the lot was kept. Judgement.
const freshFor = 24 * time.Hour

// dryingRemedy is how the lot is dried, as it is answered everywhere.
func (j *job) dryingRemedy() *Remedy {
	d, err := Dry(j.state, DryRequest{Lot: j.lot.ID, Now: j.req.Now})
	if err != nil {
		return nil
	}
	if !d.Possible {
		return treat(0, nil, "%s", d.Instruction())
	}
	sure := answer.SureShare
	return treat(d.Time.High, &sure, "%s", d.Instruction())
}

func (j *job) humidityFigure() figure.Figure {
	_, humidity := j.room()
	f := figure.Exact("room_humidity", "humidity of the room", quantity.Humidity, humidity, figure.Entered)
	if j.state.Shop.RoomHumidity == nil {
		f.Basis = figure.Assumed
	}
	return f
}

// slower is the share of the wanted flow that a limit allows in nine of ten
// draws.
func (j *job) slower(most, wanted func(run) float64) float64 {
	return answer.Quantile(j.collect(func(r run) float64 { return most(r) / math.Max(wanted(r), 1e-12) }), 0.1)
}

func slowWords(share float64) string {
	if share < 0.02 {
		return "Even a fiftieth of this speed would not be safe; measure before anything else."
	}
	return fmt.Sprintf("Print at %s of this speed.", quantity.Share.Rough(math.Min(share, 0.99)))
}

func (j *job) takesItIn() (Item, error) {
	f, err := j.over("takes_in", "most the screw takes in", quantity.MassFlow, func(r run) float64 { return r.takesIn })
	if err != nil {
		return Item{}, err
	}
	if j.measuredTurn() {
		f = f.From("melt a turn × fastest speed", j.in(fPerTurn, fMostSpeed)...)
	} else {
		f = f.From("bulk density × room of a turn × filling × fastest speed", j.in(fBulk, fScrew, fFeedDepth, fFilling, fMostSpeed)...).
			Cite("ScrewOutput2025", "filling of a 20 mm screw")
	}
	wanted := answer.Quantile(j.collect(func(r run) float64 { return r.peak }), 0.5)
	x := j.item(question{"takes_in", "Will the screw take it in?", func(r run) bool { return r.takesIn >= r.peak }, j.measuredTurn(), f,
		figure.Limit{Name: "wanted at the peak", Value: wanted, Side: figure.Over},
		fmt.Sprintf("The screw takes in up to about %s, the print wants %s at its peak.", f.Shown(), quantity.MassFlow.Rough(wanted))})
	switch {
	case x.Verdict == answer.Yes:
	case !x.Known:
		x.Change = measure(300, "Run the screw for a minute at a speed you can read, weigh what comes out, three times; record it as a flow test.")
	default:
		x.Change = treat(0, nil, "%s", slowWords(j.slower(func(r run) float64 { return r.takesIn }, func(r run) float64 { return r.peak })))
	}
	return x, nil
}

func (j *job) melts() (Item, error) {
	f, err := j.over("melts", "most the heat melts", quantity.MassFlow, func(r run) float64 { return r.melts })
	if err != nil {
		return Item{}, err
	}
	f = f.From("(heaters × efficiency + work of the screw) ÷ heat to melt", j.in(fHeaters, fEfficiency, fHeat)...)
	wanted := answer.Quantile(j.collect(func(r run) float64 { return r.mean }), 0.5)
	known := j.beliefs[fHeaters].FromUser && j.beliefs[fFlow].FromUser
	warm := share(j.runs, func(r run) bool { return r.warm })
	says := fmt.Sprintf("The heaters melt up to about %s, the print wants %s; %s is a melt of %s.", f.Shown(), quantity.MassFlow.Rough(wanted),
		quantity.Temperature.Plain(j.temperature), j.polymer.Name)
	x := j.item(question{"melts", "Can it be melted at this flow?", func(r run) bool { return r.melts >= r.mean && r.warm }, known, f,
		figure.Limit{Name: "wanted on average", Value: wanted, Side: figure.Over}, says})
	switch {
	case x.Verdict == answer.Yes:
	case warm < answer.LikelyShare:
		x.Says += fmt.Sprintf(" The temperature is near the end of what %s is melted at: from %s to %s.", j.polymer.Name,
			quantity.Temperature.Rough(j.beliefs[fFloor].Median), quantity.Temperature.Rough(j.beliefs[fCeiling].Median))
		x.Change = treat(300, nil, "Set %s instead.", quantity.Temperature.Plain(j.usualTemperature()))
	case !known:
		x.Change = measure(300, "Extrude into the air at the print's flow for five minutes and watch whether the temperature holds and the strand stays smooth.")
	default:
		x.Change = treat(0, nil, "%s", slowWords(j.slower(func(r run) float64 { return r.melts }, func(r run) float64 { return r.mean })))
	}
	return x, nil
}

func (j *job) usualTemperature() float64 {
	if v, err := j.polymer.Value(polymer.PrintTemperature); err == nil {
		return v.Value
	}
	return DefaultMelt
}

func (j *job) bearable() (Item, error) {
	f, err := j.over("pressure", "pressure before the nozzle at the peak", quantity.Pressure, func(r run) float64 { return r.pressure })
	if err != nil {
		return Item{}, err
	}
	f = f.From("cone + land + loss at the mouth, "+j.law.How, j.in(fRunny, fNozzle, fLand, fLoss, fFlow, fPeak, fWarmth)...)
	if j.law.ref.Key != "" {
		f = f.Cite(j.law.ref.Key, j.law.ref.Place)
	}
	ok := func(r run) bool { return r.pressure <= r.bears && r.pumps >= r.mean }
	known := j.beliefs[fRunny].Runs > 0 && j.beliefs[fNozzle].FromUser
	bears := j.beliefs[fMostPressure].Median
	x := j.item(question{"pressure", "Is the pressure bearable?", ok, known, f, figure.Limit{Name: "what a small head bears", Value: bears, Side: figure.Below},
		fmt.Sprintf("The nozzle asks about %s at the peak flow; a small head bears about %s.", f.Shown(), quantity.Pressure.Rough(bears))})
	switch wide := j.chanceWith(widened, ok, (*job).line); {
	case x.Verdict == answer.Yes:
	case !known:
		x.Change = measure(300, "Extrude into the air at the print's flow: a strand that flows evenly, without the screw slipping or the drive labouring, is bearable. A timed melt-flow test says it in numbers.")
	case wide != nil && *wide > x.Chance:
		x.Change = treat(900, wide, "Fit a nozzle half as wide again.")
	default:
		x.Change = treat(0, nil, "%s", slowWords(j.slower(func(r run) float64 { return r.bears }, func(r run) float64 { return r.pressure })))
	}
	return x, nil
}

// widened fits a nozzle half as wide again.
func widened(k *job) {
	for _, row := range k.rows {
		row[fNozzle] *= 1.5
	}
}

func (j *job) staysOpen() (Item, error) {
	f, err := j.over("chips", "chips that can block, a kilogram", quantity.Number, func(r run) float64 { return r.rate })
	if err != nil {
		return Item{}, err
	}
	f = f.From("metal left ÷ mass of a chip, between a third of the nozzle and the screen hole; 1/kg", j.in(fWear, fChip, fNozzle)...).
		Cite("judgement", "from a third of the nozzle on a chip counts")
	f.Records = append(f.Records, j.facts.blocked...)
	chance := 1 - mean(j.collect(func(r run) float64 { return r.chanceHit }))
	mass := answer.Quantile(j.collect(func(r run) float64 { return r.mass }), 0.5)
	says := fmt.Sprintf("A print of %s meets a chip that can block in about %s of cases.", quantity.Mass.Rough(mass), quantity.Share.Rough(1-chance))
	if j.facts.printed > 0 || len(j.facts.blocked) > 0 {
		says += fmt.Sprintf(" Nozzles blocked by it and its like on record: %d in %s.", len(j.facts.blocked), quantity.Mass.Rough(j.facts.printed))
	}
	fine := j.facts.hole != nil && j.beliefs[fNozzle].FromUser && 1.5**j.facts.hole <= j.beliefs[fNozzle].Median*metal.NozzleShare
	known := j.facts.printed > 0 || len(j.facts.blocked) > 0 || j.beliefs[fWear].Runs > 0 || fine || j.facts.metal != ""
	for _, s := range j.misfits() {
		says += " " + answer.Sentence(answer.Capital(s))
	}
	x := j.answered(question{key: "open", ask: "Will the nozzle stay open?", known: known, f: f, says: says,
		limit: figure.Limit{Name: "one print in twenty blocked", Value: noMore(mass), Side: figure.Below}}, chance)
	if x.Verdict == answer.Yes {
		return x, nil
	}
	finer := j.beliefs[fNozzle].Median * metal.NozzleShare / 1.5
	if !known {
		x.Change = measure(300, "Spread 200 g thinly on white paper, look it through and pass a magnet over it; write down what was found, also when it was nothing.")
		return x, nil
	}
	switch top := j.beliefs[fTop].Median; {
	case j.lot.Class != shop.Virgin && finer >= top: // the grains go through, a chip that blocks does not
		x.Change = treat(1200, nil, "Sift it through %s: what stays behind stays out.", quantity.Length.Rough(finer))
	case j.lot.Class != shop.Virgin && j.facts.magnets == 0:
		x.Change = treat(300, nil, "Let it run in a thin layer over a strong magnet, weigh what hangs there and write it down.")
	default:
		x.Change = treat(900, nil, "Fit a nozzle half as wide again: no sieve that lets these grains through holds such a chip back.")
	}
	return x, nil
}

// noMore is the rate of chips at which one print in twenty of that mass meets
// one.
func noMore(mass float64) float64 { return -math.Log(1-0.05) / math.Max(mass, 1e-6) }

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

// misfits says plainly what does not go together between grains, screen, nozzle
// and screw.
func (j *job) misfits() []string {
	if j.facts.hole == nil || !j.beliefs[fNozzle].FromUser {
		return nil
	}
	found, err := screw.Fits(screw.Passage{Grain: j.beliefs[fTop].Median, Hole: *j.facts.hole, Bore: j.beliefs[fNozzle].Median,
		FeedDepth: screwOf(j.medians()).FeedDepth})
	if err != nil {
		return nil
	}
	var all []string
	for _, x := range found {
		if x.Fault == screw.NozzleBelowScreen || x.Fault == screw.NozzleNearScreen {
			all = append(all, x.String())
		}
	}
	return all
}
