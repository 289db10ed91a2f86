package fit

import (
	"errors"
	"math"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/polymer"
	"hopperful/process/moisture"
	"hopperful/quantity"
	"hopperful/shop"
)

// dryDraw is what one draw of a drying comes to.
type dryDraw struct {
	start, limit, rest float64
	moisture.Drying
	hot, wet, deep bool    // refused for that
	stretch        float64 // by which its times were moved to meet the books; 0: not
}

// month is as far as a time in the open is told: beyond it other things decide.
const month = 30 * 24 * 3600.0

// plan looks at every draw and decides what kind of answer there is.
func (j *dryJob) plan() (Drying, error) {
	j.depth = or(j.req.Bed, UsualBed)
	if err := j.look(); err != nil {
		return Drying{}, err
	}
	if j.req.Bed == nil && j.portion(func(d dryDraw) bool { return d.deep }) > 1-answer.SureShare {
		if err := j.shallower(); err != nil {
			return Drying{}, err
		}
	}
	d, err := j.known()
	if err != nil {
		return d, err
	}
	switch {
	case j.portion(func(x dryDraw) bool { return x.start <= x.limit }) >= answer.SureShare:
		d.Possible = true
		return d, nil
	case j.portion(dryDraw.works) < answer.SureShare:
		d.Needed = true
		why, by := j.obstacle()
		d.Blocked, d.By = &why, by
		return d, nil
	}
	return j.report(d)
}

// works reports whether the draw reaches its limit.
func (d dryDraw) works() bool { return !d.hot && !d.wet && !d.deep }

func (j *dryJob) portion(ok func(dryDraw) bool) float64 {
	n := 0.0
	for _, d := range j.draws {
		if ok(d) {
			n++
		}
	}
	return n / float64(len(j.draws))
}

// shallower takes the depth at which nine of ten draws are no longer held up by
// the heap.
func (j *dryJob) shallower() error {
	var deepest []float64
	for _, d := range j.draws {
		if d.Deepest > 0 {
			deepest = append(deepest, d.Deepest)
		}
	}
	if len(deepest) == 0 {
		return nil
	}
	j.depth = math.Max(0.95*answer.Quantile(deepest, 1-answer.SureShare), 2e-3)
	return j.look()
}

// look works every draw out.
func (j *dryJob) look() error {
	dryer, err := j.air.Dryer()
	if err != nil {
		return shop.Refuse(shop.Invalid, "temperature_k", fact.Say("dry.condenses", fact.Set("at", quantity.Temperature, j.air.Temperature)), fact.Say("dry.check_dew"))
	}
	j.draws = make([]dryDraw, len(j.rows))
	for i, row := range j.rows {
		if j.draws[i], err = j.one(row, dryer); err != nil {
			return err
		}
	}
	return nil
}

func (j *dryJob) one(row []float64, dryer moisture.Dryer) (dryDraw, error) {
	d := dryDraw{limit: row[fDryLimit]}
	var err error
	if j.req.Start != nil {
		d.start = *j.req.Start
	} else if d.start, err = j.water(row); err != nil {
		return d, err
	}
	p := plasticOf(row, math.Min(math.Max(row[fSoftening], 253.15), 673.15), j.air.Room)
	humidity, err := moisture.RelativeHumidity(dryer.Temperature, dryer.Vapour)
	if err != nil {
		return d, err
	}
	if d.rest, err = moisture.EquilibriumWater(sorptionOf(row), humidity); err != nil {
		return d, err
	}
	grains, err := grainsOf(row)
	if err != nil {
		return d, err
	}
	if d.start <= d.limit {
		return d, nil
	}
	bed := moisture.Bed{Mass: j.mass, Depth: j.depth, Density: math.Min(math.Max(row[fBulk], 20), 0.9*p.Density)}
	d.Drying, err = moisture.DryingTime(p, grains, dryer, bed, moisture.Need{Now: d.start, Limit: d.limit})
	var hot *moisture.TooHotError
	var wet *moisture.TooWetError
	var deep *moisture.TooDeepError
	switch {
	case errors.As(err, &hot):
		d.hot = true
	case errors.As(err, &wet):
		d.wet = true
	case errors.As(err, &deep):
		d.deep = true
	case err != nil:
		return d, err
	}
	return d, nil
}

