package reckon

import (
	"math"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/fact"
	"hopperful/polymer"
	"hopperful/process/breakage"
	"hopperful/process/heat"
	"hopperful/quantity"
)

// chargeInputs are a charge in a mill.
var chargeInputs = []Input{
	number("charge", quantity.Mass, 0.15, 1e-3, 50),
	number("largest", quantity.Length, 0.03, 5e-4, 0.5),
	number("wall", quantity.Length, 0.002, 1e-4, 0.1),
	number("power", quantity.Power, 250, 1, 1e5),
	number("run", quantity.Duration, 180, 1, 36000),
	number("hole", quantity.Length, 0.003, 1e-4, 0.05),
	number("open", quantity.Share, 0.2, 0.01, 1),
	number("discharge", quantity.Rate, 1, 1e-3, 1000),
	number("rate", quantity.RatePerEnergy, 1e-4, 1e-8, 0.1).named("given.breakage_rate"),
	number("exponent", quantity.Number, 1.1, 0, 4),
	number("hold", quantity.Mass, 0.05, 1e-4, 10),
	property("toughness", polymer.BreakageResistance, 1),
}

var grindTopics = []Topic{
	{Key: "grinding", Model: "breakage",
		Inputs: join([]Input{anyMaterial()}, chargeInputs), reckon: reckonGrinding},
	{Key: "warming", Model: "heat",
		Inputs: join([]Input{anyMaterial(), property("specific_heat", polymer.SpecificHeatSolid, 1500), property("softening", polymer.Softening, 331.15)}, []Input{
			number("charge", quantity.Mass, 0.15, 1e-3, 50),
			number("power", quantity.Power, 250, 0, 1e5).named("given.heating_power"),
			number("run", quantity.Duration, 120, 1, 3600),
			number("passed", quantity.Share, 0.7, 0, 1),
			number("room", quantity.Temperature, 293.15, 253.15, 323.15),
			number("wall_start", quantity.Temperature, 293.15, 253.15, 373.15),
			number("capacity", quantity.HeatCapacity, 1500, 10, 1e5),
			number("loss", quantity.Conductance, 0.6, 0.01, 100).named("given.pot_loss"),
			number("exchange", quantity.Conductance, 3, 0, 1000),
			number("to_charge", quantity.Share, 0.75, 0, 1),
			number("rest_to", quantity.Temperature, 303.15, 253.15, 373.15),
			number("lid", quantity.Number, 1.6, 1, 20),
		}), reckon: reckonWarming},
}

func reckonGrinding(r *reckoning) error {
	if r.num("wall") > r.num("largest") {
		return r.bad("wall", fact.Say("reckon.thick_walls"))
	}
	grid, err := breakage.NewGrid(r.num("largest"))
	if err != nil {
		return err
	}
	book := estimate.Prior()
	k := estimate.Kernel(book.Medians())
	k.Rate, k.SizeExponent = r.num("rate")/r.num("toughness"), r.num("exponent")
	mill, err := breakage.NewMill(grid, k, breakage.Screen{Hole: r.num("hole"), OpenShare: r.num("open"), Rate: r.num("discharge")},
		breakage.Power{Net: r.num("power"), MinHeld: r.num("hold")}, 1e-5)
	if err != nil {
		return err
	}
	charge := breakage.NewCharge(grid)
	if err := breakage.AddFeed(grid, charge.Held, r.num("charge"), r.num("largest"), 0.45*r.num("largest"), math.Min(r.num("wall"), 0.45*r.num("largest"))); err != nil {
		return err
	}
	const looks = 40
	course := &breakage.Course{Time: make([]float64, looks), Passed: make([]float64, looks), Energy: make([]float64, looks)}
	for i := range looks {
		course.Time[i] = r.num("run") * float64(i+1) / looks
	}
	if err := mill.Run(charge, r.num("run"), course); err != nil {
		return err
	}
	passed, energy := course.Passed[looks-1], course.Energy[looks-1]
	r.add("passed", quantity.Mass, passed, "charge", "power", "run", "rate", "toughness", "hole").Cite("Reid1965", "")
	r.add("held", quantity.Mass, r.num("charge")-passed, "charge")
	r.add("energy", quantity.Energy, energy, "power", "hold")
	fines := make([]float64, 1)
	if passed > 0 {
		r.add("specific", quantity.SpecificEnergy, energy/passed, "power")
		if err := grid.Passing(charge.Passed, []float64{answer.FinesLimit}, fines); err != nil {
			return err
		}
		r.add("fines", quantity.Share, fines[0], "exponent", "discharge")
	}
	through := []fact.Fact{fact.Set("time", quantity.Duration, r.num("run")), fact.About("mass", quantity.Mass, passed), fact.Set("charge", quantity.Mass, r.num("charge"))}
	r.answer(fact.Say("reckon.through", through...))
	r.note(fact.Say("reckon.priors"))
	r.chart(answer.Chart{Key: "passed", XName: "axis.time", YName: "axis.passed", XKind: quantity.Duration, YKind: quantity.Mass,
		Curves:  []answer.Curve{{Key: "passed", Name: "axis.passed", X: course.Time, Low: course.Passed, Mid: course.Passed, High: course.Passed}},
		Lines:   []answer.Line{{Key: "charge", Name: "line.charge", Value: r.num("charge")}},
		Summary: "reckon.through", Facts: through})
	return nil
}

