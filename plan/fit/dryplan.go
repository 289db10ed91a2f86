package fit

import (
	"errors"
	"fmt"
	"math"

	"hopperful/answer"
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
		return j.dryAlready(d), nil
	case j.portion(dryDraw.works) < answer.SureShare:
		d.Needed = true
		d.Blocked = j.obstacle()
		d.Answer = fmt.Sprintf("Not %s at %s: %s %s", d.where(), d.Temperature.Shown(), d.Blocked.Why, d.Blocked.Nearest)
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
		return &shop.Error{Code: shop.Invalid, Field: "temperature_k",
			Say:  fmt.Sprintf("At %s the dryer would be colder than the dew point of its air: water would condense in it.", quantity.Temperature.Plain(j.air.Temperature)),
			Hint: "Check its temperature and its dew point, or the humidity of the room."}
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
	if d.Start, err = figure.FromDraws("start", "water in it now", quantity.Share, collect(func(x dryDraw) float64 { return x.start })); err != nil {
		return d, err
	}
	if j.req.Start != nil {
		d.Start.Basis = figure.Entered
	} else {
		d.Start = d.Start.From("at rest with the room's air, less what drying took, plus what it took up since", append(j.in(fWater), j.humidityFigure())...)
	}
	d.Limit = beliefFigure(j.beliefs[fDryLimit])
	if d.Rest, err = figure.FromDraws("rest", "water this dryer leaves after any time", quantity.Share, collect(func(x dryDraw) float64 { return x.rest })); err != nil {
		return d, err
	}
	d.Rest = d.Rest.From("the sorption curve at the relative humidity of the dryer's temperature", append(j.in(fWater, fSaturation), j.airFigures()...)...).
		Cite("Ashrae2017", "ch. 1").Held(figure.Limit{Name: "highest moisture for the melt", Value: d.Limit.Value, Side: figure.Below,
		Holds: j.portion(func(x dryDraw) bool { return x.rest < x.limit })})
	d.Figures = append(d.Figures, j.airFigures()...)
	d.Figures = append(d.Figures, j.in(fDiffusivity, fTop, fBulk)...)
	d.Spoilers = append(d.Spoilers, j.doubts...)
	for _, c := range j.polymer.Cautions() {
		if c.Kind == polymer.Drying || c.Kind == polymer.Fumes {
			d.Cautions = append(d.Cautions, answer.Caution{Where: answer.OfMaterial, Text: answer.Sentence(c.Text)})
		}
	}
	d.Cautions = append(d.Cautions, answer.Caution{Where: atDryer, Text: "Warm plastic gives off fumes: air the room. An oven that has dried plastic is not for food any more, and a dryer needs its own protection against overheating; its maker's instructions come first."})
	return d, nil
}

// atDryer is where a caution stands.
const atDryer = "at the dryer"

func (j *dryJob) airFigures() []figure.Figure {
	room := figure.Exact("room", "room temperature", quantity.Temperature, j.air.Room, figure.Entered)
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
		add("dew_point", "dew point of the dryer's air", quantity.Temperature, j.req.DewPoint, DryDew)
		add("air_flow", "air through the granulate", quantity.VolumeFlow, j.req.Flow, DryAirFlow)
	case shop.Dehydrator:
		add("air_flow", "air through the granulate", quantity.VolumeFlow, j.req.Flow, deskAir)
	case shop.DesiccantBox:
		add("box_humidity", "humidity the desiccant keeps", quantity.Humidity, j.req.Humidity, Desiccated)
	}
	return all
}

// frame is a plan without its findings.
func (j *dryJob) frame() Drying {
	none := func(key, name string, kind quantity.Kind) figure.Figure {
		return figure.Exact(key, name, kind, 0, figure.Reckoned)
	}
	temperature := figure.Exact("temperature", "temperature of the dryer", quantity.Temperature, j.air.Temperature, figure.Books)
	if j.req.Temperature != nil {
		temperature.Basis = figure.Entered
	}
	depth := figure.Exact("depth", "depth of the heap", quantity.Length, j.depth, figure.Reckoned)
	if j.req.Bed != nil {
		depth.Basis = figure.Entered
	}
	return Drying{Spoilers: []answer.Spoiler{}, With: []DryWith{}, Dryer: j.with.Name, Lot: j.lot.ID, Polymer: j.polymer.Name, Way: j.req.Way, Temperature: temperature, Depth: depth,
		Start: none("start", "water in it now", quantity.Share), Limit: none("moisture_limit", "highest moisture for the melt", quantity.Share),
		Rest: none("rest", "water this dryer leaves after any time", quantity.Share), Time: none("time", "in the dryer", quantity.Duration),
		Open: none("open", "in the open until it is too wet again", quantity.Duration), Figures: []figure.Figure{}, Steps: []answer.Step{},
		Cautions: []answer.Caution{}, Charts: []answer.Chart{}, Draws: j.req.Draws, Seed: j.req.Seed}
}

// cannot is the answer for what must not be heated.
func (j *dryJob) cannot(block *answer.Block) Drying {
	d := j.frame()
	d.Blocked, d.Needed = block, true
	d.Answer = fmt.Sprintf("No: %s %s", block.Why, block.Nearest)
	return d
}

func (j *dryJob) dryAlready(d Drying) Drying {
	d.Possible = true
	d.Answer = fmt.Sprintf("No drying needed: it holds about %s of water, the melt bears %s.", d.Start.Shown(), d.Limit.Shown())
	d.Steps = []answer.Step{{Do: "Keep it closed until it is in the hopper."}}
	return d
}
