package plan

import (
	"math/rand/v2"
	"slices"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/quantity"
	"hopperful/shop"
)

// compareDraws are the draws a single run is forecast with.
const compareDraws = 200

// Compare holds a charge against what the records before it foretold: the forecast a
// plan would have made at that moment. Every room that sets a run beside its forecast
// asks here.
func Compare(s *shop.State, id shop.RecordID) (Compared, error) {
	r, ok := s.Record(id)
	if !ok {
		return Compared{}, shop.Refuse(shop.NotFound, "record", fact.Say("learn.no_record", fact.Count("record", int(id))), fact.Saying{})
	}
	body, ok := r.Body.(*shop.Ground)
	if !ok {
		return Compared{}, shop.Refuse(shop.Invalid, "record", fact.Say("learn.no_run", fact.Count("record", int(id))), fact.Say("learn.only_runs"))
	}
	m, ok := s.Mill(body.Mill)
	if !ok {
		return Compared{}, noMill(s, body.Mill)
	}
	at, _ := s.Records.Place(id)
	whole, err := readUpto(s, m.Mill, at+1) // it knows the run's polymer, too
	if err != nil {
		return Compared{}, err
	}
	before := *whole
	before.runs = slices.DeleteFunc(slices.Clone(whole.runs), func(run estimate.Run) bool { return run.Record == int64(id) })
	fitted, err := before.fit()
	if err != nil {
		return Compared{}, err
	}
	c := Compared{Record: int64(id), At: r.At, Stalled: body.Stalled, Runs: len(before.runs) - len(fitted.Skipped), Read: []Readback{}}
	for _, run := range whole.runs {
		if run.Record == int64(id) {
			c.Far = !run.Stalled && run.Load.Watts > 0 && !fitted.Supported(run)
			return c, c.against(fitted, run)
		}
	}
	return c, nil
}

// against fills in forecast and actual of a run.
func (c *Compared) against(f *estimate.Fitted, run estimate.Run) error {
	chance := rand.New(rand.NewPCG(answer.Seed, answer.Seed))
	all, err := f.Expect(run, compareDraws, chance)
	if err != nil {
		return err
	}
	for _, e := range all {
		as, ok := reads[e.Of]
		if !ok {
			continue
		}
		forecast, err := figure.FromDraws(as.key, as.name, as.kind, notBelow(e.Draws, as.kind))
		if err != nil {
			return err
		}
		forecast.Basis = figure.Books
		if c.Runs > 0 {
			forecast = forecast.LearnedFrom(c.Runs)
		}
		actual := figure.Exact(as.key, as.name, as.kind, e.Value, figure.Measured)
		actual.Records = []int64{run.Record}
		c.Read = append(c.Read, Readback{Forecast: forecast, Actual: actual, Inside: e.Value >= forecast.Low && e.Value <= forecast.High})
	}
	return nil
}

// notBelow keeps masses and energies from going below nothing.
func notBelow(draws []float64, kind quantity.Kind) []float64 {
	if kind != quantity.Mass && kind != quantity.Energy {
		return draws
	}
	for i, v := range draws {
		draws[i] = max(v, 0)
	}
	return draws
}
