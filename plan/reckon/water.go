package reckon

import (
	"errors"
	"math"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/plan/fit"
	"hopperful/polymer"
	"hopperful/process/moisture"
	"hopperful/quantity"
	"hopperful/shop"
)

// grainForms are the shapes water leaves through.
var grainForms = []string{"sphere", "cylinder", "plate"}

func formOf(word string) moisture.Shape {
	return map[string]moisture.Shape{"sphere": moisture.Sphere, "cylinder": moisture.Cylinder, "plate": moisture.Plate}[word]
}

// plasticInputs are what drying needs to know of a material.
var plasticInputs = []Input{
	anyMaterial("PLA"),
	property("density", polymer.Density, 1240),
	property("water", polymer.WaterRoom, 0.0025),
	property("saturated", polymer.WaterSaturated, 0.008),
	property("diffusivity", polymer.WaterDiffusivity, 5e-12),
	property("activation", polymer.WaterActivation, 45e3),
	property("softening", polymer.Softening, 331.15),
}

// roomInputs are the air of the room.
var roomInputs = []Input{
	number("room", "room temperature", quantity.Temperature, 293.15, 253.15, 323.15),
	number("humidity", "humidity of the room", quantity.Humidity, 0.5, 0, 1),
}

// grainInputs are the grains.
var grainInputs = []Input{
	{Key: "form", Name: "form of the grains", Word: "sphere", Choices: grainForms},
	number("size", "diameter, or thickness of plates", quantity.Length, 2e-3, 1e-5, 0.05),
}

func join(lists ...[]Input) []Input {
	var all []Input
	for _, l := range lists {
		all = append(all, l...)
	}
	return all
}

// asNow names the water plastic holds in room air as what it holds now.
func asNow(in Input) Input {
	in.Name = "water in it now, at rest with air of 50 %RH unless said"
	return in
}

var waterTopics = []Topic{
	{Key: "air", Title: "Room air, and what heating makes of it", Question: "How dry can this air make plastic?", Model: "moisture",
		Inputs: join([]Input{anyMaterial("PLA"), property("water", polymer.WaterRoom, 0.0025), property("saturated", polymer.WaterSaturated, 0.008)}, roomInputs,
			[]Input{number("heated", "heated to", quantity.Temperature, 323.15, 253.15, 453.15)}), reckon: reckonAir},
	{Key: "drying", Title: "Drying", Question: "How long in which dryer?", Model: "moisture",
		Inputs: join(plasticInputs, grainInputs, roomInputs, []Input{
			{Key: "way", Name: "dryer", Word: string(shop.DryAir), Choices: []string{string(shop.Oven), string(shop.Dehydrator), string(shop.DesiccantBox), string(shop.DryAir)}},
			property("temperature", polymer.DryingTemperature, 320.65),
			number("dew_point", "dew point of a dry-air dryer", quantity.Temperature, fit.DryDew, 173.15, 333.15),
			number("box_humidity", "humidity a desiccant keeps", quantity.Humidity, fit.Desiccated, 0, 1),
			number("air_flow", "air through the granulate", quantity.VolumeFlow, fit.DryAirFlow, 1e-6, 1),
			number("mass", "mass to dry", quantity.Mass, 1, 1e-3, 1000),
			number("bed", "depth of the heap", quantity.Length, fit.UsualBed, 1e-3, 1),
			property("bulk", polymer.BulkChips, 480),
			asNow(property("start", polymer.WaterRoom, 0.0025)),
			property("specific_heat", polymer.SpecificHeatSolid, 1500),
			number("uneven", "spread of the rates from grain to grain: 1 for pellets as measured", quantity.Number, 1, 0, 3),
			property("limit", polymer.MoistureLimit, 250e-6),
		}), reckon: reckonDrying},
	{Key: "open", Title: "Standing in the open", Question: "How long may dry granulate lie about?", Model: "moisture",
		Inputs: join(plasticInputs, grainInputs, roomInputs, []Input{
			number("start", "water in it now", quantity.Share, 100e-6, 0, 0.1), property("limit", polymer.MoistureLimit, 250e-6)}), reckon: reckonOpen},
	{Key: "weighing", Title: "Loss on drying", Question: "Can my scale see this moisture?", Model: "moisture",
		Inputs: []Input{
			number("before", "weight before", quantity.Mass, 0.2, 1e-3, 100), number("after", "weight after", quantity.Mass, 0.1994, 1e-3, 100),
			number("step", "last digit of the scale", quantity.Mass, 1e-4, 1e-8, 0.1), number("limit", "moisture that has to be seen", quantity.Share, 250e-6, 1e-6, 0.1),
		}, reckon: reckonWeighing},
}

