package fit

import (
	"math"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/process/moisture"
	"hopperful/quantity"
	"hopperful/shop"
)

// obstacle says why a dryer does not work in enough of the draws, and what would.
func (j *dryJob) obstacle() (why answer.Finding, by string) {
	hot, wet := j.portion(func(d dryDraw) bool { return d.hot }), j.portion(func(d dryDraw) bool { return d.wet })
	deep := j.portion(func(d dryDraw) bool { return d.deep })
	switch {
	case hot >= wet && hot >= deep:
		soft := j.softens()
		return answer.Found(fact.Say("dry.sticks", fact.Set("at", quantity.Temperature, j.air.Temperature), fact.Name("polymer", j.polymer.Name), fact.About("soft", quantity.Temperature, soft.Median)),
			fact.Say("dry.set_less", fact.Set("at", quantity.Temperature, math.Floor(soft.Low-273.15-3)+273.15))), "softening"
	case wet >= deep:
		return j.tooWet(), "air"
	}
	var deepest []float64
	for _, d := range j.draws {
		if d.Deepest > 0 {
			deepest = append(deepest, d.Deepest)
		}
	}
	return answer.Found(fact.Say("dry.too_deep", fact.Set("depth", quantity.Length, j.depth)),
		fact.Say("dry.spread_to", fact.About("depth", quantity.Length, answer.Quantile(deepest, 1-answer.SureShare)))), "depth"
}

// tooWet says how wet the air leaves the plastic, and which dryer would do.
func (j *dryJob) tooWet() answer.Finding {
	var rest, limit []float64
	for _, d := range j.draws {
		rest, limit = append(rest, d.rest), append(limit, d.limit)
	}
	why := fact.Say("dry.too_wet", fact.Name("polymer", j.polymer.Name), fact.About("rest", quantity.Share, answer.Quantile(rest, 0.5)), fact.About("limit", quantity.Share, answer.Quantile(limit, 0.5)))
	humidity := 1.0
	for i, row := range j.rows {
		if h, err := moisture.HumidityAtRest(sorptionOf(row), limit[i]); err == nil {
			humidity = math.Min(humidity, h)
		}
	}
	dew := fact.Parts("dew")
	if vapour, err := moisture.VapourPressure(j.air.Temperature, humidity); err == nil {
		if point, err := moisture.DewPoint(math.Max(vapour, 0.002)); err == nil {
			dew = fact.About("dew", quantity.Temperature, point)
		}
	}
	return answer.Found(why, fact.Say("dry.drier_air", fact.About("humidity", quantity.Humidity, humidity), fact.Set("at", quantity.Temperature, j.air.Temperature), dew.As("dew")))
}

// report states a drying that works.
func (j *dryJob) report(d Drying) (Drying, error) {
	d.Possible, d.Needed = true, true
	var err error
	if err = j.time(&d); err != nil {
		return d, err
	}
	if d.Open, err = j.open(d.Time.High); err != nil {
		return d, err
	}
	d.Dryer = j.with.Name
	d.steps = j.steps(d)
	if seen, err := moisture.SampleFor(j.state.Resolution(j.mass), d.Limit.Value); err == nil && seen > j.mass {
		d.doubts = append(d.doubts, answer.Found(fact.Say("dry.scale_too_coarse", fact.Set("digit", quantity.Mass, j.state.Resolution(j.mass)), fact.Figure("water", d.Limit), fact.Set("mass", quantity.Mass, j.mass)),
			fact.Say("dry.weigh_more", fact.About("mass", quantity.Mass, seen))))
	}
	d.charts, err = j.charts(d)
	return d, err
}

// open is how long what was dried for that time may lie spread in the room.
func (j *dryJob) open(time float64) (figure.Figure, error) {
	room, err := moisture.NewRoom(j.air.Room, j.air.Moist)
	if err != nil {
		return figure.Figure{}, err
	}
	var all []float64
	for i, row := range j.rows {
		x := j.draws[i]
		p := plasticOf(row, neverSoft, j.air.Room)
		now, err := j.left(row, x, time)
		if err != nil {
			return figure.Figure{}, err
		}
		if now > x.limit && now < x.limit*(1+1e-9) {
			now = x.limit // the draw the time was taken from: no last digit decides whether it is dry
		}
		grains, err := grainsOf(row)
		if err != nil {
			return figure.Figure{}, err
		}
		open, err := moisture.OpenTime(p, grains, room, moisture.Need{Now: now, Limit: x.limit})
		if err != nil {
			return figure.Figure{}, err
		}
		switch open.Standing {
		case moisture.WillPass:
			all = append(all, math.Floor(math.Min(open.Time, month))) // whole seconds: less says nothing
		case moisture.StaysDry:
			all = append(all, month)
		} // the few draws in which it is not dry by then are told by the time
	}
	if len(all) == 0 {
		all = []float64{0}
	}
	f, err := figure.FromDraws("open", "dry.open", quantity.Duration, all)
	return f.From("how.open", append(j.in(fDiffusivity, fWater, fSaturation, fTop), j.airFigures()[:2]...)...), err
}

