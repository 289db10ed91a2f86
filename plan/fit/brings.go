package fit

import (
	"math"
	"math/rand/v2"
	"time"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/polymer"
	"hopperful/process/metal"
	"hopperful/process/moisture"
	"hopperful/quantity"
	"hopperful/shop"
)

// bringDraws are the cases drawn of a lot that was dried; others need none.
const bringDraws = 40

// Brings reckons what lots bring into a blend as the check of a single lot does:
// their water, and the metal left in them.
type Brings struct {
	state  *shop.State
	table  *polymer.Table
	now    time.Time
	dryers map[string]dryAir // by polymer
}

// dryAir is the dryer a polymer is dried in, and how dry it keeps the granulate.
type dryAir struct {
	way      shop.Way
	humidity float64 // relative, at the granulate [1]
}

// NewBrings reckons for lots as they are now. What is dried is taken to be dried as
// [Dry] says of its polymer.
func NewBrings(s *shop.State, now time.Time) (*Brings, error) {
	b := &Brings{state: s, now: now, dryers: map[string]dryAir{}}
	if now.IsZero() {
		b.now = s.Last
	}
	var err error
	b.table, err = s.Table()
	return b, err
}

// In is the dryer a polymer is dried in, as part of a sentence.
func (b *Brings) In(p polymer.Polymer) fact.Saying { return In(b.dryer(p).way) }

// Water is the water in a lot.
type Water struct {
	Now   figure.Figure
	Dried figure.Figure // after the drying its polymer wants; no more than now
	Rest  float64       // what that drying leaves after any time [1]
	Wants float64       // what the polymer wants [1]
}

// Water is what is in a lot now, and once it is dried as its polymer wants: to
// the highest moisture for the melt, or what the dryer leaves. Nil where nothing
// is known of the polymer's water.
func (b *Brings) Water(lot *shop.Lot) (*Water, error) {
	p, err := b.table.Find(lot.Polymer)
	if err != nil { // an unknown polymer
		return nil, nil
	}
	j := &job{state: b.state, req: Request{Now: b.now}, lot: lot, polymer: p, table: b.table}
	j.beliefs = prior()
	j.believeMaterial()
	now, err := b.waterNow(j)
	if err != nil || now == nil {
		return nil, err
	}
	limit := j.beliefs[fDryLimit].Median
	humidity := b.dryer(p).humidity
	water := j.beliefs[fWater]
	rest := func(room float64) float64 {
		row := j.medians()
		row[fWater] = room
		v, err := moisture.EquilibriumWater(sorptionOf(row), humidity)
		if err != nil {
			return room
		}
		return v
	}
	after := func(now, room float64) float64 {
		return math.Min(now, math.Max(limit, rest(room)))
	}
	w := &Water{Now: *now, Rest: rest(water.Median), Wants: limit}
	w.Dried = figure.Exact("water_dried", "fit.water_dried", quantity.Share, after(now.Value, water.Median), figure.Reckoned).
		From("how.water_dried", *now)
	w.Dried.Low, w.Dried.High = after(now.Low, water.Low), after(now.High, water.High)
	w.Dried.Sources, w.Dried.Records = append(w.Dried.Sources, water.Source), now.Records
	return w, nil
}

