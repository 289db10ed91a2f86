package plan

import (
	"fmt"
	"math"
	"math/rand/v2"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/polymer"
	"hopperful/process/breakage"
	"hopperful/shop"
)

// productDraws is how many draws a product's sizes are forecast with.
const productDraws = 60

// Run is a run on record, with what it was made of.
type Run struct {
	*shop.Ground
	ID      shop.RecordID
	Mill    shop.MillState
	Scrap   *shop.Lot
	Polymer polymer.Polymer
}

// taught is what a mill's runs had taught before those under forecast: a
// forecast must not know what it is held against.
type taught struct {
	log    *logbook
	fitted *estimate.Fitted
}

func teach(s *shop.State, m shop.Mill, runs []Run) (*taught, error) {
	log, err := readLog(s, m, runs[len(runs)-1].ID)
	if err != nil {
		return nil, err
	}
	for _, r := range runs { // it knows their polymers, too
		if _, _, err := log.believed(s, m, r.From); err != nil {
			return nil, err
		}
	}
	fitted, err := log.fit()
	return &taught{log, fitted}, err
}

// ProductSizes forecasts what those runs, newest first, gave together: the share
// finer than each size, a row of draws a size. From books alone it is there at
// once; else the mills' earlier runs are learned from.
func ProductSizes(s *shop.State, runs []Run, sizes []float64, books bool) ([][]float64, error) {
	sum := answer.Moments(productDraws, len(sizes)) // mass finer, a draw
	total := make([]float64, productDraws)
	mills := map[string]*taught{}
	for _, r := range runs {
		if mills[r.Mill.Name] == nil && !books {
			var err error
			if mills[r.Mill.Name], err = teach(s, r.Mill.Mill, runs); err != nil {
				return nil, fmt.Errorf("learning from the runs of %s: %w", r.Mill.Name, err)
			}
		}
		if err := r.product(mills[r.Mill.Name], sizes, sum, total); err != nil {
			return nil, fmt.Errorf("the forecast of the run on %s: %w", r.Mill.Name, err)
		}
	}
	shares := answer.Moments(len(sizes), productDraws)
	for i := range sum {
		for m := range sizes {
			if total[i] > 0 {
				shares[m][i] = math.Min(1, sum[i][m]/total[i])
			}
		}
	}
	return shares, nil
}

// product adds the run's product, draw by draw, to what is finer than each size.
func (r Run) product(learned *taught, sizes []float64, sum [][]float64, total []float64) error {
	beliefs, err := believe(r.Mill.Mill, r.Polymer, shop.Need{})
	if err != nil {
		return err
	}
	if r.Hole != nil {
		beliefs.Known(estimate.Hole, *r.Hole, 0, entered)
	}
	chance := rand.New(rand.NewPCG(answer.Seed, answer.Seed))
	if learned == nil { // from books alone
		log := &logbook{setup: estimate.Setup{Area: wallArea(chamberOf(r.Mill.Mill)), Chamber: chamberOf(r.Mill.Mill)}}
		learned = &taught{log: log}
		if learned.fitted, err = log.fit(); err != nil {
			return err
		}
	}
	target := learned.log.target(r.Mill.Mill, r.Polymer)
	rows, err := learned.fitted.Draws(beliefs, target, productDraws, chance)
	if err != nil {
		return err
	}
	off, err := learned.fitted.Discrepancy(target, rows, chance)
	if err != nil {
		return err
	}
	level := fullDraw(r.Mill.Mill)
	if r.Level != nil && r.Mill.Controller != nil {
		level = drawAt(r.Mill.Mill, *r.Level)
	}
	grown := off.At(estimate.Setting{Charge: r.Charge, Time: r.Ground.Run, LevelShare: level.Share, ChargeOfDay: 1, Since: learned.log.since})
	b := &bench{mill: r.Mill.Mill, rows: rows, beliefs: beliefs, levels: []draw{level}}
	b.largest, b.thickness = scrapSize([]scrapLot{{Lot: r.Scrap}}, r.Mill.Mill)
	if b.grid, err = breakage.NewGrid(b.largest); err != nil {
		return err
	}
	return b.each(len(rows), func(m *breakage.Mill, from, to int) error {
		v, err := b.grind(m, rows[from], level, r.Charge, nil, []float64{r.Ground.Run}, true)
		if err != nil {
			return err
		}
		shares, model := make([]float64, len(sizes)), make([]float64, len(sizes))
		for i := from; i < to; i++ {
			for k, size := range sizes {
				model[k] = grown.Modelled(i, size)
			}
			if err := b.grid.Passing(v.passing, model, shares); err != nil {
				return err
			}
			for k, q := range shares {
				sum[i][k] += q * v.passed[0]
			}
			total[i] += v.passed[0]
		}
		return nil
	})
}
