package fit

// How long a drying takes: what is reckoned, what the trade does, and how the two
// become one answer.

import (
	"math"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/polymer"
	"hopperful/quantity"
	"hopperful/shop"
)

// bookDoubt is how far the trade's hours may be off for this shop's grains, dryer
// and start, as the standard deviation of a logarithm: they are for pellets from
// an opened bag. Judgement.
const bookDoubt = 0.4

// surest is the doubt of what is reckoned of a drying nobody weighed were its
// diffusivity known, the same way: sizes, bed and start. Judgement.
const surest = 0.35

// time fills in how long it takes. Until the shop has weighed a drying of the
// lot, what is reckoned and the trade's hours are joined as two readings of one
// time; then its own weighings lead.
func (j *dryJob) time(d *Drying) error {
	forecast, err := figure.FromDraws("time_reckoned", "dry.time_reckoned", quantity.Duration, j.times())
	if err != nil {
		return err
	}
	forecast = forecast.From("how.time_reckoned",
		append([]figure.Figure{d.Start, d.Limit, d.Rest, d.Depth}, j.in(fDiffusivity, fEnergy, fUneven, fTop, fMean, fBulk)...)...).
		Cite("Crank1975", "diffusion in spheres, as cited in Polykin2024")
	forecast.Records = append(forecast.Records, j.beliefs[fDiffusivity].Records...)
	book, ok := j.book()
	inputs, how := []figure.Figure{forecast}, "how.time_alone"
	switch {
	case ok && j.beliefs[fDiffusivity].Runs == 0:
		j.join(book)
		inputs, how = append(inputs, book), "how.time_joined"
	case ok:
		how = "how.time_taught"
	}
	if d.Time, err = figure.FromDraws("time", "dry.time", quantity.Duration, j.times()); err != nil {
		return err
	}
	d.Time = d.Time.From(how, inputs...).Warn("mind.high_end")
	d.Time.Records = append(d.Time.Records, j.beliefs[fDiffusivity].Records...)
	d.Figures = append(d.Figures, forecast)
	if ok {
		d.Figures = append(d.Figures, book)
	}
	return nil
}

// times are the times of the draws that work.
func (j *dryJob) times() []float64 {
	var all []float64
	for _, x := range j.draws {
		if x.works() && x.Time > 0 {
			all = append(all, x.Time)
		}
	}
	return all
}

// book are the trade's hours, carried over to the dryer's temperature; false
// where there are none, or none for such a dryer.
func (j *dryJob) book() (figure.Figure, bool) {
	v, err := j.polymer.Value(polymer.DryingTime)
	if err != nil || j.req.Way == shop.DesiccantBox {
		return figure.Figure{}, false
	}
	f := v.Figure()
	f.Key, f.Name = "time_books", "dry.time_books"
	at, err := j.polymer.Value(polymer.DryingTemperature)
	if err != nil || math.Abs(at.Value-j.air.Temperature) < 0.5 {
		return f, true
	}
	energy := j.beliefs[fEnergy].Median
	factor := math.Exp(energy / gas * (1/j.air.Temperature - 1/at.Value))
	g := f
	g.Value, g.Low, g.High, g.Basis, g.Sources, g.Records = f.Value*factor, f.Low*factor, f.High*factor, figure.Reckoned, nil, nil
	g.Name = "dry.time_books_here"
	return g.From("how.time_books", f, at.Figure()), true
}

// gas is the molar gas constant [J/(mol K)], BIPM2019.
const gas = 8.314462618

// join moves the draws' times to where forecast and book meet: two log-normal
// readings of one time, weighed by how sure each is. Each draw meets its own draw
// of the book, so that the range is that of both together (own derivation).
func (j *dryJob) join(book figure.Figure) {
	d := j.beliefs[fDiffusivity]
	sd := math.Hypot(math.Log(d.High/d.Low)/(2*answer.Ninety), surest)
	doubt := math.Hypot(math.Log(book.High/book.Low)/(2*answer.Ninety), bookDoubt)
	w, v := 1/(sd*sd), 1/(doubt*doubt)
	for i := range j.draws {
		x := &j.draws[i]
		if !x.works() || x.Time <= 0 {
			continue
		}
		hours := math.Log(book.Value) + doubt*j.rows[i][fHours]
		by := math.Exp((w*math.Log(x.Time)+v*hours)/(w+v)) / x.Time
		x.Time, x.Grain, x.Bed, x.Air, x.Warm = x.Time*by, x.Grain*by, x.Bed*by, x.Air*by, x.Warm*by
		x.stretch = by
	}
}
