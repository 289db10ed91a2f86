package plan

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"hopperful/estimate"
	"hopperful/plan/answer"
	"hopperful/polymer"
	"hopperful/process/breakage"
	"hopperful/shop"
)

const (
	siftForecastDraws = 60
	siftForecastRuns  = 6 // the newest into the lot; more say the same
)

// siftRun is a run of a mill into the sieved lot.
type siftRun struct {
	*shop.Ground
	id    shop.RecordID
	mill  shop.MillState
	lot   *shop.Lot // the scrap
	plain polymer.Polymer
}

// siftTaught is what a mill's runs had taught before those under forecast: a
// forecast must not know what it is held against.
type siftTaught struct {
	log    *logbook
	fitted *estimate.Fitted
}

func siftTeach(s *shop.State, m shop.Mill, before shop.RecordID) (*siftTaught, error) {
	whole, err := readLog(s, m, 0)
	if err != nil {
		return nil, err
	}
	log, err := readLog(s, m, before)
	if err != nil {
		return nil, err
	}
	log.setup = whole.setup // it knows the run's polymer, too
	fitted, err := estimate.Fit(log.setup, log.runs)
	return &siftTaught{log, fitted}, err
}

// forecast is what the breakage model says the sieved product should be, as a
// band: the run it came out of, or the newest runs into its lot. why says what
// stands in the way where runs are on record.
func (f *sifting) forecast(at []float64) (c *answer.Curve, why string, err error) {
	runs, why, err := f.runs()
	if len(runs) == 0 || err != nil {
		return nil, why, err
	}
	x := forecastSizes(at, runs)
	sum := answer.Table(siftForecastDraws, len(x)) // mass finer, a draw
	total := make([]float64, siftForecastDraws)
	taught := map[string]*siftTaught{}
	for _, r := range runs {
		if taught[r.mill.Name] == nil && !f.opt.Books {
			if taught[r.mill.Name], err = siftTeach(f.state, r.mill.Mill, runs[len(runs)-1].id); err != nil {
				return nil, "", fmt.Errorf("learning from the runs of %s: %w", r.mill.Name, err)
			}
		}
		if err := r.add(taught[r.mill.Name], x, sum, total); err != nil {
			return nil, "", fmt.Errorf("the forecast of the run on %s: %w", r.mill.Name, err)
		}
	}
	shares := answer.Table(len(x), siftForecastDraws)
	for i := range sum {
		for m := range x {
			if total[i] > 0 {
				shares[m][i] = math.Min(1, sum[i][m]/total[i])
			}
		}
	}
	curve := answer.Band("forecast", "forecast of the run", x, shares)
	return &curve, "", nil
}

// runs are those the forecast is made of.
func (f *sifting) runs() (runs []siftRun, why string, err error) {
	if f.stack.Lot == "" {
		return nil, "", nil
	}
	materials, err := f.state.Table()
	if err != nil {
		return nil, "", err
	}
	for _, r := range slices.Backward(f.state.Records) {
		g, ok := r.Body.(*shop.Ground)
		if !ok || f.stack.Run != 0 && r.ID != f.stack.Run || f.stack.Run == 0 && g.Into != f.stack.Lot || len(runs) == siftForecastRuns {
			continue
		}
		one := siftRun{Ground: g, id: r.ID, lot: f.state.Lots[g.From]}
		if one.mill, ok = f.state.Mill(g.Mill); !ok || one.lot == nil {
			continue
		}
		if one.plain, err = materials.Find(one.lot.Polymer); err != nil {
			return nil, "No forecast is drawn: nobody said which polymer was ground.", nil
		}
		if g.Level == nil && one.mill.Controller != nil && one.mill.Controller.Levels > 0 {
			return nil, "No forecast is drawn: the controller's level was not written down.", nil
		}
		runs = append(runs, one)
	}
	return runs, "", nil
}

// forecastSizes are the sieves and sizes between and around them.
func forecastSizes(at []float64, runs []siftRun) []float64 {
	lo, hi := at[0]/2, at[len(at)-1]
	for _, r := range runs {
		if h := r.holeOf(); h != nil {
			hi = math.Max(hi, 1.01**h)
		}
	}
	x := slices.Clone(at)
	const steps = 24
	for k := range steps + 1 {
		x = append(x, lo*math.Pow(hi/lo, float64(k)/steps))
	}
	slices.Sort(x)
	return slices.Compact(x)
}

func (r siftRun) holeOf() *float64 {
	if r.Hole != nil {
		return r.Hole
	}
	return r.mill.Screen.Hole
}

// add adds the run's product, draw by draw, to what is finer than each size.
func (r siftRun) add(taught *siftTaught, x []float64, sum [][]float64, total []float64) error {
	beliefs, err := believe(r.mill.Mill, r.plain, shop.Need{})
	if err != nil {
		return err
	}
	if r.Hole != nil {
		beliefs.Known(estimate.Hole, *r.Hole, 0, entered)
	}
	chance := rand.New(rand.NewPCG(answer.Seed, answer.Seed))
	var rows [][]float64
	if taught != nil {
		rows, err = taught.fitted.Draws(beliefs, taught.log.target(r.mill.Mill, r.plain), siftForecastDraws, chance)
	} else {
		rows, err = estimate.Hypercube(beliefs.List(), siftForecastDraws, chance)
	}
	if err != nil {
		return err
	}
	level := fullDraw(r.mill.Mill)
	if r.Level != nil && r.mill.Controller != nil {
		level = drawAt(r.mill.Mill, *r.Level)
	}
	b := &bench{mill: r.mill.Mill, rows: rows, beliefs: beliefs, levels: []draw{level}}
	b.largest, b.thickness = scrapSize([]scrapLot{{Lot: r.lot}}, r.mill.Mill)
	if b.grid, err = breakage.NewGrid(b.largest); err != nil {
		return err
	}
	return b.each(len(rows), func(m *breakage.Mill, i int) error {
		v, err := b.grind(m, rows[i], level, r.Charge, nil, []float64{r.Run}, true)
		if err != nil {
			return err
		}
		shares := make([]float64, len(x))
		if err := b.grid.Passing(v.passing, x, shares); err != nil {
			return err
		}
		for k, q := range shares {
			sum[i][k] += q * v.passed[0]
		}
		total[i] += v.passed[0]
		return nil
	})
}
