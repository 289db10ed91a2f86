package reckon

import (
	"math"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/polymer"
	"hopperful/process/bulk"
	"hopperful/quantity"
)

var grainTopics = []Topic{
	{Key: "packing", Model: "bulk",
		Inputs: []Input{anyMaterial(), property("density", polymer.Density, 1240),
			number("jar", quantity.Volume, 200e-6, 1e-6, 0.1), number("poured", quantity.Mass, 0.1, 1e-4, 100),
			number("tapped", quantity.Mass, 0.115, 1e-4, 100),
			number("hopper", quantity.Volume, 1e-3, 1e-6, 1)}, reckon: reckonPacking},
	{Key: "bridging", Model: "bulk",
		Inputs: join([]Input{anyMaterial(), property("density", polymer.Density, 1240)}, outletInputs, []Input{
			number("d95", quantity.Length, 2e-3, 1e-4, 0.02),
			number("mean", quantity.Length, 1.1e-3, 1e-5, 0.02),
			number("dust", quantity.Share, 0.03, 0, 0.9),
			property("bulk", polymer.BulkChips, 480),
			number("dust_strength", quantity.Pressure, bulk.DustStrength, 10, 1e5),
			number("dust_left", quantity.Share, 0.1, 0, 1),
			number("finer", quantity.Length, 1.2e-3, 1e-4, 0.02).named("given.finer_size")}), reckon: reckonBridging},
	{Key: "discharge", Model: "bulk",
		Inputs: []Input{anyMaterial(), property("bulk", polymer.BulkChips, 480),
			number("outlet", quantity.Length, 0.025, 1e-3, 0.5), number("grain", quantity.Length, 1.5e-3, 1e-5, 0.02),
			number("c", quantity.Number, bulk.DischargeC, 0.3, 1), number("k", quantity.Number, bulk.DischargeK, 0, 3)}, reckon: reckonDischarge},
}

// outletInputs are the hopper's exit.
var outletInputs = []Input{
	number("outlet", quantity.Length, 0.025, 1e-3, 0.5),
	number("half_angle", quantity.Number, 30, 0, 60),
}

func reckonPacking(r *reckoning) error {
	poured, err := bulk.BulkDensity(r.num("poured"), r.num("jar"))
	if err != nil {
		return err
	}
	r.add("bulk_density", quantity.Density, poured, "poured", "jar")
	p, err := bulk.JudgePacking(poured, r.num("density"))
	if err != nil {
		return err
	}
	r.add("packing", quantity.Share, p.Share, "density").
		Cite("RandomClosePack2026", "0.64 for shaken spheres")
	hopper, err := bulk.FillMass(r.num("hopper"), poured, 0.9)
	if err != nil {
		return err
	}
	r.add("hopperful", quantity.Mass, hopper, "hopper")
	r.answer(fact.Say("reckon.packing", fact.About("density", quantity.Density, poured), fact.About("share", quantity.Share, p.Share), fact.Term("verdict", "packed", string(p.Verdict))))
	if p.Questioned() {
		r.note(fact.Say("reckon.weigh_again"))
	}
	tapped, err := bulk.BulkDensity(r.num("tapped"), r.num("jar"))
	if err != nil {
		return err
	}
	r.add("tapped_density", quantity.Density, tapped, "tapped", "jar")
	if tapped < poured {
		return r.bad("tapped", fact.Say("reckon.tapped_less"))
	}
	carr, err := bulk.Carr(poured, tapped)
	if err != nil {
		return err
	}
	r.add("carr", quantity.Share, carr, "poured", "tapped").Cite("Usp2006", "<1174>")
	hausner, err := bulk.Hausner(poured, tapped)
	if err != nil {
		return err
	}
	r.add("hausner", quantity.Number, hausner, "poured", "tapped").Cite("Usp2006", "<1174>")
	class, err := bulk.ClassFlow(poured, tapped)
	r.note(fact.Say("reckon.flow_class", fact.Term("class", "flow_class", class.String())))
	return err
}

func reckonBridging(r *reckoning) error {
	o := bulk.Outlet{Width: r.num("outlet"), HalfAngle: r.num("half_angle") * math.Pi / 180}
	packing, err := bulk.PackingShare(r.num("bulk"), r.num("density"))
	if err != nil {
		return err
	}
	if r.num("mean") > r.num("d95") {
		return r.bad("mean", fact.Say("reckon.mean_above"))
	}
	with := func(dust float64) bulk.Granulate {
		return bulk.Granulate{Mix: bulk.Mixture{Dust: dust, Coarse: packing, Fine: 0.35}, D95: r.num("d95"), Mean: r.num("mean"), Solid: r.num("density"),
			Stick: bulk.Sticking{Coarse: bulk.CoarseStrength, Dust: math.Max(r.num("dust_strength"), bulk.CoarseStrength)}}
	}
	g := with(r.num("dust"))
	b, err := bulk.Bridging(o, g)
	if err != nil {
		return err
	}
	r.add("wedge", quantity.Length, b.Least, "d95").Cite("common practice, no source", "six to ten")
	r.add("free", quantity.Length, b.Free, "d95").Cite("common practice, no source", "six to ten")
	r.add("stick", quantity.Length, b.Sticky, "half_angle", "dust", "dust_strength", "bulk").
		Cite("JenikeExercise2026", "cohesive arching")
	r.add("strength", quantity.Pressure, b.Strength, "dust", "dust_strength")
	opening, wedging := fact.Set("opening", quantity.Length, o.Width), fact.Term("wedging", "risk", b.Wedging.String())
	if b.Runs() {
		r.answer(fact.Say("reckon.runs", opening, wedging))
	} else {
		r.answer(fact.Say("reckon.bridges", opening, wedging))
	}
	effects, err := bulk.Remedies(o, g, bulk.Means{DustLeft: r.num("dust_left"), D95: math.Min(r.num("finer"), r.num("d95"))})
	if err != nil {
		return err
	}
	for _, e := range effects {
		with := fact.Term("remedy", "unblock", string(e.Remedy))
		if e.Runs {
			r.note(fact.Say("reckon.with_runs", with))
		} else {
			r.note(fact.Say("reckon.with_bridges", with))
		}
	}
	return r.plot(answer.Chart{Key: "stick", XName: "axis.dust", YName: "axis.opening_wanted", XKind: quantity.Share, YKind: quantity.Length,
		Lines: []answer.Line{{Key: "outlet", Name: "line.exit", Value: o.Width}}}, 0, 0.3, func(dust float64) (float64, error) {
		b, err := bulk.Bridging(o, with(dust))
		return math.Max(b.Sticky, b.Least), err
	})
}

func reckonDischarge(r *reckoning) error {
	at := func(outlet float64) (float64, error) {
		return bulk.DischargeRate(bulk.Discharge{Outlet: outlet, Grain: r.num("grain"), Density: r.num("bulk"), C: r.num("c"), K: r.num("k")})
	}
	rate, err := at(r.num("outlet"))
	if err != nil {
		return err
	}
	r.add("rate", quantity.MassFlow, rate, "c", "bulk", "outlet", "k", "grain").Cite("Mankoc2007", "equation of Beverloo1961")
	r.answer(fact.Say("reckon.discharge", fact.About("flow", quantity.MassFlow, rate)))
	r.note(fact.Say("reckon.dry_grains"))
	return r.plot(answer.Chart{Key: "rate", XName: "axis.opening", YName: "axis.flow", XKind: quantity.Length, YKind: quantity.MassFlow}, 6*r.num("grain"), 2.5*r.num("outlet")+6*r.num("grain"), at)
}
