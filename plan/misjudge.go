package plan

import (
	"math"
	"math/rand/v2"
	"time"

	"hopperful/estimate"
)

// A plan's draws carry how far the models may be off at a setting: what they say
// of masses and warming is multiplied by it, and cut to what can be.

// mostThrough is the share of what is in the mill that passes the screen at the
// most: some always stays. Judgement.
const mostThrough = 0.995

// mostSpilt is the share of what is in the mill that is lost at the most. Judgement.
const mostSpilt = 0.03

// middleOfDay is the charge of the day that a campaign's are forecast as.
const middleOfDay = 3

// fewOwn is how many charges' own errors average in a campaign, at the least that
// is worth planning.
const fewOwn = 4

// know has the bench's draws say what the records do beyond the fit: how far the
// models may be off, how warm charges became that did no harm, and how warm the
// mill still is.
func (b *bench) know(known *lesson, seed uint64, now time.Time) error {
	if err := b.unsure(known, seed); err != nil {
		return err
	}
	b.walls = make([]float64, len(b.rows))
	chance := rand.New(rand.NewPCG(seed, seed+2))
	for i := range b.walls {
		b.walls[i] = innerOf(chance.NormFloat64())
	}
	lags := rand.New(rand.NewPCG(seed, seed+3))
	b.lags = make([]float64, len(b.rows))
	for i := range b.lags {
		b.lags[i] = lags.Float64()
	}
	b.peaks = make([]float64, len(b.rows))
	for i := range b.peaks {
		b.peaks[i] = peakSpread * math.Abs(chance.NormFloat64())
	}
	if err := b.harmless(known.log, known.target.Polymer, now); err != nil {
		return err
	}
	return b.leftWarm(known, now)
}

// unsure has the bench's draws carry the models' error.
func (b *bench) unsure(known *lesson, seed uint64) error {
	b.since = known.target.Since
	var err error
	if b.off, err = known.fitted.Discrepancy(known.target, b.rows, rand.New(rand.NewPCG(seed, seed+1))); err != nil {
		return err // few draws and all are held against the same runs on record
	}
	b.offFew = b.off.First(fewDraws)
	return nil
}

// at are the factors of the models' error for a campaign at a level.
func (b *bench) offAt(off *estimate.Discrepancy, d draw, mass, run float64, products []float64) estimate.Factors {
	return off.At(estimate.Setting{Charge: mass, Time: run, LevelShare: d.Share, ChargeOfDay: middleOfDay, Since: b.since, Charges: fewOwn, Products: products})
}

// offIn are the factors for a campaign to come, whose charges rise as far as those that
// were read did. Where a draw already has the models err as far upwards as a reading told
// it to, the reading has been heard and counts no second time. What was read cooler than a
// draw makes it tells of settings like it, and the less the further they are from there.
func (b *bench) offIn(off *estimate.Discrepancy, d draw, mass, run float64, products []float64) estimate.Factors {
	f := b.offAt(off, d, mass, run, products)
	_, near := b.practice.readSo(b.plastic, mass, run, d.Level)
	for i, here := range f.Charge {
		if b.rises[i] < 1 {
			f.Charge[i] *= math.Pow(b.rises[i], near)
			continue
		}
		f.Charge[i] = math.Max(here, math.Min(here*b.rises[i], b.told[i]))
	}
	return f
}

// misjudge puts the models' error into the runs of a first look at one time.
func (b *bench) misjudge(c *cell, k int, off *estimate.Discrepancy) {
	products := make([]float64, len(c.chain))
	for i := range products {
		products[i] = c.chain[i][0].passed[k] * (1 - b.rows[i][estimate.Dust])
	}
	c.off = append(c.off, b.offIn(off, c.d, c.mass, c.at[k], products))
	for i := range c.chain {
		v := &c.chain[i][0]
		v.passed[k], v.held[k] = split(v.passed[k], v.held[k], v.passed[k]+v.held[k], c.offBy(k, i, ofProduct), c.offBy(k, i, ofLeft))
		v.heat[k] = v.heat[k].times(c.offBy(k, i, ofCharge), c.offBy(k, i, ofHeat))
	}
}

// misjudgeChain puts the models' error into a settled campaign's charges, each of
// which meets what the one before left.
func (b *bench) misjudgeChain(c *cell) {
	if b.off == nil {
		return
	}
	last := len(c.at) - 1
	products := make([]float64, len(c.chain))
	for i := range products {
		products[i] = c.chain[i][0].passed[last] * (1 - b.rows[i][estimate.Dust])
	}
	f := b.offIn(b.off, c.d, c.mass, c.at[last], products)
	for range c.at {
		c.off = append(c.off, f)
	}
	for i := range c.chain {
		residue := 0.0
		for j := range c.chain[i] {
			v := &c.chain[i][j]
			thought := v.passed[last]
			passed, held := split(thought, v.held[last], c.mass+residue, f.Product[i], f.Left[i])
			for q := range v.passed {
				v.passed[q] *= passed / math.Max(thought, 1e-12)
				v.heat[q] = v.heat[q].times(f.Charge[i], f.Heat[i])
			}
			v.held[last], residue = held, held
		}
	}
}

// split is what passes and what stays of what is in the mill, where the models
// think of so much each and are off by these factors. The little rest is lost.
func split(passed, held, in, product, left float64) (through, stays float64) {
	whole := math.Max(passed+held, 1e-12)
	through = in * math.Min(passed/whole*product, mostThrough)
	return through, math.Min(math.Max(in*held/whole*left, in*(1-mostSpilt)-through), in-through)
}

// times multiplies what a run warms by itself: charge and wall.
func (w warmth) times(charge, wall float64) warmth {
	w.chargeOwn *= charge
	w.wallOwn *= wall
	return w
}

// modelShare is how many fifths of a forecast of the product the models have; the
// yield so far has the rest.
func (t campaign) modelShare() int {
	if len(t.off) == 0 {
		return 5
	}
	return min(max(int(math.Round(5*t.off[min(t.k, len(t.off)-1)].ModelShare)), 0), 5)
}
