package reckon

import (
	"math"

	"hopperful/answer"
	"hopperful/process/exposure"
	"hopperful/process/metal"
	"hopperful/quantity"
)

var restTopics = []Topic{
	{Key: "metal", Title: "Wear metal and blocked nozzles", Question: "Will this print meet a chip?", Model: "metal",
		Inputs: []Input{
			number("wear", "metal in the plastic as ground", quantity.Share, 10e-6, 0, 0.01),
			number("ferritic", "share of it that a magnet holds well: steel, iron", quantity.Share, 0.7, 0, 1),
			number("cold_worked", "share that it holds weakly: torn stainless", quantity.Share, 0.2, 0, 1),
			number("passes", "passes by a magnet", quantity.Count, 1, 0, 20),
			number("chip", "median size of the chips", quantity.Length, metal.WearSpectrum.Median, 1e-6, 0.02),
			number("spread", "standard deviation of the logarithm of their size", quantity.Number, metal.WearSpectrum.Spread, 0.05, 2),
			number("screen", "hole of the finest screen it passed", quantity.Length, 2e-3, 1e-5, 0.05),
			number("slip", "longest chip over the hole it slips through", quantity.Number, 1.5, 1, 5),
			number("nozzle", "nozzle bore", quantity.Length, 1.2e-3, 1e-4, 0.02),
			number("mass", "mass of the print", quantity.Mass, 0.25, 1e-3, 1000),
			number("finer", "hole of a finer last screen", quantity.Length, 1e-3, 1e-5, 0.05),
		}, reckon: reckonMetal},
	{Key: "blocked", Title: "What blocked prints teach", Question: "So many blocked in so many kilograms: what is the rate?", Model: "metal",
		Inputs: []Input{number("found", "blocked nozzles, or chips found", quantity.Count, 0, 0, 1e6), number("mass", "printed, or looked through", quantity.Mass, 3, 1e-3, 1e6),
			number("print", "mass of the next print", quantity.Mass, 0.25, 1e-3, 1000), number("confidence", "confidence", quantity.Share, 0.95, 0.5, 0.999)}, reckon: reckonBlocked},
	{Key: "noise", Title: "Noise of a day", Question: "How long may the mill run today?", Model: "exposure",
		Inputs: []Input{number("level", "level at the ear", quantity.SoundLevel, exposure.AssumedLevel, 40, 140), number("time", "time at the mill", quantity.Duration, 1800, 0, 86400)}, reckon: reckonNoise},
}

func reckonMetal(r *reckoning) error {
	rest := 1 - r.num("ferritic") - r.num("cold_worked")
	if rest < -1e-9 {
		return r.bad("ferritic", "The shares of the metals add up to more than 100 %%.")
	}
	m := metal.Metal{Wear: r.num("wear"), Sizes: metal.Spectrum{Median: r.num("chip"), Spread: r.num("spread")}, Screen: r.num("screen"), Slip: r.num("slip"), Passes: int(r.num("passes")),
		Parts: []metal.Part{{Kind: metal.Ferritic, Share: r.num("ferritic")}, {Kind: metal.ColdWorked, Share: r.num("cold_worked")}, {Kind: metal.Brass, Share: math.Max(rest, 0)}}}
	p := metal.Print{Mass: r.num("mass"), Nozzle: r.num("nozzle")}
	out, err := metal.PrintRisk(m, p)
	if err != nil {
		return err
	}
	stays := r.add("stays", "share of the metal that stays in", quantity.Share, out.Staying.Share, "Σ share × (1 − caught)^passes", "ferritic", "cold_worked", "passes")
	stays.Low, stays.High = out.Staying.Low, out.Staying.High
	r.add("left", "metal left", quantity.Share, out.Metal, "wear × share that stays", "wear")
	rate := r.add("rate", "chips that can block, a kilogram", quantity.Number, out.Rate, "metal left ÷ mass of a chip, from a third of the nozzle to the screen's hole", "chip", "nozzle", "screen")
	rate.Low, rate.High = out.Low, out.High
	r.add("chance", "chance that the print meets one", quantity.Share, out.Chance, "1 − e^(−rate × mass)", "mass")
	if out.Sample > 0 {
		r.add("sample", "look through that much and find nothing to exclude this rate at 95 %", quantity.Mass, out.Sample, "3 ÷ rate", "wear").Cite("Owiki2026", "rule of three")
	}
	r.answer("A print of %s meets a chip that can block in about %s of cases.", quantity.Mass.Plain(p.Mass), quantity.Share.Rough(out.Chance))
	if finer := r.num("finer"); finer < m.Screen {
		change, err := metal.FinerScreen(m, p, finer)
		if err != nil {
			return err
		}
		r.add("finer_chance", "the same through the finer screen", quantity.Share, change.After.Chance, "chips above its hole stay behind", "finer")
	}
	r.note("A magnet proves nothing: brass, aluminium and most stainless steel pass it.")
	return r.plot(answer.Chart{Key: "chance", Title: "Chance over the mass printed", XName: "printed", YName: "chance of a chip", XKind: quantity.Mass, YKind: quantity.Share}, 0, 4*p.Mass,
		func(mass float64) (float64, error) { return metal.Chance(out.Rate, mass) })
}

