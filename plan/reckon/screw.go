package reckon

import (
	"fmt"
	"math"

	"hopperful/answer"
	"hopperful/plan/traceability"
	"hopperful/polymer"
	"hopperful/process/screw"
	"hopperful/quantity"
)

// screwInputs are the measures of a screw.
var screwInputs = []Input{
	number("barrel", "bore of the barrel", quantity.Length, 0.016, 0.004, 0.3),
	number("lead", "way along the axis in one turn", quantity.Length, 0.016, 1e-3, 0.5),
	number("flight", "width of the flight", quantity.Length, 1.6e-3, 0, 0.1),
	number("clearance", "gap between flight and barrel", quantity.Length, 1e-4, 0, 5e-3),
	number("feed_depth", "depth of the channel under the hopper", quantity.Length, 3e-3, 1e-4, 0.1),
	number("tip_depth", "depth at the tip", quantity.Length, 1.5e-3, 1e-5, 0.1),
	number("pump", "length of the turns that pump", quantity.Length, 0.064, 1e-3, 3),
	number("heated", "heated length of the barrel", quantity.Length, 0.13, 1e-3, 5),
}

var screwTopics = []Topic{
	{Key: "screw", Title: "Screw against nozzle", Question: "How much does it give, and what limits it?", Model: "screw",
		Inputs: join(meltInputs, screwInputs, nozzleInputs, []Input{
			property("bulk", polymer.BulkChips, 480),
			number("filling", "share of a turn's room that moves on in a turn", quantity.Share, 0.22, 1e-3, 1),
			number("speed", "fastest the screw turns", quantity.Rotation, 9.42, 1e-3, 62),
			number("bears", "pressure the head bears", quantity.Pressure, 12e6, 1e4, 5e8),
			number("heaters", "rated power of the heaters", quantity.Power, 200, 1, 1e4),
			number("efficiency", "share of it that gets into the barrel", quantity.Share, 0.95, 0.05, 1),
			number("heat", "heat to melt a kilogram", quantity.SpecificEnergy, 350e3, 5e4, 2e6),
			number("melt_density", "density of the melt", quantity.Density, 1100, 600, 2000),
			number("loss", "what the barrel gives to the room at 200 °C", quantity.Power, screw.UsualBarrelLoss, 0, 300)}), reckon: reckonScrew},
	{Key: "purge", Title: "Purging, and how long a melt may sit hot", Question: "How many grams at a change, how long may it wait?", Model: "screw",
		Inputs: join([]Input{anyMaterial("PLA")}, screwInputs, []Input{
			number("head", "room in adapter and nozzle", quantity.Volume, 3e-6, 0, 1e-3),
			number("melt_density", "density of the melt", quantity.Density, 1100, 600, 2000),
			number("left", "share of the old that may remain", quantity.Share, 0.01, 1e-6, 0.5),
			number("flow", "flow while printing", quantity.VolumeFlow, 15e-9, 1e-12, 1e-5),
			number("life", "time the melt bears at this temperature", quantity.Duration, 1200, 10, 1e6)}), reckon: reckonPurge},
}

// screw reads the measures and refuses what cannot be.
func (r *reckoning) screw() (screw.Screw, error) {
	s := screw.Screw{Diameter: r.num("barrel"), Lead: r.num("lead"), Flight: r.num("flight"), Clearance: r.num("clearance"), FeedDepth: r.num("feed_depth"),
		DepthIn: r.num("tip_depth"), DepthOut: r.num("tip_depth"), Pump: r.num("pump"), Heated: r.num("heated")}
	if err := s.Check(); err != nil {
		return s, r.bad("barrel", "No such screw can be made: %s", answer.Sentence(err.Error()))
	}
	return s, nil
}

