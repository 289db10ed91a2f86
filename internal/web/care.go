package web

import (
	"hopperful/quantity"
	"hopperful/shop"
)

// The classes of lots that some records are about.
var (
	granulate = []shop.Class{shop.Regrind, shop.Virgin, shop.Blend}
	anything  = []shop.Class{shop.Scrap, shop.Regrind, shop.Virgin, shop.Blend, shop.Print}
)

// lotField asks which lot, the one in the address first.
func (d *desk) lotField(path, label string, classes ...shop.Class) field {
	return field{Path: path, Label: label, As: asSelect, Must: true, First: d.query("lot"), Choices: d.lotOptions("choose a lot", classes...)}
}

// mostRuns is how many runs are offered.
const mostRuns = 8

// runField asks which run of a mill it came out of; the newest into the lot of
// the address are offered, or into any.
func (d *desk) runField() field {
	f := field{Path: "run", Label: "Out of the run", As: asWhole, Help: "The number of that run's record, if all of it is from one run. Empty: not said."}
	for _, r := range d.state.Records.LatestOf(&shop.Ground{}) {
		if len(f.Choices) == mostRuns {
			break
		}
		if g, ok := r.Body.(*shop.Ground); ok && (d.query("lot") == "" || d.query("lot") == string(g.Into)) {
			f.Choices = append(f.Choices, option{toString(r.ID), localised(clock(r.At, d.now)+", "+shop.Describe(g), d.comma)})
		}
	}
	return f
}

// magnetSheet writes down what hung on the magnet.
func magnetSheet(d *desk) sheet {
	return sheet{
		Kind: "passed_magnet", Title: "Past the magnet", Submit: "Record the magnet", Place: "stock", Timed: true,
		Intro: "Let it run over the magnet in a thin stream, brush the metal off and weigh it.",
		Groups: []group{{Fields: []field{
			d.lotField("lot", "Lot", granulate...),
			amount("metal_kg", "Metal caught", quantity.Mass, "g", "0 if nothing hung on it. Brass, aluminium and most stainless steel never do.").must(),
			amount("passed_kg", "Let over the magnet", quantity.Mass, "g", "Empty if nobody weighed it."),
			d.runField(),
		}}},
		After: func(_ *shop.State, r shop.Record) string { return lotPath(r.Body.(*shop.PassedMagnet).Lot) },
	}
}

// dedustSheet takes the dust off a lot.
func dedustSheet(d *desk) sheet {
	return sheet{
		Kind: "dedusted", Title: "Take the dust off", Submit: "Record the dust", Place: "stock", Timed: true,
		Intro: "Sieve or winnow it, and weigh what is left aside. Not near a flame: fine plastic dust can burn.",
		Groups: []group{{Fields: []field{
			d.lotField("lot", "Lot", granulate...),
			amount("dust_kg", "Dust taken off", quantity.Mass, "g", "").must(),
			amount("opening_m", "Opening of the sieve", quantity.Length, "mm", "Empty if it was blown or shaken off."),
		}}},
		After: func(_ *shop.State, r shop.Record) string { return lotPath(r.Body.(*shop.Dedusted).Lot) },
	}
}

// drySheet writes down a stay in the dryer. Two weighings make it a measurement.
func drySheet(d *desk) sheet {
	return sheet{
		Kind: "dried", Title: "Dry a lot", Submit: "Record the drying", Place: "stock", Timed: true,
		Intro: "Weighed before and after, a drying says how wet the lot was.",
		Groups: []group{
			{Fields: []field{
				d.lotField("lot", "Lot", granulate...),
				{Path: "way", Label: "Dried in", As: asSelect, Must: true, Choices: []option{{"", "choose"},
					{string(shop.Oven), "an oven"}, {string(shop.Dehydrator), "a food dehydrator"}, {string(shop.DesiccantBox), "a box with desiccant"},
					{string(shop.DryAir), "a dryer with dry air"}, {string(shop.OtherWay), "something else"}}},
				amount("temperature_k", "Temperature", quantity.Temperature, "°C", "").must(),
				amount("time_s", "Time", quantity.Duration, "h", "").must(),
				amount("in_kg", "Weighed before", quantity.Mass, "g", ""),
				amount("out_kg", "Weighed after", quantity.Mass, "g", "Warm, straight out of the dryer."),
			}},
			{Title: "What else is known", Folded: true, Fields: []field{
				amount("dew_point_k", "Dew point of its air", quantity.Temperature, "°C", "If the dryer shows it."),
				amount("bed_m", "Depth of the heap", quantity.Length, "mm", ""),
				amount("energy_j", "Energy by the meter", quantity.Energy, "Wh", "What a plug-in meter counted. The books then know what drying costs."),
			}},
		},
		After: func(_ *shop.State, r shop.Record) string { return lotPath(r.Body.(*shop.Dried).Lot) },
	}
}