// waterNow is at rest with the room's air where it was never dried; else drawn,
// from its dryings and the time since. Nil where the books are silent and nothing
// was weighed.
func (b *Brings) waterNow(j *job) (*figure.Figure, error) {
	if _, dried := j.state.DriedLast(j.lot.ID); !dried {
		water := j.beliefs[fWater]
		if !j.knowsWater() {
			return nil, nil
		}
		row := j.medians()
		f := figure.Exact("water", "fit.water_now", quantity.Share, j.wet(row), figure.Reckoned).From("how.water_at_rest")
		row[fWater] = water.Low
		f.Low = j.wet(row)
		row[fWater] = water.High
		f.High = j.wet(row)
		f.Sources = append(f.Sources, water.Source)
		return &f, nil
	}
	j.facts = lotFacts{lot: j.lot}
	j.facts.ground(j.state, append(j.state.Ancestors(j.lot.ID), j.lot.ID))
	if err := j.believeLot(); err != nil {
		return nil, err
	}
	if err := j.believeDry(); err != nil {
		return nil, err
	}
	if !j.knowsWater() {
		return nil, nil
	}
	rows, err := estimate.Hypercube(j.beliefs[:], bringDraws, rand.New(rand.NewPCG(answer.Seed, answer.Seed)))
	if err != nil {
		return nil, err
	}
	draws := make([]float64, len(rows))
	for i, row := range rows {
		if draws[i], err = j.water(row); err != nil {
			return nil, err
		}
	}
	f, err := figure.FromDraws("water", "fit.water_now", quantity.Share, draws)
	if err != nil {
		return nil, err
	}
	f = f.From("how.water_since")
	for _, e := range j.state.Dryings(j.lot.ID) {
		f.Records = append(f.Records, int64(e.ID))
	}
	return &f, nil
}

// knowsWater reports whether the books say what the polymer takes up, or a drying
// was weighed.
func (j *job) knowsWater() bool {
	water, saturation := j.beliefs[fWater], j.beliefs[fSaturation]
	return water.Runs > 0 || !water.Assumed && !saturation.Assumed
}

// dryer is the dryer of a polymer. One that cannot be dries nothing.
func (b *Brings) dryer(p polymer.Polymer) dryAir {
	if done, ok := b.dryers[p.Name]; ok {
		return done
	}
	_, out := (&job{state: b.state}).room()
	one := dryAir{humidity: out}
	if d, err := Dry(b.state, DryRequest{Polymer: p.Name, Now: b.now, Draws: bringDraws}); err == nil && !d.Barred {
		one.way = d.Way
		if dryer, err := d.air.Dryer(); err == nil {
			if rh, err := moisture.RelativeHumidity(dryer.Temperature, dryer.Vapour); err == nil {
				one.humidity = rh
			}
		}
	}
	b.dryers[p.Name] = one
	return one
}

// Metal is the metal left in a lot by mass, after the magnets it went by. Nil
// where nobody let it over a magnet and it was not bought as granulate.
func (b *Brings) Metal(lot *shop.Lot) (*figure.Figure, error) {
	j := &job{state: b.state, req: Request{Now: b.now}, lot: lot}
	j.facts = lotFacts{lot: lot, metal: lot.Metal}
	j.facts.magnets, j.facts.magnet = magnetPasses(b.state, lot.ID, map[shop.LotID]bool{})
	j.beliefs = prior()
	if lot.Class == shop.Virgin {
		j.virgin()
	}
	if err := j.metal(); err != nil {
		return nil, err
	}
	wear := j.beliefs[fWear]
	if lot.Class != shop.Virgin && !j.facts.magnet && wear.Runs == 0 && lot.Metal == "" {
		return nil, nil
	}
	parts := wearParts
	if lot.Metal != "" {
		parts = insertParts
	}
	stays, err := metal.StaysIn(parts, min(j.facts.magnets, 20))
	if err != nil {
		return nil, err
	}
	f := figure.Exact("metal", "fit.metal_left", quantity.Share, wear.Median*stays.Share, figure.Reckoned).
		From("how.metal_left", j.in(fWear)...).Cite("Bunting2016", "which metals a magnet catches")
	// Wear and magnet err by themselves: their ranges add by squares, on the logarithm.
	f.Low = f.Value * math.Exp(-math.Hypot(math.Log(wear.Median/wear.Low), math.Log(stays.Share/stays.Low)))
	f.High = f.Value * math.Exp(math.Hypot(math.Log(wear.High/wear.Median), math.Log(stays.High/stays.Share)))
	f.Records = wear.Records
	return &f, nil
}
