package reckon

import (
	"math"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/process/exposure"
	"hopperful/process/metal"
	"hopperful/quantity"
)

var restTopics = []Topic{
	{Key: "metal", Model: "metal",
		Inputs: []Input{
			number("wear", quantity.Share, 10e-6, 0, 0.01),
			number("ferritic", quantity.Share, 0.7, 0, 1),
			number("cold_worked", quantity.Share, 0.2, 0, 1),
			number("passes", quantity.Count, 1, 0, 20),
			number("chip", quantity.Length, metal.WearSpectrum.Median, 1e-6, 0.02),
			number("spread", quantity.Number, metal.WearSpectrum.Spread, 0.05, 2),
			number("screen", quantity.Length, 2e-3, 1e-5, 0.05),
			number("slip", quantity.Number, 1.5, 1, 5),
			number("nozzle", quantity.Length, 1.2e-3, 1e-4, 0.02),
			number("mass", quantity.Mass, 0.25, 1e-3, 1000).named("given.print_mass"),
			number("finer", quantity.Length, 1e-3, 1e-5, 0.05).named("given.finer_screen"),
		}, reckon: reckonMetal},
	{Key: "blocked", Model: "metal",
		Inputs: []Input{number("found", quantity.Count, 0, 0, 1e6), number("mass", quantity.Mass, 3, 1e-3, 1e6).named("given.looked_through"),
			number("print", quantity.Mass, 0.25, 1e-3, 1000), number("confidence", quantity.Share, 0.95, 0.5, 0.999)}, reckon: reckonBlocked},
	{Key: "noise", Model: "exposure",
		Inputs: []Input{number("level", quantity.SoundLevel, exposure.AssumedLevel, 40, 140), number("time", quantity.Duration, 1800, 0, 86400).named("given.time_at_mill")}, reckon: reckonNoise},
}

func reckonMetal(r *reckoning) error {
	rest := 1 - r.num("ferritic") - r.num("cold_worked")
	if rest < -1e-9 {
		return r.bad("ferritic", fact.Say("reckon.over_all"))
	}
	m := metal.Metal{Wear: r.num("wear"), Sizes: metal.Spectrum{Median: r.num("chip"), Spread: r.num("spread")}, Screen: r.num("screen"), Slip: r.num("slip"), Passes: int(r.num("passes")),
		Parts: []metal.Part{{Kind: metal.Ferritic, Share: r.num("ferritic")}, {Kind: metal.ColdWorked, Share: r.num("cold_worked")}, {Kind: metal.Brass, Share: math.Max(rest, 0)}}}
	p := metal.Print{Mass: r.num("mass"), Nozzle: r.num("nozzle")}
	out, err := metal.PrintRisk(m, p)
	if err != nil {
		return err
	}
	stays := r.add("stays", quantity.Share, out.Staying.Share, "ferritic", "cold_worked", "passes")
	stays.Low, stays.High = out.Staying.Low, out.Staying.High
	r.add("left", quantity.Share, out.Metal, "wear")
	rate := r.add("rate", quantity.Number, out.Rate, "chip", "nozzle", "screen")
	rate.Low, rate.High = out.Low, out.High
	r.add("chance", quantity.Share, out.Chance, "mass")
	if out.Sample > 0 {
		r.add("sample", quantity.Mass, out.Sample, "wear").Cite("Owiki2026", "rule of three")
	}
	r.answer(fact.Say("reckon.meets_chip", fact.Set("mass", quantity.Mass, p.Mass), fact.About("chance", quantity.Share, out.Chance)))
	if finer := r.num("finer"); finer < m.Screen {
		change, err := metal.FinerScreen(m, p, finer)
		if err != nil {
			return err
		}
		r.add("finer_chance", quantity.Share, change.After.Chance, "finer")
	}
	r.note(fact.Say("reckon.magnet_proves_nothing"))
	return r.plot(answer.Chart{Key: "chance", XName: "axis.printed", YName: "axis.chance_of_chip", XKind: quantity.Mass, YKind: quantity.Share}, 0, 4*p.Mass,
		func(mass float64) (float64, error) { return metal.Chance(out.Rate, mass) })
}

func reckonBlocked(r *reckoning) error {
	found := int(r.num("found"))
	most, err := metal.CountAtMost(found, r.num("confidence"))
	if err != nil {
		return err
	}
	rate := most / r.num("mass")
	r.add("most", quantity.Number, rate, "found", "mass", "confidence").Cite("Garwood1936", "from memory")
	believed, err := metal.Learn(metal.Rate{Shape: 0.5}, found, r.num("mass"))
	if err != nil {
		return err
	}
	clean, err := believed.Clean(r.num("print"))
	if err != nil {
		return err
	}
	r.add("clean", quantity.Share, clean, "print").Cite("Aprender2026", "update of a Gamma–Poisson pair")
	worst, err := metal.Chance(math.Min(rate, 1e12), r.num("print"))
	if err != nil {
		return err
	}
	r.add("worst", quantity.Share, worst, "print")
	r.answer(fact.Say("reckon.at_most_chips", fact.Set("confidence", quantity.Share, r.num("confidence")), fact.About("rate", quantity.Number, rate), fact.About("clean", quantity.Share, clean)))
	return r.plot(answer.Chart{Key: "clean", XName: "axis.printed", YName: "axis.chance_of_none", XKind: quantity.Mass, YKind: quantity.Share}, 0, 8*r.num("print"), believed.Clean)
}

func reckonNoise(r *reckoning) error {
	level, time := r.num("level"), r.num("time")
	day := func(time float64) (float64, error) { return exposure.DayLevel(exposure.Task{Level: level, Time: time}) }
	if time > 0 {
		ex, err := day(time)
		if err != nil {
			return err
		}
		r.add("exposure", quantity.SoundLevel, ex, "level", "time").Cite("EU2003", "article 3")
	}
	for _, s := range []struct {
		key    string
		scheme exposure.Scheme
	}{{"niosh", exposure.NIOSH98}, {"osha", exposure.OSHA1910}} {
		dose, err := exposure.Dose(s.scheme, exposure.Task{Level: level, Time: time})
		if err != nil {
			return err
		}
		r.add(s.key, quantity.Share, dose, "level", "time")
	}
	var left float64
	for _, b := range []struct {
		key   string
		limit float64
	}{{"lower", exposure.LowerAction}, {"upper", exposure.UpperAction}} {
		t, err := exposure.TimeLeft(level, b.limit)
		if err != nil {
			return err
		}
		left = math.Min(t, 86400)
		r.add(b.key, quantity.Duration, left, "level").Cite("EU2003", "article 3")
	}
	r.answer(fact.Say("reckon.upper_after", fact.Set("level", quantity.SoundLevel, level), fact.About("time", quantity.Duration, left)))
	r.note(fact.Say("reckon.hearing"))
	return r.plot(answer.Chart{Key: "exposure", XName: "axis.time", YName: "axis.exposure", XKind: quantity.Duration, YKind: quantity.SoundLevel,
		Lines: []answer.Line{{Key: "upper", Name: "line.upper_action", Value: exposure.UpperAction}, {Key: "lower", Name: "line.lower_action", Value: exposure.LowerAction}}}, 60, 8*3600, day)
}
