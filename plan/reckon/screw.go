package reckon

import (
	"math"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/plan/traceability"
	"hopperful/polymer"
	"hopperful/process/screw"
	"hopperful/quantity"
	"hopperful/shop"
)

// screwInputs are the measures of a screw.
var screwInputs = []Input{
	number("barrel", quantity.Length, 0.016, 0.004, 0.3),
	number("lead", quantity.Length, 0.016, 1e-3, 0.5),
	number("flight", quantity.Length, 1.6e-3, 0, 0.1),
	number("clearance", quantity.Length, 1e-4, 0, 5e-3),
	number("feed_depth", quantity.Length, 3e-3, 1e-4, 0.1),
	number("tip_depth", quantity.Length, 1.5e-3, 1e-5, 0.1),
	number("pump", quantity.Length, 0.064, 1e-3, 3),
	number("heated", quantity.Length, 0.13, 1e-3, 5).named("given.heated_length"),
}

var screwTopics = []Topic{
	{Key: "screw", Model: "screw",
		Inputs: join(meltInputs, screwInputs, nozzleInputs, []Input{
			property("bulk", polymer.BulkChips, 480),
			number("filling", quantity.Share, 0.22, 1e-3, 1),
			number("speed", quantity.Rotation, 9.42, 1e-3, 62),
			number("bears", quantity.Pressure, 12e6, 1e4, 5e8),
			number("heaters", quantity.Power, 200, 1, 1e4),
			number("efficiency", quantity.Share, 0.95, 0.05, 1),
			number("heat", quantity.SpecificEnergy, 350e3, 5e4, 2e6),
			number("melt_density", quantity.Density, 1100, 600, 2000),
			number("loss", quantity.Power, screw.UsualBarrelLoss, 0, 300).named("given.barrel_loss")}), reckon: reckonScrew},
	{Key: "purge", Model: "screw",
		Inputs: join([]Input{anyMaterial()}, screwInputs, []Input{
			number("head", quantity.Volume, 3e-6, 0, 1e-3),
			number("melt_density", quantity.Density, 1100, 600, 2000),
			number("left", quantity.Share, 0.01, 1e-6, 0.5),
			number("flow", quantity.VolumeFlow, 15e-9, 1e-12, 1e-5).named("given.print_flow"),
			number("life", quantity.Duration, 1200, 10, 1e6)}), reckon: reckonPurge},
}

// screw reads the measures and refuses what cannot be.
func (r *reckoning) screw() (screw.Screw, error) {
	s := screw.Screw{Diameter: r.num("barrel"), Lead: r.num("lead"), Flight: r.num("flight"), Clearance: r.num("clearance"), FeedDepth: r.num("feed_depth"),
		DepthIn: r.num("tip_depth"), DepthOut: r.num("tip_depth"), Pump: r.num("pump"), Heated: r.num("heated")}
	if err := s.Check(); err != nil {
		return s, shop.RefusedAs(shop.Invalid, "barrel", fact.Say("reckon.no_such_screw"), err)
	}
	return s, nil
}

func reckonScrew(r *reckoning) error {
	s, err := r.screw()
	if err != nil {
		return err
	}
	c, err := r.curve(r.num("temperature"), r.num("runny"))
	if err != nil {
		return err
	}
	if r.num("bore") >= r.num("barrel") {
		return r.bad("bore", fact.Say("reckon.wide_nozzle", fact.Set("bore", quantity.Length, r.num("bore"))))
	}
	z := r.nozzle()
	loss, err := screw.BarrelLoss(r.num("loss"), screw.BarrelLossOver, math.Max(0, r.num("temperature")-answer.Room))
	if err != nil {
		return err
	}
	l := screw.Line{Head: screw.Head{Screw: s, Nozzle: z, InScrew: c, InNozzle: c, Loss: screw.UsualLoss}, Feed: screw.Feed{Bulk: math.Max(r.num("bulk"), 50), Filling: r.num("filling")},
		Density: r.num("melt_density"), MostSpeed: r.num("speed"), MostPressure: r.num("bears"),
		Heating: screw.Heating{Heaters: r.num("heaters"), Efficiency: r.num("efficiency"), Loss: loss, Heat: r.num("heat")}}
	bounds, err := screw.LargestFlows(l)
	if err != nil {
		return err
	}
	for _, b := range bounds {
		f := r.add(string(b.By), quantity.MassFlow, b.Flow, "speed", "bulk", "filling", "bore", "heaters")
		if b.Open {
			f.Warnings = append(f.Warnings, "reckon.beyond")
		}
	}
	throat, err := screw.FeedTakes(s.FeedDepth)
	if err != nil {
		return err
	}
	r.ranged("grain", quantity.Length, throat.Runs, throat.Enters, "feed_depth").Cite("common practice, no source", "")
	r.answer(fact.Say("reckon.at_most", fact.About("flow", quantity.MassFlow, bounds[0].Flow), fact.Term("cause", "screw_limit", string(bounds[0].By))))
	if err := r.runScrew(l); err != nil {
		return err
	}
	return r.plot(answer.Chart{Key: "flow", XName: "axis.speed", YName: "axis.flow", XKind: quantity.Rotation, YKind: quantity.MassFlow,
		Lines: []answer.Line{{Key: "heater", Name: "line.heat_melts", Value: flowOf(bounds, screw.Heater)}}}, r.num("speed")/48, r.num("speed"), func(omega float64) (float64, error) {
		in, err := screw.IntakeFlow(s, l.Feed, omega)
		if err != nil {
			return 0, err
		}
		p, err := screw.Operating(l.Head, omega)
		return math.Min(in, p.Flow*l.Density), err
	})
}

