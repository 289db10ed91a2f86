package fit

import (
	"errors"
	"math"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/plan/traceability"
	"hopperful/polymer"
	"hopperful/process/metal"
	"hopperful/process/screw"
	"hopperful/process/sieve"
	"hopperful/shop"
	"hopperful/source"
)

// believeMaterial puts a polymer's table into the beliefs.
func (j *job) believeMaterial() {
	b, p := &j.beliefs, j.polymer
	for _, w := range []struct {
		property polymer.Property
		param    param
	}{
		{polymer.Density, fSolid}, {polymer.BulkChips, fBulk}, {polymer.WaterRoom, fWater}, {polymer.WaterActivation, fEnergy}, {polymer.SpecificHeatSolid, fSpecific},
		{polymer.WaterDiffusivity, fDiffusivity}, {polymer.MoistureLimit, fDryLimit}, {polymer.MeltCeiling, fCeiling}, {polymer.MeltLow, fFloor},
	} {
		b.fromTable(p, w.property, w.param)
	}
	if v, err := p.Value(polymer.WaterSaturated); err == nil && !b[fWater].Assumed {
		one, r := &b[fSaturation], math.Max(v.Value/b[fWater].Median, leastSaturation)
		one.Median, one.Low, one.High = r, math.Max(r/1.2, leastSaturation/1.01), r*1.2 // another grade, another curve; judgement
		one.Source, one.Assumed = v.Source, v.Figure().Basis == figure.Assumed
	}
	if j.lot.Class == shop.Virgin {
		b.fromTable(p, polymer.BulkPellets, fBulk)
	}
	room, _ := j.room()
	m, err := p.Melting(room, j.temperature)
	if err != nil {
		return // the wide range stands
	}
	if heat, err := polymer.HeatToMelt(m); err == nil {
		one := &b[fHeat]
		one.Median, one.Low, one.High = heat, heat/1.12, heat*1.12
		one.Assumed, one.Source = false, source.Cite("own derivation", "heat to warm and melt, docs/models/polymer.md")
	}
}

// leastSaturation is the least that saturated air gives over air of 50 %RH.
const leastSaturation = 1.05

// believePrinter puts in what the owner said of the printer.
func (j *job) believePrinter() {
	b, p := &j.beliefs, j.printer
	b.know(fNozzle, p.Nozzle)
	b.know(fNozzle, j.req.Nozzle)
	b.know(fScrew, p.ScrewBore)
	b.know(fHeaters, p.HeaterWatt)
	if p.IdleWatt != nil {
		loss := math.Max(*p.IdleWatt-electronics, 1)
		b.observe(fBarrel, loss, loss/1.2, loss*1.2) // a plug-in meter, and what the electronics take of it; judgement
		b[fBarrel].FromUser = true
	}
	if v, own := j.state.Shop.Limit(shop.MostPressure); own {
		b.know(fMostPressure, &v)
	}
	one := &b[fBorne]
	one.Median, one.Low, one.High, one.FromUser = j.borne.Median, j.borne.Low, j.borne.High, j.borne.Own
	one.Records, one.Runs, one.Assumed = j.borne.Records, j.borne.Prints, j.borne.Prints == 0 && !j.borne.Own
	b.know(fExit, p.HopperExit)
	if p.PerTurn != nil {
		b.observe(fPerTurn, *p.PerTurn, *p.PerTurn/1.15, *p.PerTurn*1.15) // another lot feeds differently; judgement
		b[fPerTurn].FromUser = true
	}
}

// electronics is what a printer takes at the socket beside its barrel [W]. Judgement.
const electronics = 10.0

// barrelLoss is what the barrel loses at the temperature of the melt in a draw; a
// measured idle power holds at the printer's usual one.
func (j *job) barrelLoss(row []float64, kelvin float64) float64 {
	room, _ := j.room()
	at := screw.BarrelLossOver
	if j.printer.IdleWatt != nil {
		at = math.Max(j.temperature-room, 10)
	}
	loss, err := screw.BarrelLoss(math.Min(row[fBarrel], 1e4), at, math.Min(math.Max(kelvin-room, 0), 500))
	if err != nil {
		return row[fBarrel] // no draw of a barrel is that far off
	}
	return loss
}

// believeNeed puts in what is known of the print.
func (j *job) believeNeed() {
	b, n := &j.beliefs, j.req.Need
	if n.MeanFlow != nil && *n.MeanFlow > 0 {
		b.know(fFlow, n.MeanFlow)
		if n.PeakFlow != nil {
			ratio := math.Max(1, *n.PeakFlow / *n.MeanFlow)
			b.know(fPeak, &ratio)
		}
		return
	}
	if n.PeakFlow != nil && *n.PeakFlow > 0 {
		mean := *n.PeakFlow / pressurePeak
		b.know(fFlow, &mean)
		return
	}
	// A line 1.2 nozzles wide and half a nozzle high at 30 mm/s.
	bore := b[fNozzle].Median
	mean := 1.2 * 0.5 * bore * bore * 0.03
	f := &b[fFlow]
	f.Median, f.Low, f.High = mean, mean*0.5, mean*2
}

