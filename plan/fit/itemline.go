package fit

import (
	"math"
	"time"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/polymer"
	"hopperful/process/screw"
	"hopperful/quantity"
	"hopperful/shop"
)

// measure and treat make the remedy of an item.
func measure(seconds float64, do fact.Saying) *Remedy {
	return &Remedy{Do: do, Kind: Measure, Time: seconds}
}

func treat(seconds float64, chance *float64, do fact.Saying) *Remedy {
	return &Remedy{Do: do, Kind: Treat, Time: seconds, Chance: chance}
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
	f, err := j.over("water_now", "fit.water_now", quantity.Share, func(r run) float64 { return r.water })
	if err != nil {
		return Item{}, err
	}
	f = f.From("how.water_since", append(j.in(fWater, fDiffusivity), j.humidityFigure())...)
	limit := j.beliefs[fDryLimit]
	last, dried := j.state.DriedLast(j.lot.ID)
	fresh := dried && j.req.Now.Sub(last.At) < freshFor
	ok := func(r run) bool { return r.water <= r.dryLimit }
	says := fact.Say("fit.says_never_dried", fact.Figure("water", f), fact.About("limit", quantity.Share, limit.Median))
	if dried {
		says = fact.Say("fit.says_dried", fact.Figure("water", f), fact.About("limit", quantity.Share, limit.Median))
	}
	x := j.item(question{"dry", fact.Say("fit.dry"), ok, fresh, f, figure.Limit{Name: "belief.moisture_limit", Value: limit.Median, Side: figure.Below}.On(beliefFigure(limit)), says})
	if x.Verdict == answer.Yes {
		return x, nil
	}
	if x.Verdict == answer.Unknown || x.Verdict == answer.Likely {
		x.Change = measure(300, fact.Say("fit.short_strand"))
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
		return treat(0, nil, d.Instruction())
	}
	sure := answer.SureShare
	return treat(d.Time.High, &sure, d.Instruction())
}

