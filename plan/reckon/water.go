package reckon

import (
	"errors"
	"math"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/plan/fit"
	"hopperful/polymer"
	"hopperful/process/moisture"
	"hopperful/quantity"
	"hopperful/shop"
)

// formOf is the shape water leaves through.
func formOf(word string) moisture.Shape {
	return map[string]moisture.Shape{"sphere": moisture.Sphere, "cylinder": moisture.Cylinder, "plate": moisture.Plate}[word]
}

// plasticInputs are what drying needs to know of a material.
var plasticInputs = []Input{
	anyMaterial(),
	property("density", polymer.Density, 1240),
	property("water", polymer.WaterRoom, 0.0025),
	property("saturated", polymer.WaterSaturated, 0.008),
	property("diffusivity", polymer.WaterDiffusivity, 5e-12),
	property("activation", polymer.WaterActivation, 45e3),
	property("softening", polymer.Softening, 331.15),
}

// roomInputs are the air of the room.
var roomInputs = []Input{
	number("room", quantity.Temperature, 293.15, 253.15, 323.15),
	number("humidity", quantity.Humidity, 0.5, 0, 1),
}

// grainInputs are the grains.
var grainInputs = []Input{
	word("form", "sphere", "cylinder", "plate"),
	number("size", quantity.Length, 2e-3, 1e-5, 0.05),
}

// asNow names the water plastic holds in room air as what it holds now.
func asNow(in Input) Input {
	return in.named(atRest)
}

// atRest is the name of water that is reckoned from the room's air unless said.
const atRest = "given.start_at_rest"

var waterTopics = []Topic{
	{Key: "air", Model: "moisture",
		Inputs: join([]Input{anyMaterial(), property("water", polymer.WaterRoom, 0.0025), property("saturated", polymer.WaterSaturated, 0.008)}, roomInputs,
			[]Input{number("heated", quantity.Temperature, 323.15, 253.15, 453.15).named("given.heated_to")}), reckon: reckonAir},
	{Key: "drying", Model: "moisture",
		Inputs: join(plasticInputs, grainInputs, roomInputs, []Input{
			word("way", string(shop.DryAir), string(shop.Oven), string(shop.Dehydrator), string(shop.DesiccantBox)),
			property("temperature", polymer.DryingTemperature, 320.65),
			number("dew_point", quantity.Temperature, fit.DryDew, 173.15, 333.15),
			number("box_humidity", quantity.Humidity, fit.Desiccated, 0, 1),
			number("air_flow", quantity.VolumeFlow, fit.DryAirFlow, 1e-6, 1),
			number("mass", quantity.Mass, 1, 1e-3, 1000).named("given.mass_to_dry"),
			number("bed", quantity.Length, fit.UsualBed, 1e-3, 1),
			property("bulk", polymer.BulkChips, 480),
			asNow(property("start", polymer.WaterRoom, 0.0025)),
			property("specific_heat", polymer.SpecificHeatSolid, 1500),
			number("uneven", quantity.Number, 1, 0, 3),
			property("limit", polymer.MoistureLimit, 250e-6),
		}), reckon: reckonDrying},
	{Key: "open", Model: "moisture",
		Inputs: join(plasticInputs, grainInputs, roomInputs, []Input{
			number("start", quantity.Share, 100e-6, 0, 0.1), property("limit", polymer.MoistureLimit, 250e-6)}), reckon: reckonOpen},
	{Key: "weighing", Model: "moisture",
		Inputs: []Input{
			number("before", quantity.Mass, 0.2, 1e-3, 100), number("after", quantity.Mass, 0.1994, 1e-3, 100),
			number("step", quantity.Mass, 1e-4, 1e-8, 0.1), number("limit", quantity.Share, 250e-6, 1e-6, 0.1),
		}, reckon: reckonWeighing},
}

