package study

import (
	"fmt"
	"math"
	"time"

	"hopperful/internal/study/outside"
	"hopperful/plan"
	"hopperful/shop"
)

// What the study asks of the program, each in one place.

// foreseen is what the program says of a run to come; a quantity it does not
// speak of is not in it.
type foreseen struct {
	said map[string]said
	far  bool // it says that nothing on record supports it
}

// said is a forecast and its 10–90 % range.
type said struct{ low, mid, high float64 }

// The quantities that are scored.
const (
	ofProduct = "product"
	ofWall    = "wall_after"
	ofCharge  = "charge_after"
	ofEnergy  = "energy"
	ofD50     = "d50"
	ofFines   = "fines"
	ofPencil  = "pencil" // the product, by charge × median yield so far
)

// Kinds are the quantities that rows are of.
func Kinds() []string {
	return []string{ofPencil, ofProduct, ofWall, ofCharge, ofEnergy, ofD50, ofFines}
}

// foresee asks what a run that begins cold will come to: the forecast that the
// program shows beside a run just entered, which does not know its readings.
func (m *maker) foresee(set outside.Setting, sizes bool) (foreseen, error) {
	g := m.begin(set)
	g.Into = ""
	room := m.mill.Face.Room // readings that nobody would ask about
	g.Product, g.Left = known(0.8*set.Charge), known(0.15*set.Charge)
	g.WallAfter, g.ChargeAfter, g.Energy = known(room+4), known(room+8), known(0.2*m.mill.Face.Rated*set.Time)
	g.Room, g.WallBefore = known(room), known(room)
	next, err := m.state.With(shop.Record{At: m.at.Add(24 * time.Hour), Body: &g})
	if err != nil {
		return foreseen{}, fmt.Errorf("asking for a forecast: %w", err)
	}
	id := next.Newest().ID
	if len(next.AsksOf(id)) > 0 {
		if next, err = next.With(shop.Record{At: next.Last, Body: &shop.Confirmed{Record: id}}); err != nil {
			return foreseen{}, fmt.Errorf("asking for a forecast: %w", err)
		}
	}
	c, err := plan.Compare(next, id)
	if err != nil {
		return foreseen{}, fmt.Errorf("forecast: %w", err)
	}
	f := foreseen{said: map[string]said{}, far: c.Far}
	for _, r := range c.Read {
		f.said[r.Forecast.Key] = said{r.Forecast.Low, r.Forecast.Value, r.Forecast.High}
	}
	if sizes {
		if err := f.sizes(next, id); err != nil {
			return f, fmt.Errorf("forecast of sizes: %w", err)
		}
	}
	return f, nil
}

// sizes asks what the product of a run is like.
func (f foreseen) sizes(s *shop.State, id shop.RecordID) error {
	r, _ := s.Record(id)
	g := r.Body.(*shop.Ground)
	m, _ := s.Mill(g.Mill)
	scrap, _ := s.Lot(g.From)
	table, err := s.Table()
	if err != nil {
		return err
	}
	p, err := table.Find(scrap.Polymer)
	if err != nil {
		return err
	}
	openings := spaced(0.0001, 0.005, 40)
	shares, err := plan.ProductSizes(s, []plan.Run{{Ground: g, ID: id, Mill: m, Scrap: scrap, Polymer: p}}, append(openings, 0.0005), false)
	if err != nil {
		return err
	}
	f.said[ofFines] = rangeOf(shares[len(openings)])
	halves := make([]float64, len(shares[0]))
	for i := range halves {
		halves[i] = half(openings, func(k int) float64 { return shares[k][i] })
	}
	f.said[ofD50] = rangeOf(halves)
	return nil
}

// half is the size that half is finer than, straight in its logarithm between two
// openings.
func half(openings []float64, finer func(k int) float64) float64 {
	for k := range openings {
		if finer(k) < 0.5 {
			continue
		}
		if k == 0 {
			return openings[0]
		}
		below := finer(k - 1)
		return openings[k-1] * math.Pow(openings[k]/openings[k-1], (0.5-below)/(finer(k)-below))
	}
	return openings[len(openings)-1]
}

// changed asks whether the mill has changed, and since which record.
func (m *maker) changed() (shop.RecordID, bool, error) {
	l, err := plan.Learn(m.state, millName)
	if err != nil || l.Changed == nil {
		return 0, false, err
	}
	return shop.RecordID(l.Changed.Since), true, nil
}