func reckonAir(r *reckoning) error {
	vapour, err := moisture.VapourPressure(r.num("room"), r.num("humidity"))
	if err != nil {
		return err
	}
	r.add("vapour", "partial pressure of water", quantity.Pressure, vapour, "humidity × saturation pressure", "room", "humidity").Cite("Ashrae2017", "ch. 1")
	water, err := moisture.AbsoluteHumidity(r.num("room"), vapour)
	if err != nil {
		return err
	}
	r.add("absolute", "water in a volume of air", quantity.Density, water, "p M ÷ (R T)", "room", "humidity")
	if vapour > 0.0014 {
		dew, err := moisture.DewPoint(vapour)
		if err != nil {
			return err
		}
		r.add("dew_point", "dew point", quantity.Temperature, dew, "the temperature at which saturation is that pressure", "room", "humidity")
	} else {
		r.note("Air without water has no dew point.")
	}
	heated := func(t float64) (float64, error) { return moisture.RelativeHumidity(t, vapour) }
	rh, err := heated(r.num("heated"))
	if err != nil {
		return err
	}
	r.add("heated_humidity", "humidity of the same air heated", quantity.Humidity, rh, "p ÷ saturation pressure at that temperature", "heated")
	rest, err := moisture.EquilibriumWater(r.sorption(), rh)
	if err != nil {
		return err
	}
	r.add("rest", "water plastic keeps in it after any time", quantity.Share, rest, "the curve through the water at 50 %RH and from saturated air", "water", "saturated", "heated")
	r.answer("Heated to %s this air has %s, in which %s keeps %s of water after any time.", quantity.Temperature.Plain(r.num("heated")),
		quantity.Humidity.Rough(rh), r.out.Words["material"], quantity.Share.Rough(rest))
	return r.plot(answer.Chart{Key: "humidity", Title: "Humidity of the heated air", XName: "temperature", YName: "relative humidity", XKind: quantity.Temperature, YKind: quantity.Humidity},
		r.num("room"), 393.15, heated)
}

// sorption is how much water the material takes up; a value at 50 %RH above that
// from saturated air is taken at its end.
func (r *reckoning) sorption() moisture.Sorption {
	saturated := math.Max(r.num("saturated"), 1e-7)
	return moisture.Sorption{Saturated: saturated, Room: math.Min(math.Max(r.num("water"), 0.01*saturated), 0.99*saturated)}
}

func (r *reckoning) plastic() moisture.Plastic {
	s := r.sorption()
	return moisture.Plastic{Density: r.num("density"), Saturated: s.Saturated, Room: s.Room, Diffusivity: r.num("diffusivity"), Reference: fit.AtReference,
		Energy: r.num("activation"), Softening: r.num("softening"), Heat: r.num("specific_heat"), Comes: r.num("room")}
}

func (r *reckoning) oneSize() moisture.Grains {
	return moisture.Grains{Shape: formOf(r.out.Words["form"]), Size: []float64{r.num("size")}, Share: []float64{1}}
}