func reckonAir(r *reckoning) error {
	vapour, err := moisture.VapourPressure(r.num("room"), r.num("humidity"))
	if err != nil {
		return err
	}
	r.add("vapour", quantity.Pressure, vapour, "room", "humidity").Cite("Ashrae2017", "ch. 1")
	water, err := moisture.AbsoluteHumidity(r.num("room"), vapour)
	if err != nil {
		return err
	}
	r.add("absolute", quantity.Density, water, "room", "humidity")
	if vapour > 0.0014 {
		dew, err := moisture.DewPoint(vapour)
		if err != nil {
			return err
		}
		r.add("dew_point", quantity.Temperature, dew, "room", "humidity")
	} else {
		r.note(fact.Say("reckon.no_dew"))
	}
	heated := func(t float64) (float64, error) { return moisture.RelativeHumidity(t, vapour) }
	rh, err := heated(r.num("heated"))
	if err != nil {
		return err
	}
	r.add("heated_humidity", quantity.Humidity, rh, "heated")
	rest, err := moisture.EquilibriumWater(r.sorption(), rh)
	if err != nil {
		return err
	}
	r.add("rest", quantity.Share, rest, "water", "saturated", "heated")
	r.answer(fact.Say("reckon.heated_air", fact.Set("temperature", quantity.Temperature, r.num("heated")), fact.About("humidity", quantity.Humidity, rh),
		fact.Name("material", r.out.Words["material"]), fact.About("rest", quantity.Share, rest)))
	return r.plot(answer.Chart{Key: "humidity", XName: "axis.temperature", YName: "axis.humidity", XKind: quantity.Temperature, YKind: quantity.Humidity},
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
		return r.bad("start", fact.Say("reckon.dry_already", fact.Measured("start", quantity.Share, r.num("start")), fact.Measured("limit", quantity.Share, r.num("limit"))))
	}
	d, err := moisture.DryingTime(p, g, dryer, moisture.Bed{Mass: r.num("mass"), Depth: r.num("bed"), Density: math.Min(r.num("bulk"), 0.95*p.Density)},
		moisture.Need{Now: r.num("start"), Limit: r.num("limit")})
	var hot *moisture.TooHotError
	var wet *moisture.TooWetError
	var deep *moisture.TooDeepError
	switch {
	case errors.As(err, &hot):
		return shop.Refused(shop.Invalid, "temperature", err)
	case errors.As(err, &wet):
		return shop.Refused(shop.Invalid, "way", err)
	case errors.As(err, &deep):
		return shop.Refused(shop.Invalid, "bed", err)
	case err != nil:
		return err
	}
	r.add("time", quantity.Duration, d.Time,
		"diffusivity", "activation", "size", "temperature", "start", "limit", "bed").Cite("Crank1975", "as cited in Polykin2024")
	r.add("grain", quantity.Duration, d.Grain, "diffusivity", "size", "uneven")
	if d.Warm > 0 {
		r.add("warm", quantity.Duration, d.Warm, "specific_heat", "room", "bed", "activation")
	}
	if d.Bed > 0 {
		r.add("heap", quantity.Duration, d.Bed, "bed", "bulk")
		r.add("deepest", quantity.Length, d.Deepest, "bed")
	}
	if d.Air > 0 {
		r.add("carried", quantity.Duration, d.Air, "air_flow", "mass")
	}
	r.add("dryer_humidity", quantity.Humidity, d.Humidity, "temperature")
	r.add("rest", quantity.Share, d.Equilibrium, "water", "saturated")
	if hours, err := r.booksHours(); err == nil {
		r.out.Figures = append(r.out.Figures, hours)
	}
	plan := r.joined()
	r.note(fact.Say("reckon.as_good_as_diffusivity"))
	way, time, by := fact.Word("way", Choice(r.out.Words["way"])), fact.About("time", quantity.Duration, d.Time), fact.Term("by", "dried_by", string(d.Binding))
	if plan > 0 {
		r.answer(fact.Say("reckon.plan_for", fact.About("plan", quantity.Duration, plan), way, time, by))
	} else {
		r.answer(fact.Say("reckon.dries_in", way, time, by))
	}
	return r.plot(answer.Chart{Key: "water", XName: "axis.time", YName: "axis.water", XKind: quantity.Duration, YKind: quantity.Share,
		Lines: []answer.Line{{Key: "limit", Name: "line.limit", Value: r.num("limit")}}}, 0, 1.5*d.Time, func(t float64) (float64, error) {
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
	f.Key, f.Name = "books", "dry.time_books"
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
	r.add("rest", quantity.Share, o.Equilibrium, "water", "saturated", "humidity")
	if o.Standing == moisture.WillPass {
		r.add("time", quantity.Duration, o.Time, "diffusivity", "size", "start", "limit", "humidity").
			Cite("Crank1975", "as cited in Polykin2024")
		r.answer(fact.Say("reckon.passes_after", fact.About("time", quantity.Duration, o.Time)))
	} else {
		r.answer(fact.Say("reckon.spread", fact.Term("stands", "standing", string(o.Standing))))
	}
	r.note(fact.Say("reckon.spread_thin"))
	span := 3600.0
	if o.Time > 0 {
		span = 4 * o.Time
	}
	return r.plot(answer.Chart{Key: "water", XName: "axis.time_open", YName: "axis.water", XKind: quantity.Duration, YKind: quantity.Share,
		Lines: []answer.Line{{Key: "limit", Name: "line.limit", Value: r.num("limit")}}}, 0, span, func(t float64) (float64, error) {
		return moisture.WaterAfter(p, g, room, moisture.Stay{Now: r.num("start"), Time: t})
	})
}

func reckonWeighing(r *reckoning) error {
	loss, err := moisture.LossOnDrying(moisture.Weighing{Before: r.num("before"), After: r.num("after"), Resolution: r.num("step")})
	if err != nil {
		return err
	}
	f := r.add("loss", quantity.Share, loss.Wet, "before", "after")
	f.Low, f.High = loss.Low, loss.High
	r.add("seen", quantity.Share, loss.Detectable, "step", "before")
	sample, err := moisture.SampleFor(r.num("step"), r.num("limit"))
	if err != nil {
		return err
	}
	r.add("sample", quantity.Mass, sample, "step", "limit")
	limit, lost := fact.Set("limit", quantity.Share, r.num("limit")), fact.Figure("loss", *f.Figure)
	if loss.CanSee(r.num("limit")) {
		r.answer(fact.Say("reckon.sees", limit, lost))
	} else {
		r.answer(fact.Say("reckon.cannot_see", limit, lost))
	}
	r.note(fact.Say("reckon.all_is_water"))
	return nil
}