// causeWords name a limit in a sentence.
var causeWords = map[screw.Cause]string{
	screw.Starve: "the screw takes no more in", screw.Flood: "the last turns pump no more against the nozzle",
	screw.Pressure: "the head bears no more pressure", screw.Heater: "the heat melts no more",
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
		return r.bad("bore", "A nozzle of %s is as wide as the barrel or wider.", quantity.Length.Plain(r.num("bore")))
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
		f := r.add(string(b.By), "most until "+causeWords[b.By], quantity.MassFlow, b.Flow, "see docs/models/screw.md", "speed", "bulk", "filling", "bore", "heaters")
		if b.Open {
			f.Warnings = append(f.Warnings, "the limit lies beyond this")
		}
	}
	throat, err := screw.FeedTakes(s.FeedDepth)
	if err != nil {
		return err
	}
	r.ranged("grain", "largest grain its feed takes", quantity.Length, throat.Runs, throat.Enters, "half the depth of the channel, where none wedges, to all of it", "feed_depth").Cite("common practice, no source", "")
	r.answer("At most %s: %s.", quantity.MassFlow.Rough(bounds[0].Flow), causeWords[bounds[0].By])
	if err := r.runScrew(l); err != nil {
		return err
	}
	return r.plot(answer.Chart{Key: "flow", Title: "Flow over speed of the screw", XName: "speed", YName: "flow", XKind: quantity.Rotation, YKind: quantity.MassFlow,
		Lines: []answer.Line{{Key: "heater", Name: "what the heat melts", Value: flowOf(bounds, screw.Heater)}}}, r.num("speed")/48, r.num("speed"), func(omega float64) (float64, error) {
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
		r.note("The wanted flow of %s is beyond this screw.", quantity.MassFlow.Rough(wanted))
		return nil
	}
	r.add("setting", "screw speed for the wanted flow", quantity.Rotation, set.Omega, "the larger of the speed that takes it in and the speed that pumps it", "flow")
	if _, err := r.addPressure("pressure_at", l.Head.InNozzle, l.Head.Nozzle); err != nil {
		return err
	}
	r.add("duty", "share of the time the heaters are on", quantity.Share, set.Duty, "(flow × heat + loss − shaft) ÷ (heaters × efficiency)", "heat", "loss", "heaters", "efficiency")
	r.add("shaft", "work of the last turns", quantity.Power, set.Shaft, "shear in channel and gap; the drive needs two to four times that", "speed")
	if set.Starved {
		r.note("The intake decides: the last turns run part full.")
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
	r.add("volume", "room the melt fills", quantity.Volume, volume, "ring at the tip's depth × pumping turns + head", "barrel", "tip_depth", "pump", "head")
	m, err := screw.PurgeMass(volume, r.num("melt_density"), r.num("left"))
	if err != nil {
		return err
	}
	r.ranged("purge", "run out until only that share of the old is left", quantity.Mass, m.Low, m.High, "volume × density × volumes by the residence of a screw; three times that with dead corners", "left", "melt_density").
		Cite("PintoTadmor1970", "residence in a screw")
	mean, err := screw.MeanResidence(volume, r.num("flow"))
	if err != nil {
		return err
	}
	r.add("residence", "the melt stays on average", quantity.Duration, mean, "volume ÷ flow", "flow")
	r.add("shortest", "the quickest of it stays", quantity.Duration, mean*screw.ShortestShare, "three quarters of the mean", "flow").Cite("PintoTadmor1970", "shortest stay")
	hot := screw.Hot{Degrade: r.num("life"), Volume: volume, Flow: r.num("flow"), Oldest: traceability.OldestShare}
	text := "the melt is spoilt while it prints: print faster"
	if hold, err := screw.HoldTime(hot); err == nil {
		r.add("hold", "a stopped print may sit hot for", quantity.Duration, hold, "life − age of the oldest twentieth", "life", "flow")
		text = fmt.Sprintf("a stopped print may sit hot for %s", quantity.Duration.Rough(hold))
	}
	least, err := screw.LeastFlow(hot)
	if err != nil {
		return err
	}
	r.add("least_flow", "slowest flow at which it leaves in time", quantity.VolumeFlow, least, "volume × longest stay ÷ life", "life")
	r.answer("Run %s out at a change; %s.", quantity.Mass.Span(m.Low, m.High), text)
	return r.plot(answer.Chart{Key: "left", Title: "What is left of the old", XName: "run out", YName: "share left", XKind: quantity.Mass, YKind: quantity.Share}, 0.8*volume*r.num("melt_density"), 6*volume*r.num("melt_density"),
		func(mass float64) (float64, error) {
			gone, err := screw.AgedShare(mass / (volume * r.num("melt_density")))
			return 1 - gone, err
		})
}