// left is the water after a time in the dryer.
func (j *dryJob) left(row []float64, x dryDraw, time float64) (float64, error) {
	if x.start <= x.limit || !x.works() || x.Time == 0 {
		return x.start, nil
	}
	lot, err := j.grain(row)
	if err != nil {
		return 0, err
	}
	lost, err := lot.Lost(x.inGrains(time))
	return x.rest + (x.start-x.rest)*(1-lost), err
}

// inGrains is how far the grains alone are after a time in the dryer, before any
// stretching of the draw [s].
func (d dryDraw) inGrains(time float64) float64 {
	grain := d.InGrains(time)
	if d.stretch > 0 {
		grain /= d.stretch
	}
	return grain
}

// grain is the lot prepared at the dryer's temperature.
func (j *dryJob) grain(row []float64) (*moisture.Lot, error) {
	d, err := moisture.DiffusivityAt(plasticOf(row, neverSoft, j.air.Room), j.air.Temperature)
	if err != nil {
		return nil, err
	}
	grains, err := grainsOf(row)
	if err != nil {
		return nil, err
	}
	return moisture.NewLot(grains, moisture.Motion{Diffusivity: d, Transfer: math.Inf(1)})
}

func (j *dryJob) steps(d Drying) []answer.Action {
	time := d.Time // to plan for, shown as roughly as a forecast
	time.Low, time.Value = d.Time.Value, d.Time.High
	all := []answer.Action{
		{Do: fact.Say("dry.weigh_and_spread", fact.Figure("depth", d.Depth))},
		{Do: fact.Say("dry.set_and_wait", fact.Figure("at", d.Temperature)), Why: fact.Say("dry.second_thermometer")},
		{Do: fact.Say("dry.leave"), Why: fact.Say("dry.stir"), Takes: &time},
		{Do: fact.Say("do.record_drying", answer.Lot("lot", j.lot), fact.Name("way", string(j.req.Way))), Why: keep(d.Open)},
	}
	if j.lot.ID == "" {
		all[len(all)-1].Do = fact.Say("dry.into_a_jar")
	}
	if j.req.Way == shop.DesiccantBox {
		all = append(all, answer.Action{Do: fact.Say("dry.refresh")})
	}
	return all
}

// charts show the water over the time in the dryer.
func (j *dryJob) charts(d Drying) ([]answer.Chart, error) {
	rows := min(len(j.rows), chartDraws)
	x := make([]float64, 25)
	all := answer.Moments(len(x), rows)
	for m := range x {
		x[m] = 1.5 * d.Time.High * float64(m) / float64(len(x)-1)
	}
	for i := range rows {
		one := j.draws[i]
		if !one.works() || one.Time == 0 {
			for m := range x {
				all[m][i] = one.start
			}
			continue
		}
		lot, err := j.grain(j.rows[i])
		if err != nil {
			return nil, err
		}
		for m := range x {
			lost, err := lot.Lost(one.inGrains(x[m]))
			if err != nil {
				return nil, err
			}
			all[m][i] = one.rest + (one.start-one.rest)*(1-lost)
		}
	}
	c := answer.Chart{Key: "water", Title: "dry.chart", Summary: "dry.chart_sum", XName: "dry.axis_time", YName: "dry.axis_water",
		XKind: quantity.Duration, YKind: quantity.Share, XUnit: quantity.Duration.SI(), YUnit: quantity.Share.SI(),
		Curves: []answer.Curve{answer.Band("water", "dry.axis_water", x, all)},
		Lines:  []answer.Line{{Key: "moisture_limit", Name: "belief.moisture_limit", Value: d.Limit.Value}, {Key: "rest", Name: "dry.rest", Value: d.Rest.Value}}}
	c.Facts = []fact.Fact{fact.Figure("start", d.Start), fact.Figure("limit", d.Limit), fact.About("time", quantity.Duration, d.Time.High)}
	return []answer.Chart{c}, nil
}