// known fills in what does not depend on the outcome.
func (j *dryJob) known() (Drying, error) {
	d := j.frame()
	collect := func(each func(dryDraw) float64) []float64 {
		all := make([]float64, len(j.draws))
		for i, x := range j.draws {
			all[i] = each(x)
		}
		return all
	}
	var err error
	if d.Start, err = figure.FromDraws("start", "fit.water_now", quantity.Share, collect(func(x dryDraw) float64 { return x.start })); err != nil {
		return d, err
	}
	if j.req.Start != nil {
		d.Start.Basis = figure.Entered
	} else {
		d.Start = d.Start.From("how.water_since", append(j.in(fWater), j.humidityFigure())...)
	}
	d.Limit = beliefFigure(j.beliefs[fDryLimit])
	if d.Rest, err = figure.FromDraws("rest", "dry.rest", quantity.Share, collect(func(x dryDraw) float64 { return x.rest })); err != nil {
		return d, err
	}
	d.Rest = d.Rest.From("how.rest", append(j.in(fWater, fSaturation), j.airFigures()...)...).
		Cite("Ashrae2017", "ch. 1").Held(figure.Limit{Name: "belief.moisture_limit", Value: d.Limit.Value, Side: figure.Below,
		Holds: j.portion(func(x dryDraw) bool { return x.rest < x.limit })}.On(d.Limit))
	d.Figures = append(d.Figures, j.airFigures()...)
	d.Figures = append(d.Figures, j.in(fDiffusivity, fTop, fBulk)...)
	d.doubts = append(d.doubts, j.doubts...)
	d.cautions = append([]answer.Finding{answer.Found(fact.Say("dry.fumes")), answer.Found(fact.Say("dry.no_food"))}, j.materialCautions()...)
	return d, nil
}

func (j *dryJob) airFigures() []figure.Figure {
	room := figure.Exact("room", "fit.room_temperature", quantity.Temperature, j.air.Room, figure.Entered)
	if j.state.Shop.RoomTemperature == nil {
		room.Basis = figure.Assumed
	}
	all := []figure.Figure{room, j.humidityFigure()}
	add := func(key, name string, kind quantity.Kind, v *float64, usual float64) {
		f := figure.Exact(key, name, kind, or(v, usual), figure.Entered)
		if v == nil {
			f.Basis = figure.Assumed
		}
		all = append(all, f)
	}
	switch j.req.Way {
	case shop.DryAir:
		add("dew_point", "dry.dew_point", quantity.Temperature, j.req.DewPoint, DryDew)
		add("air_flow", "dry.air_flow", quantity.VolumeFlow, j.req.Flow, DryAirFlow)
	case shop.Dehydrator:
		add("air_flow", "dry.air_flow", quantity.VolumeFlow, j.req.Flow, deskAir)
	case shop.DesiccantBox:
		add("box_humidity", "dry.box_humidity", quantity.Humidity, j.req.Humidity, Desiccated)
	}
	return all
}

// temperatureFigure is how warm to dry, with whose word that is: the table's where it
// is dried at the table's temperature, ours where that was cut to what it bears.
func (j *dryJob) temperatureFigure() figure.Figure {
	f := figure.Exact("temperature", "dry.temperature", quantity.Temperature, j.air.Temperature, figure.Books)
	v, err := j.polymer.Value(polymer.DryingTemperature)
	switch {
	case j.req.Temperature != nil || j.with.Temperature != nil && *j.with.Temperature == j.air.Temperature:
		f.Basis = figure.Entered
	case err == nil && v.Value == j.air.Temperature:
		f = v.Vouch(f)
	default:
		f = f.Cite("judgement", "")
	}
	return f
}

// frame is a plan without its findings.
func (j *dryJob) frame() Drying {
	none := func(key, name string, kind quantity.Kind) figure.Figure {
		return figure.Exact(key, name, kind, 0, figure.Reckoned)
	}
	temperature := j.temperatureFigure()
	depth := figure.Exact("depth", "dry.depth", quantity.Length, j.depth, figure.Reckoned)
	if j.req.Bed != nil {
		depth.Basis = figure.Entered
	}
	return Drying{Dryer: j.with.Name, lot: j.lot, air: j.air, Polymer: j.polymer.Name, Way: j.req.Way, Temperature: temperature, Depth: depth,
		Start: none("start", "fit.water_now", quantity.Share), Limit: none("moisture_limit", "belief.moisture_limit", quantity.Share),
		Rest: none("rest", "dry.rest", quantity.Share), Time: none("time", "dry.time", quantity.Duration),
		Open: none("open", "dry.open", quantity.Duration)}
}