func reckonBlocked(r *reckoning) error {
	found := int(r.num("found"))
	most, err := metal.CountAtMost(found, r.num("confidence"))
	if err != nil {
		return err
	}
	rate := most / r.num("mass")
	r.add("most", "chips a kilogram, at most", quantity.Number, rate, "largest mean that the count leaves open ÷ mass", "found", "mass", "confidence").Cite("Garwood1936", "from memory")
	believed, err := metal.Learn(metal.Rate{Shape: 0.5}, found, r.num("mass"))
	if err != nil {
		return err
	}
	clean, err := believed.Clean(r.num("print"))
	if err != nil {
		return err
	}
	r.add("clean", "chance that the next print meets none", quantity.Share, clean, "Gamma–Poisson, from half a chip in no mass", "print").Cite("Aprender2026", "update of a Gamma–Poisson pair")
	worst, err := metal.Chance(math.Min(rate, 1e12), r.num("print"))
	if err != nil {
		return err
	}
	r.add("worst", "chance that it meets one, at most", quantity.Share, worst, "1 − e^(−rate × mass)", "print")
	r.answer("With %s confidence there are at most %.2g such chips in a kilogram; the next print meets none in about %s of cases.",
		quantity.Share.Plain(r.num("confidence")), rate, quantity.Share.Rough(clean))
	return r.plot(answer.Chart{Key: "clean", Title: "Chance of a clean print", XName: "printed", YName: "chance of no chip", XKind: quantity.Mass, YKind: quantity.Share}, 0, 8*r.num("print"), believed.Clean)
}

func reckonNoise(r *reckoning) error {
	level, time := r.num("level"), r.num("time")
	day := func(time float64) (float64, error) { return exposure.DayLevel(exposure.Task{Level: level, Time: time}) }
	if time > 0 {
		ex, err := day(time)
		if err != nil {
			return err
		}
		r.add("exposure", "the day's noise exposure", quantity.SoundLevel, ex, "level + 10 lg(time ÷ 8 h)", "level", "time").Cite("EU2003", "article 3")
	}
	for _, s := range []struct {
		key    string
		scheme exposure.Scheme
	}{{"niosh", exposure.NIOSH98}, {"osha", exposure.OSHA1910}} {
		dose, err := exposure.Dose(s.scheme, exposure.Task{Level: level, Time: time})
		if err != nil {
			return err
		}
		r.add(s.key, "dose by "+s.scheme.Name, quantity.Share, dose, "time ÷ time allowed at this level", "level", "time")
	}
	var left float64
	for _, b := range []struct {
		key, name string
		limit     float64
	}{{"lower", "until the lower action value of 80 dB(A)", exposure.LowerAction}, {"upper", "until the upper action value of 85 dB(A)", exposure.UpperAction}} {
		t, err := exposure.TimeLeft(level, b.limit)
		if err != nil {
			return err
		}
		left = math.Min(t, 86400)
		r.add(b.key, b.name, quantity.Duration, left, "8 h × 10^((limit − level) ÷ 10), at most a day", "level").Cite("EU2003", "article 3")
	}
	r.answer("At %s the upper action value is reached after %s without protection.", quantity.SoundLevel.Plain(level), quantity.Duration.Rough(left))
	r.note("Which rules apply is for local law to say. Wear hearing protection from the first second.")
	return r.plot(answer.Chart{Key: "exposure", Title: "Exposure over the time at the mill", XName: "time", YName: "daily exposure", XKind: quantity.Duration, YKind: quantity.SoundLevel,
		Lines: []answer.Line{{Key: "upper", Name: "upper action value", Value: exposure.UpperAction}, {Key: "lower", Name: "lower action value", Value: exposure.LowerAction}}}, 60, 8*3600, day)
}
