package reckon

import (
	"math"

	"hopperful/answer"
	"hopperful/polymer"
	"hopperful/process/bulk"
	"hopperful/quantity"
)

var grainTopics = []Topic{
	{Key: "packing", Title: "Bulk density and packing", Question: "Can this jar weighing be true, and how well does it flow?", Model: "bulk",
		Inputs: []Input{anyMaterial("PLA"), property("density", polymer.Density, 1240),
			number("jar", "volume of the jar", quantity.Volume, 200e-6, 1e-6, 0.1), number("poured", "weight poured", quantity.Mass, 0.1, 1e-4, 100),
			number("tapped", "weight tapped and filled up", quantity.Mass, 0.115, 1e-4, 100),
			number("hopper", "volume of the hopper", quantity.Volume, 1e-3, 1e-6, 1)}, reckon: reckonPacking},
	{Key: "bridging", Title: "Bridging over the hopper's exit", Question: "Will it run out, and what would help?", Model: "bulk",
		Inputs: join([]Input{anyMaterial("PLA"), property("density", polymer.Density, 1240)}, outletInputs, []Input{
			number("d95", "size that 95 % are finer than", quantity.Length, 2e-3, 1e-4, 0.02),
			number("mean", "mean size", quantity.Length, 1.1e-3, 1e-5, 0.02),
			number("dust", "dust below 0.2 mm", quantity.Share, 0.03, 0, 0.9),
			property("bulk", polymer.BulkChips, 480),
			number("dust_strength", "strength of the dust", quantity.Pressure, bulk.DustStrength, 10, 1e5),
			number("dust_left", "dust left after taking it off", quantity.Share, 0.1, 0, 1),
			number("finer", "size that 95 % are finer than, through a finer screen", quantity.Length, 1.2e-3, 1e-4, 0.02)}), reckon: reckonBridging},
	{Key: "discharge", Title: "Discharge", Question: "How fast does it run out?", Model: "bulk",
		Inputs: []Input{anyMaterial("PLA"), property("bulk", polymer.BulkChips, 480),
			number("outlet", "opening", quantity.Length, 0.025, 1e-3, 0.5), number("grain", "mean grain size", quantity.Length, 1.5e-3, 1e-5, 0.02),
			number("c", "constant C", quantity.Number, bulk.DischargeC, 0.3, 1), number("k", "constant k", quantity.Number, bulk.DischargeK, 0, 3)}, reckon: reckonDischarge},
}

// outletInputs are the hopper's exit.
var outletInputs = []Input{
	number("outlet", "opening", quantity.Length, 0.025, 1e-3, 0.5),
	number("half_angle", "angle of the wall against the vertical, degrees", quantity.Number, 30, 0, 60),
}

func reckonPacking(r *reckoning) error {
	poured, err := bulk.BulkDensity(r.num("poured"), r.num("jar"))
	if err != nil {
		return err
	}
	r.add("bulk_density", "bulk density", quantity.Density, poured, "weight ÷ volume", "poured", "jar")
	p, err := bulk.JudgePacking(poured, r.num("density"))
	if err != nil {
		return err
	}
	r.add("packing", "share of the space that is solid", quantity.Share, p.Share, "bulk density ÷ density of the solid", "density").
		Cite("RandomClosePack2026", "0.64 for shaken spheres")
	hopper, err := bulk.FillMass(r.num("hopper"), poured, 0.9)
	if err != nil {
		return err
	}
	r.add("hopperful", "a hopper nine tenths full holds", quantity.Mass, hopper, "volume × bulk density × 0.9", "hopper")
	r.answer("%s, %s of the solid's density: %s.", quantity.Density.Rough(poured), quantity.Share.Rough(p.Share), string(p.Verdict))
	if p.Questioned() {
		r.note("Weigh it again before believing it: the jar's own weight, its volume, and whether it is this material.")
	}
	tapped, err := bulk.BulkDensity(r.num("tapped"), r.num("jar"))
	if err != nil {
		return err
	}
	r.add("tapped_density", "tapped density", quantity.Density, tapped, "weight ÷ volume", "tapped", "jar")
	if tapped < poured {
		return r.bad("tapped", "Tapped it weighs less than poured; tap, fill up again, then weigh.")
	}
	carr, err := bulk.Carr(poured, tapped)
	if err != nil {
		return err
	}
	r.add("carr", "compressibility index", quantity.Share, carr, "(tapped − poured) ÷ tapped", "poured", "tapped").Cite("Usp2006", "<1174>")
	hausner, err := bulk.Hausner(poured, tapped)
	if err != nil {
		return err
	}
	r.add("hausner", "Hausner ratio", quantity.Number, hausner, "tapped ÷ poured", "poured", "tapped").Cite("Usp2006", "<1174>")
	class, err := bulk.ClassFlow(poured, tapped)
	r.note("Flow by the two: %s; the classes are blunt for chips of some millimetres.", class)
	return err
}

func reckonBridging(r *reckoning) error {
	o := bulk.Outlet{Width: r.num("outlet"), HalfAngle: r.num("half_angle") * math.Pi / 180}
	packing, err := bulk.PackingShare(r.num("bulk"), r.num("density"))
	if err != nil {
		return err
	}
	if r.num("mean") > r.num("d95") {
		return r.bad("mean", "The mean size is above the size that 95 %% are finer than.")
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
	r.add("wedge", "opening below which grains wedge", quantity.Length, b.Least, "6 × d95", "d95").Cite("common practice, no source", "six to ten")
	r.add("free", "opening above which they seldom do", quantity.Length, b.Free, "10 × d95", "d95").Cite("common practice, no source", "six to ten")
	r.add("stick", "opening above which a sticking arch breaks", quantity.Length, b.Sticky, "H(θ) × strength ÷ (bulk density × g)", "half_angle", "dust", "dust_strength", "bulk").
		Cite("JenikeExercise2026", "cohesive arching")
	r.add("strength", "strength of the mixture", quantity.Pressure, b.Strength, "between clean grains and dust", "dust", "dust_strength")
	word := "will likely bridge"
	if b.Runs() {
		word = "should run"
	}
	r.answer("It %s over an opening of %s; wedging is %s.", word, quantity.Length.Plain(o.Width), b.Wedging)
	effects, err := bulk.Remedies(o, g, bulk.Means{DustLeft: r.num("dust_left"), D95: math.Min(r.num("finer"), r.num("d95"))})
	if err != nil {
		return err
	}
	for _, e := range effects {
		result := "it may still bridge"
		if e.Runs {
			result = "it should run"
		}
		r.note("With %s: %s.", e.Remedy, result)
	}
	return r.plot(answer.Chart{Key: "stick", Title: "What dust asks of the exit", XName: "dust", YName: "opening it wants", XKind: quantity.Share, YKind: quantity.Length,
		Lines: []answer.Line{{Key: "outlet", Name: "the exit", Value: o.Width}}}, 0, 0.3, func(dust float64) (float64, error) {
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
	r.add("rate", "runs out", quantity.MassFlow, rate, "C ρ √g (D − k d)^2.5", "c", "bulk", "outlet", "k", "grain").Cite("Mankoc2007", "equation of Beverloo1961")
	r.answer("It runs out at %s, however high it stands above.", quantity.MassFlow.Rough(rate))
	r.note("For dry grains that do not stick; dust and flakes run slower, steep smooth cones faster.")
	return r.plot(answer.Chart{Key: "rate", Title: "Discharge", XName: "opening", YName: "flow", XKind: quantity.Length, YKind: quantity.MassFlow}, 6*r.num("grain"), 2.5*r.num("outlet")+6*r.num("grain"), at)
}
