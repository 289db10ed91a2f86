package reckon

import (
	"math"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/polymer"
	"hopperful/process/breakage"
	"hopperful/process/heat"
	"hopperful/quantity"
)

// chargeInputs are a charge in a mill.
var chargeInputs = []Input{
	number("charge", "a charge", quantity.Mass, 0.15, 1e-3, 50),
	number("largest", "largest piece", quantity.Length, 0.03, 5e-4, 0.5),
	number("wall", "thickness of the walls", quantity.Length, 0.002, 1e-4, 0.1),
	number("power", "power into the charge", quantity.Power, 250, 1, 1e5),
	number("run", "grind for", quantity.Duration, 180, 1, 36000),
	number("hole", "screen hole", quantity.Length, 0.003, 1e-4, 0.05),
	number("open", "open share of the screen", quantity.Share, 0.2, 0.01, 1),
	number("discharge", "how often a grain meets the sheet", quantity.Rate, 1, 1e-3, 1000),
	number("rate", "breakage rate at 10 mm", quantity.RatePerEnergy, 1e-4, 1e-8, 0.1),
	number("exponent", "how the rate grows with size", quantity.Number, 1.1, 0, 4),
	number("hold", "charge below which the rotor finds little", quantity.Mass, 0.05, 1e-4, 10),
	property("toughness", polymer.BreakageResistance, 1),
}

var grindTopics = []Topic{
	{Key: "grinding", Title: "A charge in the mill", Question: "What has passed the screen after how long?", Model: "breakage",
		Inputs: join([]Input{anyMaterial("PLA")}, chargeInputs), reckon: reckonGrinding},
	{Key: "warming", Title: "How warm charge and wall become", Question: "How hot, and how long to rest?", Model: "heat",
		Inputs: join([]Input{anyMaterial("PLA"), property("specific_heat", polymer.SpecificHeatSolid, 1500), property("softening", polymer.Softening, 331.15)}, []Input{
			number("charge", "a charge", quantity.Mass, 0.15, 1e-3, 50),
			number("power", "mechanical power that becomes heat", quantity.Power, 250, 0, 1e5),
			number("run", "grind for", quantity.Duration, 120, 1, 3600),
			number("passed", "share of the charge that has left at the end", quantity.Share, 0.7, 0, 1),
			number("room", "room temperature", quantity.Temperature, 293.15, 253.15, 323.15),
			number("wall_start", "wall at the start", quantity.Temperature, 293.15, 253.15, 373.15),
			number("capacity", "heat capacity of pot, plate and lid", quantity.HeatCapacity, 1500, 10, 1e5),
			number("loss", "heat loss of the pot to the room", quantity.Conductance, 0.6, 0.01, 100),
			number("exchange", "heat exchange between charge and wall", quantity.Conductance, 3, 0, 1000),
			number("to_charge", "share of the heat that goes to the charge first", quantity.Share, 0.75, 0, 1),
			number("rest_to", "rest until the wall is at", quantity.Temperature, 303.15, 253.15, 373.15),
			number("lid", "heat loss with the lid open against closed", quantity.Number, 1.6, 1, 20),
		}), reckon: reckonWarming},
}