func reckonDrying(r *reckoning) error {
	dew, flow, box := r.num("dew_point"), r.num("air_flow"), r.num("box_humidity")
	dryer, err := fit.Air{Way: shop.Way(r.out.Words["way"]), Temperature: r.num("temperature"), Dew: &dew, Flow: &flow, Humidity: &box,
		Room: r.num("room"), Moist: r.num("humidity")}.Dryer()
	if err != nil {
		return err
	}
	p := r.plastic()
	g, err := moisture.Uneven(r.oneSize(), r.num("uneven"))
	if err != nil {
		return err
	}
	if r.num("start") <= r.num("limit") {
		return r.bad("start", "It holds %s, no more than the %s wanted: nothing to dry.", quantity.Share.Show(r.num("start")), quantity.Share.Show(r.num("limit")))
	}
	d, err := moisture.DryingTime(p, g, dryer, moisture.Bed{Mass: r.num("mass"), Depth: r.num("bed"), Density: math.Min(r.num("bulk"), 0.95*p.Density)},
		moisture.Need{Now: r.num("start"), Limit: r.num("limit")})
	var hot *moisture.TooHotError
	var wet *moisture.TooWetError
	var deep *moisture.TooDeepError
	switch {
	case errors.As(err, &hot):
		return r.bad("temperature", "%s", answer.Sentence(answer.Capital(err.Error())))
	case errors.As(err, &wet):
		return r.bad("way", "%s", answer.Sentence(answer.Capital(err.Error())))
	case errors.As(err, &deep):
		return r.bad("bed", "%s", answer.Sentence(answer.Capital(err.Error())))
	case err != nil:
		return err
	}
	r.add("time", "in the dryer", quantity.Duration, d.Time, "warming up, then grains and heap or air, until (water − rest) has fallen to (limit − rest)",
		"diffusivity", "activation", "size", "temperature", "start", "limit", "bed").Cite("Crank1975", "as cited in Polykin2024")
	r.add("grain", "of it in the grains", quantity.Duration, d.Grain, "diffusion in grains whose rates scatter", "diffusivity", "size", "uneven")
	if d.Warm > 0 {
		r.add("warm", "of it lost to warming up", quantity.Duration, d.Warm, "∫ (1 − diffusivity then ÷ at the end) dt", "specific_heat", "room", "bed", "activation")
	}
	if d.Bed > 0 {
		r.add("heap", "of it up through the heap", quantity.Duration, d.Bed, "diffusion of vapour through a heap in still air", "bed", "bulk")
		r.add("deepest", "deepest heap that does not hold it up", quantity.Length, d.Deepest, "depth × √(grain ÷ heap)", "bed")
	}
	if d.Air > 0 {
		r.add("carried", "of it for the air to carry it away", quantity.Duration, d.Air, "what a stream in equilibrium carries", "air_flow", "mass")
	}
	r.add("dryer_humidity", "humidity at the granulate", quantity.Humidity, d.Humidity, "vapour ÷ saturation at the dryer's temperature", "temperature")
	r.add("rest", "water this dryer leaves after any time", quantity.Share, d.Equilibrium, "the sorption curve at that humidity", "water", "saturated")
	if hours, err := r.booksHours(); err == nil {
		r.out.Figures = append(r.out.Figures, hours)
	}
	plan := r.joined()
	r.note("A drying time is no better than its diffusivity, known to a factor of two at best. The time to plan for joins it with the books' hours; of a lot also with what its own weighings taught.")
	if plan > 0 {
		r.answer("Plan for %s by %s. The formula alone says %s; the %s sets it.", quantity.Duration.Rough(plan), r.out.Words["way"], quantity.Duration.Rough(d.Time), string(d.Binding))
	} else {
		r.answer("It takes %s by %s; the %s sets the time.", quantity.Duration.Rough(d.Time), r.out.Words["way"], string(d.Binding))
	}
	return r.plot(answer.Chart{Key: "water", Title: "How the water leaves", XName: "time", YName: "water in the plastic", XKind: quantity.Duration, YKind: quantity.Share,
		Lines: []answer.Line{{Key: "limit", Name: "limit", Value: r.num("limit")}}}, 0, 1.5*d.Time, func(t float64) (float64, error) {
		return moisture.WaterAfter(p, g, dryer, moisture.Stay{Now: r.num("start"), Time: d.InGrains(t)})
	})
}