func (j *job) humidityFigure() figure.Figure {
	_, humidity := j.room()
	f := figure.Exact("room_humidity", "fit.room_humidity", quantity.Humidity, humidity, figure.Entered)
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

func slowWords(share float64) fact.Saying {
	if share < 0.02 {
		return fact.Say("fit.never_so_slow")
	}
	return fact.Say("fit.print_slower", fact.About("share", quantity.Share, math.Min(share, 0.99)))
}

func (j *job) takesItIn() (Item, error) {
	f, err := j.over("takes_in", "fit.intake", quantity.MassFlow, func(r run) float64 { return r.takesIn })
	if err != nil {
		return Item{}, err
	}
	if j.measuredTurn() {
		f = f.From("how.intake_measured", j.in(fPerTurn, fMostSpeed)...)
	} else {
		f = f.From("how.intake", j.in(fBulk, fScrew, fFeedDepth, fFilling, fMostSpeed)...).
			Cite("ScrewOutput2025", "filling of a 20 mm screw")
	}
	wanted := answer.Quantile(j.collect(func(r run) float64 { return r.peak }), 0.5)
	x := j.item(question{"takes_in", fact.Say("fit.takes_in"), func(r run) bool { return r.takesIn >= r.peak }, j.measuredTurn(), f,
		figure.Limit{Name: "limit.at_peak", Value: wanted, Side: figure.Over},
		fact.Say("fit.says_takes_in", fact.Figure("most", f), fact.About("wanted", quantity.MassFlow, wanted), j.prints())})
	switch {
	case x.Verdict == answer.Yes:
	case !x.Known:
		x.Change = measure(300, fact.Say("do.flow_test", answer.Lot("lot", j.lot)))
	default:
		x.Change = treat(0, nil, slowWords(j.slower(func(r run) float64 { return r.takesIn }, func(r run) float64 { return r.peak })))
	}
	return x, nil
}

func (j *job) melts() (Item, error) {
	f, err := j.over("melts", "fit.most_melted", quantity.MassFlow, func(r run) float64 { return r.melts })
	if err != nil {
		return Item{}, err
	}
	f = f.From("how.most_melted", j.in(fHeaters, fEfficiency, fBarrel, fHeat)...)
	wanted := answer.Quantile(j.collect(func(r run) float64 { return r.mean }), 0.5)
	known := j.beliefs[fHeaters].FromUser && j.beliefs[fFlow].FromUser
	warm := share(j.runs, func(r run) bool { return r.warm })
	says := fact.Say("fit.says_melts", fact.Figure("most", f), fact.About("wanted", quantity.MassFlow, wanted), fact.Set("at", quantity.Temperature, j.temperature), j.prints())
	x := j.item(question{"melts", fact.Say("fit.melts"), func(r run) bool { return r.melts >= r.mean && r.warm }, known, f,
		figure.Limit{Name: "limit.on_average", Value: wanted, Side: figure.Over}, says})
	switch {
	case x.Verdict == answer.Yes:
	case warm < answer.LikelyShare:
		x.Says = fact.Say("fit.says_end_of_range", fact.Set("at", quantity.Temperature, j.temperature), fact.Name("polymer", j.polymer.Name),
			fact.About("low", quantity.Temperature, j.beliefs[fFloor].Median), fact.About("high", quantity.Temperature, j.beliefs[fCeiling].Median))
		x.Change = treat(300, nil, fact.Say("fit.set_instead", fact.Set("at", quantity.Temperature, j.usualTemperature())))
	case !known:
		x.Change = measure(300, fact.Say("fit.five_minutes"))
	default:
		x.Change = treat(0, nil, slowWords(j.slower(func(r run) float64 { return r.melts }, func(r run) float64 { return r.mean })))
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
	f, err := j.over("pressure", "fit.pressure_at_peak", quantity.Pressure, func(r run) float64 { return r.pressure })
	if err != nil {
		return Item{}, err
	}
	f = f.From(pressureBy[j.law.How], j.in(fRunny, fNozzle, fLand, fLoss, fFlow, fPeak, fWarmth)...)
	if j.law.ref.Key != "" {
		f = f.Cite(j.law.ref.Key, j.law.ref.Place)
	}
	ok := func(r run) bool { return r.pressure <= r.bears && r.pumps >= r.mean }
	known := j.beliefs[fRunny].Runs > 0 && j.beliefs[fNozzle].FromUser
	bears := j.beliefs[fMostPressure].Median
	x := j.item(question{"pressure", fact.Say("fit.pressure"), ok, known, f, figure.Limit{Name: j.called(shop.MostPressure), Value: bears, Side: figure.Below},
		fact.Say("fit.says_pressure", fact.Figure("asks", f), fact.About("bears", quantity.Pressure, bears), j.prints())})
	switch wide := j.chanceWith(widened, ok, (*job).line); {
	case x.Verdict == answer.Yes:
	case !known:
		x.Change = measure(300, fact.Say("fit.even_strand"))
	case wide != nil && *wide > x.Chance:
		x.Change = treat(900, wide, fact.Say("fit.wider_nozzle"))
	default:
		x.Change = treat(0, nil, slowWords(j.slower(func(r run) float64 { return r.bears }, func(r run) float64 { return r.pressure })))
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
	f, err := j.over("chips", "fit.chips", quantity.Number, func(r run) float64 { return r.rate })
	if err != nil {
		return Item{}, err
	}
	f = f.From("how.chips", j.in(fWear, fChip, fNozzle)...).
		Cite("judgement", "from which share of the nozzle on a chip counts")
	f.Records = append(f.Records, j.facts.blocked...)
	chance := 1 - mean(j.collect(func(r run) float64 { return r.chanceHit }))
	mass := answer.Quantile(j.collect(func(r run) float64 { return r.mass }), 0.5)
	blocked := fact.Parts("blocked")
	if j.facts.printed > 0 || len(j.facts.blocked) > 0 {
		blocked = fact.Parts("blocked", fact.Say("fit.blocked", fact.Count("n", len(j.facts.blocked)), fact.About("printed", quantity.Mass, j.facts.printed)))
	}
	says := fact.Say("fit.says_open", fact.About("mass", quantity.Mass, mass), fact.About("share", quantity.Share, 1-chance), blocked.As("blocked"), j.misfit("misfit"), j.prints())
	fine := j.facts.hole != nil && j.beliefs[fNozzle].FromUser && 1.5**j.facts.hole <= j.beliefs[fNozzle].Median*j.limit(shop.ChipShare)
	known := j.facts.printed > 0 || len(j.facts.blocked) > 0 || j.beliefs[fWear].Runs > 0 || fine || j.facts.metal != ""
	x := j.answered(question{key: "open", ask: fact.Say("fit.open"), known: known, f: f, says: says,
		limit: figure.Limit{Name: j.called(shop.MostBlocked), Value: noMore(mass, j.limit(shop.MostBlocked)), Side: figure.Below}}, chance)
	if x.Verdict == answer.Yes {
		return x, nil
	}
	finer := j.beliefs[fNozzle].Median * j.limit(shop.ChipShare) / 1.5
	if !known {
		x.Change = measure(300, fact.Say("fit.white_paper"))
		return x, nil
	}
	switch top := j.beliefs[fTop].Median; {
	case j.lot.Class != shop.Virgin && finer >= top: // the grains go through, a chip that blocks does not
		x.Change = treat(1200, nil, fact.Say("do.sift", answer.Lot("lot", j.lot), fact.About("hole", quantity.Length, finer)))
	case j.lot.Class != shop.Virgin && j.facts.magnets == 0:
		x.Change = treat(300, nil, j.overMagnet())
	default:
		x.Change = treat(900, nil, fact.Say("fit.only_wider_nozzle"))
	}
	return x, nil
}

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

// misfit says where nozzle and screen do not go together, the first there is.
func (j *job) misfit(name string) fact.Fact {
	if j.facts.hole == nil || !j.beliefs[fNozzle].FromUser {
		return fact.Parts(name)
	}
	found, err := screw.Fits(screw.Passage{Grain: j.beliefs[fTop].Median, Hole: *j.facts.hole, Bore: j.beliefs[fNozzle].Median,
		FeedDepth: screwOf(j.medians()).FeedDepth})
	if err != nil {
		return fact.Parts(name)
	}
	for _, x := range found {
		nozzle, hole := x.Narrow, x.Wide
		switch x.Fault {
		case screw.NozzleBelowScreen:
			return fact.Parts(name, fact.Say("fit.nozzle_below_screen", fact.Set("nozzle", quantity.Length, nozzle), fact.Set("hole", quantity.Length, hole)))
		case screw.NozzleNearScreen:
			return fact.Parts(name, fact.Say("fit.nozzle_near_screen", fact.Set("nozzle", quantity.Length, nozzle), fact.Set("hole", quantity.Length, hole)))
		}
	}
	return fact.Parts(name)
}

// pressureBy is how the pressure is reckoned, by the law of the melt.
var pressureBy = map[string]string{"law.cross": "how.pressure_cross", "law.power": "how.pressure_power", "law.usual": "how.pressure_usual"}