func reckonGrinding(r *reckoning) error {
	if r.num("wall") > r.num("largest") {
		return r.bad("wall", "The walls are thicker than the largest piece.")
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
	r.add("passed", "through the screen", quantity.Mass, passed, "the batch grinding equation, with a screen", "charge", "power", "run", "rate", "toughness", "hole").Cite("Reid1965", "")
	r.add("held", "still in the mill", quantity.Mass, r.num("charge")-passed, "charge − through the screen", "charge")
	r.add("energy", "energy into the charge", quantity.Energy, energy, "power × time, falling as the mill empties", "power", "hold")
	fines := make([]float64, 1)
	if passed > 0 {
		r.add("specific", "energy a kilogram of product", quantity.SpecificEnergy, energy/passed, "energy ÷ through the screen", "power")
		if err := grid.Passing(charge.Passed, []float64{answer.FinesLimit}, fines); err != nil {
			return err
		}
		r.add("fines", "of it finer than 0.5 mm", quantity.Share, fines[0], "class masses beyond the screen", "exponent", "discharge")
	}
	r.answer("After %s %s of %s is through.", quantity.Duration.Plain(r.num("run")), quantity.Mass.Rough(passed), quantity.Mass.Plain(r.num("charge")))
	r.note("Priors of a mill are judgement until its own runs are recorded; the plan uses those.")
	c := answer.Chart{Key: "passed", Title: "What has passed the screen", XName: "time", YName: "through the screen", XKind: quantity.Duration, YKind: quantity.Mass, XUnit: quantity.Duration.SI(), YUnit: quantity.Mass.SI(),
		Curves:  []answer.Curve{{Key: "passed", Name: "through the screen", X: course.Time, Low: course.Passed, Mid: course.Passed, High: course.Passed}},
		Lines:   []answer.Line{{Key: "charge", Name: "charge", Value: r.num("charge")}},
		Summary: "After " + quantity.Duration.Plain(r.num("run")) + " " + quantity.Mass.Rough(passed) + " has passed."}
	r.out.Charts = append(r.out.Charts, c)
	return nil
}

func reckonWarming(r *reckoning) error {
	pot := heat.Pot{Wall: r.num("capacity"), Exchange: r.num("exchange"), Loss: r.num("loss"), ToCharge: r.num("to_charge"), SpecificHeat: r.num("specific_heat")}
	state := heat.State{Charge: r.num("room"), Wall: r.num("wall_start")}
	var account heat.Account
	const looks = 40
	charge := answer.Curve{Key: "charge", Name: "charge", X: []float64{0}, Mid: []float64{state.Charge}}
	wall := answer.Curve{Key: "wall", Name: "wall of the pot", X: []float64{0}, Mid: []float64{state.Wall}}
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
	r.add("charge_end", "hottest charge", quantity.Temperature, hottest, "two bodies and the room", "power", "run", "charge", "exchange", "to_charge", "specific_heat")
	r.add("wall_end", "wall at the end", quantity.Temperature, state.Wall, "two bodies and the room", "capacity", "loss", "exchange")
	r.add("lost", "heat lost to the room", quantity.Energy, account.Lost, "loss × (wall − room) over the time", "loss")
	margin := r.num("softening") - hottest
	r.add("margin", "below softening", quantity.TemperatureDifference, margin, "softening − hottest charge", "softening")
	if target := r.num("rest_to"); target > r.num("room") {
		rest, err := heat.RestUntil(pot, state.Wall, target, r.num("room"), r.num("lid"))
		if err != nil {
			return err
		}
		r.add("rest", "rest until the wall is cool enough", quantity.Duration, rest, "capacity ÷ (loss × lid) × ln(excess before ÷ after)", "rest_to", "lid", "capacity", "loss")
	}
	word := "stays %s below softening"
	if margin <= 0 {
		word, margin = "goes %s beyond softening", -margin
	}
	r.answer("The charge reaches %s and "+word+"; the wall shows %s.", quantity.Temperature.Rough(hottest), quantity.TemperatureDifference.Rough(margin), quantity.Temperature.Rough(state.Wall))
	charge.Low, charge.High, wall.Low, wall.High = charge.Mid, charge.Mid, wall.Mid, wall.Mid
	r.out.Charts = append(r.out.Charts, answer.Chart{Key: "temperature", Title: "How warm it gets", XName: "time", YName: "temperature", XKind: quantity.Duration, YKind: quantity.Temperature,
		XUnit: quantity.Duration.SI(), YUnit: quantity.Temperature.SI(), Curves: []answer.Curve{charge, wall}, Lines: []answer.Line{{Key: "softening", Name: "softening", Value: r.num("softening")}},
		Summary: "The charge ends at " + quantity.Temperature.Rough(state.Charge) + ", the wall at " + quantity.Temperature.Rough(state.Wall) + "."})
	return nil
}