// joined puts the one answer to how the material is dried in that dryer beside the
// formula's: the same that every other room quotes.
func (r *reckoning) joined() (time float64) {
	var s shop.State
	if r.given.Shop != nil {
		s = *r.given.Shop
	}
	v := func(key string) *float64 { x := r.num(key); return &x }
	s.Shop.RoomTemperature, s.Shop.RoomHumidity = v("room"), v("humidity")
	d, err := fit.Dry(&s, fit.DryRequest{Polymer: r.material(), Way: shop.Way(r.out.Words["way"]), Temperature: v("temperature"), Bed: v("bed"), DewPoint: v("dew_point"),
		Flow: v("air_flow"), Humidity: v("box_humidity"), Mass: v("mass"), Start: v("start"), Limit: v("limit")})
	if err != nil || !d.Possible || !d.Needed {
		return 0
	}
	f := d.Time
	f.Key, f.Name = "plan_for", "dry.plan_for"
	r.out.Figures = append([]figure.Figure{f}, r.out.Figures...)
	return f.High
}

// booksHours is how long the trade dries the material.
func (r *reckoning) booksHours() (figure.Figure, error) {
	p, err := r.polymer()
	if err != nil {
		return figure.Figure{}, err
	}
	v, err := p.Value(polymer.DryingTime)
	f := v.Figure()
	f.Key, f.Name = "books", "drying time, by the books"
	return f, err
}

func reckonOpen(r *reckoning) error {
	room, err := moisture.NewRoom(r.num("room"), r.num("humidity"))
	if err != nil {
		return err
	}
	p, g := r.plastic(), r.oneSize()
	o, err := moisture.OpenTime(p, g, room, moisture.Need{Now: r.num("start"), Limit: r.num("limit")})
	if err != nil {
		return err
	}
	r.add("rest", "water at rest with this air", quantity.Share, o.Equilibrium, "the sorption curve at that humidity", "water", "saturated", "humidity")
	if o.Standing == moisture.WillPass {
		r.add("time", "until the limit is passed", quantity.Duration, o.Time, "uptake of grains spread thin", "diffusivity", "size", "start", "limit", "humidity").
			Cite("Crank1975", "as cited in Polykin2024")
		r.answer("Spread in this air it %s after %s.", string(o.Standing), quantity.Duration.Rough(o.Time))
	} else {
		r.answer("Spread in this air it %s.", string(o.Standing))
	}
	r.note("This is for grains spread thin, the shortest it can be; a closed jar lasts far longer.")
	span := 3600.0
	if o.Time > 0 {
		span = 4 * o.Time
	}
	return r.plot(answer.Chart{Key: "water", Title: "Water it takes up", XName: "time in the open", YName: "water in the plastic", XKind: quantity.Duration, YKind: quantity.Share,
		Lines: []answer.Line{{Key: "limit", Name: "limit", Value: r.num("limit")}}}, 0, span, func(t float64) (float64, error) {
		return moisture.WaterAfter(p, g, room, moisture.Stay{Now: r.num("start"), Time: t})
	})
}

func reckonWeighing(r *reckoning) error {
	loss, err := moisture.LossOnDrying(moisture.Weighing{Before: r.num("before"), After: r.num("after"), Resolution: r.num("step")})
	if err != nil {
		return err
	}
	f := r.add("loss", "lost by drying, of what it weighed before", quantity.Share, loss.Wet, "(before − after) ÷ before", "before", "after")
	f.Low, f.High = loss.Low, loss.High
	r.add("seen", "smallest loss this weighing can tell from none", quantity.Share, loss.Detectable, "last digit ÷ before", "step", "before")
	sample, err := moisture.SampleFor(r.num("step"), r.num("limit"))
	if err != nil {
		return err
	}
	r.add("sample", "sample in which this scale sees the limit", quantity.Mass, sample, "3 × last digit ÷ limit", "step", "limit")
	word := "cannot see"
	if loss.CanSee(r.num("limit")) {
		word = "sees"
	}
	r.answer("This weighing %s a moisture of %s; the loss is %s.", word, quantity.Share.Plain(r.num("limit")), f.Shown())
	r.note("Everything that leaves counts as water; weigh warm and in a closed dish.")
	return nil
}