func flowOf(bounds []screw.Bound, by screw.Cause) float64 {
	for _, b := range bounds {
		if b.By == by {
			return b.Flow
		}
	}
	return 0
}

// runScrew is the setting for the wanted flow.
func (r *reckoning) runScrew(l screw.Line) error {
	wanted := r.num("flow") * l.Density
	set, err := screw.RunAt(l, wanted)
	if err != nil {
		r.note(fact.Say("reckon.beyond_screw", fact.About("flow", quantity.MassFlow, wanted)))
		return nil
	}
	r.add("setting", quantity.Rotation, set.Omega, "flow")
	if _, _, err := r.addPressure("pressure_at", l.Head.InNozzle, l.Head.Nozzle); err != nil {
		return err
	}
	r.add("duty", quantity.Share, set.Duty, "heat", "loss", "heaters", "efficiency")
	r.add("shaft", quantity.Power, set.Shaft, "speed")
	if set.Starved {
		r.note(fact.Say("reckon.intake_decides"))
	}
	return nil
}

func reckonPurge(r *reckoning) error {
	s, err := r.screw()
	if err != nil {
		return err
	}
	volume, err := screw.MeltVolume(s, r.num("head"))
	if err != nil {
		return err
	}
	r.add("volume", quantity.Volume, volume, "barrel", "tip_depth", "pump", "head")
	m, err := screw.PurgeMass(volume, r.num("melt_density"), r.num("left"))
	if err != nil {
		return err
	}
	purge := r.ranged("purge", quantity.Mass, m.Low, m.High, "left", "melt_density").
		Cite("PintoTadmor1970", "residence in a screw")
	mean, err := screw.MeanResidence(volume, r.num("flow"))
	if err != nil {
		return err
	}
	r.add("residence", quantity.Duration, mean, "flow")
	r.add("shortest", quantity.Duration, mean*screw.ShortestShare, "flow").Cite("PintoTadmor1970", "shortest stay")
	hot := screw.Hot{Degrade: r.num("life"), Volume: volume, Flow: r.num("flow"), Oldest: traceability.OldestShare}
	may := fact.Say("reckon.spoilt_printing")
	if hold, err := screw.HoldTime(hot); err == nil {
		r.add("hold", quantity.Duration, hold, "life", "flow")
		may = fact.Say("reckon.may_sit", fact.About("time", quantity.Duration, hold))
	}
	least, err := screw.LeastFlow(hot)
	if err != nil {
		return err
	}
	r.add("least_flow", quantity.VolumeFlow, least, "life")
	r.answer(fact.Say("reckon.purge", fact.Figure("mass", *purge.Figure), fact.Parts("may", may)))
	return r.plot(answer.Chart{Key: "left", XName: "axis.run_out", YName: "axis.share_left", XKind: quantity.Mass, YKind: quantity.Share}, 0.8*volume*r.num("melt_density"), 6*volume*r.num("melt_density"),
		func(mass float64) (float64, error) {
			gone, err := screw.AgedShare(mass / (volume * r.num("melt_density")))
			return 1 - gone, err
		})
}