func reckonWarming(r *reckoning) error {
	pot := heat.Pot{Wall: r.num("capacity"), Exchange: r.num("exchange"), Loss: r.num("loss"), ToCharge: r.num("to_charge"), SpecificHeat: r.num("specific_heat")}
	state := heat.State{Charge: r.num("room"), Wall: r.num("wall_start")}
	var account heat.Account
	const looks = 40
	charge := answer.Curve{Key: "charge", Name: "line.charge", X: []float64{0}, Mid: []float64{state.Charge}}
	wall := answer.Curve{Key: "wall", Name: "line.pot_wall", X: []float64{0}, Mid: []float64{state.Wall}}
	left := func(i int) float64 { return r.num("charge") * (1 - r.num("passed")*float64(i)/looks) }
	hottest := state.Charge
	for i := range looks {
		if err := pot.Step(&state, &account, heat.Span{Time: r.num("run") / looks, Power: r.num("power"), From: left(i), To: left(i + 1), Room: r.num("room")}); err != nil {
			return err
		}
		t := r.num("run") * float64(i+1) / looks
		charge.X, charge.Mid = append(charge.X, t), append(charge.Mid, state.Charge)
		wall.X, wall.Mid = append(wall.X, t), append(wall.Mid, state.Wall)
		hottest = math.Max(hottest, state.Charge)
	}
	r.add("charge_end", quantity.Temperature, hottest, "power", "run", "charge", "exchange", "to_charge", "specific_heat")
	r.add("wall_end", quantity.Temperature, state.Wall, "capacity", "loss", "exchange")
	r.add("lost", quantity.Energy, account.Lost, "loss")
	margin := r.num("softening") - hottest
	r.add("margin", quantity.TemperatureDifference, margin, "softening")
	if target := r.num("rest_to"); target > r.num("room") {
		rest, err := heat.RestUntil(pot, state.Wall, target, r.num("room"), r.num("lid"))
		if err != nil {
			return err
		}
		r.add("rest", quantity.Duration, rest, "rest_to", "lid", "capacity", "loss")
	}
	ends := []fact.Fact{fact.About("charge", quantity.Temperature, hottest), fact.About("margin", quantity.TemperatureDifference, math.Abs(margin)), fact.About("wall", quantity.Temperature, state.Wall)}
	if margin > 0 {
		r.answer(fact.Say("reckon.stays_hard", ends...))
	} else {
		r.answer(fact.Say("reckon.softens", ends...))
	}
	charge.Low, charge.High, wall.Low, wall.High = charge.Mid, charge.Mid, wall.Mid, wall.Mid
	r.chart(answer.Chart{Key: "temperature", XName: "axis.time", YName: "axis.temperature", XKind: quantity.Duration, YKind: quantity.Temperature,
		Curves: []answer.Curve{charge, wall}, Lines: []answer.Line{{Key: "softening", Name: "line.softening", Value: r.num("softening")}},
		Summary: "reckon.ends_at", Facts: []fact.Fact{fact.About("charge", quantity.Temperature, state.Charge), fact.About("wall", quantity.Temperature, state.Wall)}})
	return nil
}
