package fit

import (
	"fmt"
	"math"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/process/moisture"
	"hopperful/quantity"
	"hopperful/shop"
)

// obstacle says why a dryer does not work in enough of the draws, and what would.
func (j *dryJob) obstacle() *answer.Block {
	hot, wet := j.portion(func(d dryDraw) bool { return d.hot }), j.portion(func(d dryDraw) bool { return d.wet })
	deep := j.portion(func(d dryDraw) bool { return d.deep })
	at := quantity.Temperature.Plain(j.air.Temperature)
	switch {
	case hot >= wet && hot >= deep:
		soft := j.softens()
		return &answer.Block{Limit: "softening", Why: fmt.Sprintf("At %s %s grains stick together; they soften at about %s.", at, j.polymer.Name, quantity.Temperature.Rough(soft.Median)),
			Nearest: fmt.Sprintf("Set %s or less.", quantity.Temperature.Plain(math.Floor(soft.Low-273.15-3)+273.15))}
	case wet >= deep:
		return j.tooWet()
	}
	var deepest []float64
	for _, d := range j.draws {
		if d.Deepest > 0 {
			deepest = append(deepest, d.Deepest)
		}
	}
	return &answer.Block{Limit: "depth of the heap", Why: fmt.Sprintf("A heap of %s is slower than its grains: it would stay wet below.", quantity.Length.Plain(j.depth)),
		Nearest: fmt.Sprintf("Spread it to %s or less, or take a dryer that blows air through.", quantity.Length.Rough(answer.Quantile(deepest, 1-answer.SureShare)))}
}

// tooWet says how wet the air leaves the plastic, and which dryer would do.
func (j *dryJob) tooWet() *answer.Block {
	var rest, limit []float64
	for _, d := range j.draws {
		rest, limit = append(rest, d.rest), append(limit, d.limit)
	}
	b := &answer.Block{Limit: "air of the dryer", Why: fmt.Sprintf("In this air %s keeps about %s of water, and the melt bears %s.", j.polymer.Name,
		quantity.Share.Rough(answer.Quantile(rest, 0.5)), quantity.Share.Rough(answer.Quantile(limit, 0.5)))}
	humidity := 1.0
	for i, row := range j.rows {
		if h, err := moisture.HumidityAtRest(sorptionOf(row), limit[i]); err == nil {
			humidity = math.Min(humidity, h)
		}
	}
	b.Nearest = fmt.Sprintf("The air at the granulate has to be below %s", quantity.Humidity.Rough(humidity))
	if vapour, err := moisture.VapourPressure(j.air.Temperature, humidity); err == nil {
		if dew, err := moisture.DewPoint(math.Max(vapour, 0.002)); err == nil {
			b.Nearest += fmt.Sprintf(", which at %s is a dew point of %s", quantity.Temperature.Plain(j.air.Temperature), quantity.Temperature.Rough(dew))
		}
	}
	b.Nearest += ": a dry-air dryer, a box with fresh desiccant, or a drier day."
	return b
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
	d.Answer = fmt.Sprintf("Dry %s %s at %s for %s, spread no deeper than %s; %s", j.what(), d.where(),
		d.Temperature.Shown(), quantity.Duration.Rough(d.Time.High), d.Depth.Shown(), keepWords(d.Open))
	d.Steps = j.steps(d)
	if seen, err := moisture.SampleFor(j.state.Resolution(j.mass), d.Limit.Value); err == nil && seen > j.mass {
		d.Spoilers = append(d.Spoilers, answer.Spoiler{What: fmt.Sprintf("A scale of %s cannot see %s of water in %s.", quantity.Mass.Plain(j.state.Resolution(j.mass)), d.Limit.Shown(), quantity.Mass.Plain(j.mass)),
			Remedy: fmt.Sprintf("It would take %s at once; a finer scale does, and a quiet strand without bubbles is a sign.", quantity.Mass.Rough(seen))})
	}
	d.Charts, err = j.charts(d)
	return d, err
}

// keepWords says how long what was dried may lie about.
func keepWords(open figure.Figure) string {
	switch {
	case open.Low >= month:
		return "in today's air it stays dry."
	case open.Value < 600:
		return fmt.Sprintf("keep it closed from then on: spread in the open it is too wet again within about %s.", quantity.Duration.Rough(math.Max(open.Value, 60)))
	}
	return fmt.Sprintf("then print it within %s, or keep it closed.", quantity.Duration.Rough(math.Max(open.Low, 60)))
}

func (j *dryJob) what() string {
	if j.lot.ID == "" {
		return "the " + j.polymer.Name
	}
	return answer.LotName(j.lot)
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
		p := plasticOf(row, math.Max(softening(j.polymer), j.air.Room+1), j.air.Room)
		now, err := j.left(row, x, time)
		if err != nil {
			return figure.Figure{}, err
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
	f, err := figure.FromDraws("open", "in the open until it is too wet again", quantity.Duration, all)
	return f.From("uptake of grains spread thin in the room's air; a closed jar lasts far longer, a month is as far as it is told", append(j.in(fDiffusivity, fWater, fSaturation, fTop), j.airFigures()[:2]...)...), err
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
	d, err := moisture.DiffusivityAt(plasticOf(row, row[fSoftening], j.air.Room), j.air.Temperature)
	if err != nil {
		return nil, err
	}
	grains, err := grainsOf(row)
	if err != nil {
		return nil, err
	}
	return moisture.NewLot(grains, moisture.Motion{Diffusivity: d, Transfer: math.Inf(1)})
}

func (j *dryJob) steps(d Drying) []answer.Step {
	all := []answer.Step{
		{Do: "Weigh it, and write the mass down."},
		{Do: fmt.Sprintf("Spread it no deeper than %s.", d.Depth.Shown())},
		{Do: fmt.Sprintf("Set %s and wait until the dryer shows it; check with a second thermometer that it stays below softening.", d.Temperature.Shown())},
		{Do: "Dry it; stir it once an hour.", Time: quantity.Duration.Rough(d.Time.High)},
		{Do: "Weigh it again warm, straight into a jar that closes, and record both masses: the next time is narrower."},
	}
	if j.req.Way == shop.DesiccantBox {
		all = append(all, answer.Step{Do: "Refresh the desiccant afterwards; spent, it dries nothing."})
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
	c := answer.Chart{Key: "water", Title: "How the water leaves", XName: "time in the dryer", YName: "water in the plastic",
		XKind: quantity.Duration, YKind: quantity.Share, XUnit: quantity.Duration.SI(), YUnit: quantity.Share.SI(),
		Curves: []answer.Curve{answer.Band("water", "water", x, all)},
		Lines:  []answer.Line{{Key: "moisture_limit", Name: "limit for the melt", Value: d.Limit.Value}, {Key: "rest", Name: "what this air leaves", Value: d.Rest.Value}}}
	c.Summary = fmt.Sprintf("It falls from about %s; below %s after %s in nine of ten cases.", d.Start.Shown(), d.Limit.Shown(), quantity.Duration.Rough(d.Time.High))
	return []answer.Chart{c}, nil
}