// believeLot puts in what is known of the lot: how sure, its sizes, bulk
// density, metal and past.
func (j *job) believeLot() error {
	b, f := &j.beliefs, j.facts
	b.know(fSure, f.lot.Sure)
	if f.lot.Class == shop.Virgin {
		j.virgin()
	}
	if f.hole != nil {
		one := &b[fTop]
		one.Median, one.Low, one.High = 0.85**f.hole, 0.65**f.hole, 1.0**f.hole
		one.Source = source.Cite("judgement", "most grains are a little smaller than the hole they came through")
	}
	if err := j.sized(); err != nil {
		return err
	}
	j.weighedInJars()
	return j.metal()
}

// PelletFines is the dust in bought granulate [1]. Judgement.
const PelletFines = 0.002

// virgin is bought granulate: pellets without dust or wear metal.
func (j *job) virgin() {
	b := &j.beliefs
	for _, w := range []struct {
		param             param
		median, low, high float64
	}{{fTop, 3.6e-3, 2.8e-3, 4.8e-3}, {fFines, PelletFines, 0.0005, 0.01}, {fMean, 0.85, 0.75, 0.93}, {fWear, 0.05e-6, 0.005e-6, 0.5e-6}} {
		one := &b[w.param]
		one.Median, one.Low, one.High = w.median, w.low, w.high
		one.Source.Place = "bought pellets"
	}
}

// sized takes the newest sieve analysis, and the dust taken off since.
func (j *job) sized() error {
	b := &j.beliefs
	all := j.state.Sievings(j.lot.ID)
	if len(all) == 0 {
		return nil
	}
	e := all[0]
	a, err := traceability.Analysis(e.Body)
	if err != nil {
		return nil // an analysis nobody can read says nothing; the sieve's own page tells why
	}
	top, err := upTo(a, 0.95)
	if err != nil {
		return err
	}
	b.observe(fTop, top, top/1.06, top*1.06, int64(e.ID))
	fines, err := traceability.DustLeft(j.lot, e)
	if err != nil {
		return err
	}
	fines = math.Min(math.Max(fines, 1e-4), 0.99)
	b.observe(fFines, fines, fines/1.25, math.Min(fines*1.25, 0.995), int64(e.ID))
	if mid, err := upTo(a, 0.5); err == nil && mid < top {
		ratio := mid / top
		b.observe(fMean, ratio, ratio/1.05, math.Min(ratio*1.05, 0.999), int64(e.ID))
	}
	return nil
}

// upTo is the size a share is finer than; in an open class its edge stands in,
// half as large again above the top sieve.
func upTo(d sieve.Discrete, share float64) (float64, error) {
	x, err := d.Quantile(share)
	var beyond *sieve.BeyondError
	if errors.As(err, &beyond) {
		if beyond.Side == "above" {
			return 1.5 * beyond.Edge, nil
		}
		return beyond.Edge, nil
	}
	return x, err
}

// weighedInJars takes bulk densities weighed in jars, but not those that cannot
// be: they are asked about instead.
func (j *job) weighedInJars() {
	b := &j.beliefs
	var logs []float64
	var ids []int64
	for _, e := range j.state.JarWeighings(j.lot.ID) {
		if j.questionJar(e) {
			continue
		}
		logs, ids = append(logs, math.Log(e.Body.Bulk())), append(ids, int64(e.ID))
	}
	if len(logs) == 0 {
		return
	}
	mean, spread := meanAndSpread(logs)
	spread = math.Max(spread, 0.03) / math.Sqrt(float64(len(logs))) // a jar is poured to within 3 %; judgement
	mid := math.Exp(mean)
	b.observe(fBulk, mid, mid*math.Exp(-answer.Ninety*spread), mid*math.Exp(answer.Ninety*spread), ids...)
}

func meanAndSpread(x []float64) (mean, spread float64) {
	for _, v := range x {
		mean += v / float64(len(x))
	}
	for _, v := range x {
		spread += (v - mean) * (v - mean)
	}
	if len(x) > 1 {
		spread = math.Sqrt(spread / float64(len(x)-1))
	}
	return mean, spread
}

// metal takes what hung on the magnet as a reading of the wear, and cut or
// uncut inserts as they are.
func (j *job) metal() error {
	b, f := &j.beliefs, j.facts
	if f.metal != "" {
		one := &b[fWear]
		one.Median, one.Low, one.High = 500e-6, 50e-6, 5000e-6
		one.Source = source.Cite("judgement", "metal was seen in it and never cut out")
		return nil
	}
	for _, e := range j.state.MagnetPasses(f.lot.ID) {
		mass := f.lot.In
		if e.Body.Passed != nil {
			mass = *e.Body.Passed
		}
		step := j.state.Resolution(e.Body.Metal)
		caught := math.Max(e.Body.Metal, step/2) // none seen is less than the scale's step
		if mass <= 0 || e.Body.Metal < step && caught/mass > b[fWear].Median {
			continue // a scale too coarse to tell
		}
		wear, err := metal.WearFromMagnet(metal.MagnetYield{Caught: caught, Ground: mass, Catch: 0.7})
		if err != nil {
			return err
		}
		b.narrow(fWear, math.Max(wear, 1e-9), 0.7, int64(e.ID)) // a factor of two: what else the magnet held; judgement
	}
	return nil
}