// jarSheet fills a jar and weighs it.
func jarSheet(d *desk) sheet {
	sh := sheet{
		Kind: "jar_weighed", Title: "Weigh a jar of it", Submit: "Record the jar", Place: "stock", Timed: true,
		Intro: "How dense it lies decides how it feeds. Five minutes with a jar and a scale tell.",
		Groups: []group{{Fields: []field{
			d.lotField("lot", "Lot", granulate...),
			amount("jar_m3", "The jar holds", quantity.Volume, "ml", "What water it takes, filled to the rim: 1 g is 1 ml.").must(),
			amount("poured_kg", "Poured in, struck off", quantity.Mass, "g", "Without the jar.").must(),
			amount("tapped_kg", "Tapped down and filled up again", quantity.Mass, "g", "Tap some fifty times, fill up to the rim, strike off. Without the jar."),
		}}},
		After: func(_ *shop.State, r shop.Record) string { return lotPath(r.Body.(*shop.JarWeighed).Lot) },
	}
	for _, r := range d.state.Records.LatestOf(&shop.JarWeighed{}) {
		if j, ok := r.Body.(*shop.JarWeighed); ok { // the same jar again
			f := &sh.Groups[0].Fields[1]
			f.First = localised(f.Kind.Typed(j.Jar, f.Unit), d.comma)
			break
		}
	}
	return sh
}

// flowSheet writes down what a printer gave in a minute, or the cuts of a
// melt-flow test.
func flowSheet(d *desk) sheet {
	printers := []option{{"", "no printer: a melt-flow test"}}
	first := d.query("printer")
	for _, p := range d.state.Printers {
		if !p.Retired {
			printers = append(printers, option{p.Name, p.Name})
		}
	}
	if first == "" && len(printers) == 2 {
		first = printers[1].Value
	}
	return sheet{
		Kind: "flow_tested", Title: "Test the flow", Submit: "Record the flow", Place: "stock", Timed: true,
		Intro: "Let the printer run a minute in the air and weigh what came out. It tells how much to turn, and how thick the melt is.",
		Groups: []group{
			{Fields: []field{
				d.lotField("lot", "Lot", granulate...),
				{Path: "printer", Label: "Printer", As: asSelect, Choices: printers, First: first},
				amount("temperature_k", "Temperature of the melt", quantity.Temperature, "°C", ""),
				amount("screw_rad_s", "Speed of the screw", quantity.Rotation, "rpm", ""),
				amount("time_s", "Time", quantity.Duration, "s", ""),
				amount("extruded_kg", "What came out", quantity.Mass, "g", ""),
			}},
			{Title: "Melt-flow test instead", Folded: true, Intro: "With a piston and a weight. Leave printer, time and mass above empty.", Fields: []field{
				amount("load_kg", "Load on the melt, piston included", quantity.Mass, "kg", "2.16 kg is usual."),
				amount("cut_s", "Time between two cuts", quantity.Duration, "s", ""),
				{Path: "cuts_kg", Label: "Masses of the cuts", As: asList, Kind: quantity.Mass, Unit: "g", Help: "One a line, or with semicolons between: 0.31; 0.32; 0.30."},
			}},
		},
		After: func(_ *shop.State, r shop.Record) string { return lotPath(r.Body.(*shop.FlowTested).Lot) },
	}
}
