package plan

import (
	"math"

	"hopperful/estimate"
	"hopperful/figure"
	"hopperful/quantity"
)

// sizes forecasts the size distribution of the campaign's product.
func (j *job) sizes(g *Grinding, t campaign) error {
	b := j.bench
	in := []figure.Figure{belief(&b.beliefs, estimate.Hole), belief(&b.beliefs, estimate.SizeExponent), belief(&b.beliefs, estimate.FineShare)}
	how := "plan.size_how"
	for _, q := range []struct {
		key, name string
		share     float64
	}{{"d10", "plan.d10", 0.1}, {"d50", "plan.d50", 0.5}, {"d90", "plan.d90", 0.9}} {
		f, err := b.over(q.key, q.name, quantity.Length, func(i int, _ []float64) float64 { return t.grain(t.k, i, b.sizeAt(b.product(t, i), q.share)) })
		if err != nil {
			return err
		}
		g.Figures = append(g.Figures, b.sized(f).From(how, in...))
	}
	fines, err := b.over("fines", "belief.fines", quantity.Share, func(i int, _ []float64) float64 { return t.fines[i] })
	if err != nil {
		return err
	}
	g.Figures = append(g.Figures, b.sized(fines).From("plan.fines_how", in...))
	return nil
}

// sized has a size rest on the books where no run told of sizes, whatever else the runs taught.
func (b *bench) sized(f figure.Figure) figure.Figure {
	if b.off != nil && b.off.SizesByBooks() {
		f.Basis, f.Runs = figure.Books, 0
	}
	return f
}

// product is the class masses that have passed the screen in the whole campaign.
func (b *bench) product(t campaign, i int) []float64 {
	sum := make([]float64, b.grid.Classes())
	for j := range t.charges {
		for c, m := range t.link(i, j).passing {
			sum[c] += m
		}
	}
	return sum
}

// sizeAt is the size below which a share of class masses lies. Grains stop at
// the hole, so a class it lies inside ends there.
func (b *bench) sizeAt(mass []float64, share float64) float64 {
	passing := []float64{0}
	lo, hi := math.Log(1e-6), math.Log(b.grid.Upper(0))
	for range 50 {
		mid := (lo + hi) / 2
		if b.grid.Passing(mass, []float64{math.Exp(mid)}, passing) != nil || passing[0] > share {
			hi = mid
		} else {
			lo = mid
		}
	}
	return math.Exp((lo + hi) / 2)
}

// energy states electricity, its cost, and what a kilogram takes.
func (j *job) energy(g *Grinding, t campaign) error {
	b := j.bench
	drawn := func(i int, row []float64) float64 { return b.electricity(row, t, i) }
	used, err := b.over("energy", "plan.energy", quantity.Energy, drawn)
	if err != nil {
		return err
	}
	used = used.From("plan.energy_how", g.Setting.Power, g.Setting.Run, g.Setting.Charges)
	each, err := b.over("specific_energy", "plan.specific_energy", quantity.SpecificEnergy, func(i int, row []float64) float64 {
		return drawn(i, row) / math.Max(b.produced(t.cell, i, t.k, t.charges), 1e-6)
	})
	if err != nil {
		return err
	}
	g.Figures = append(g.Figures, used, each.From("plan.specific_energy_how", used, g.Product))
	price := j.state.Shop.ElectricityPrice
	if price == nil {
		return nil
	}
	cost, err := b.over("energy_cost", "plan.energy_cost", quantity.Money, func(i int, row []float64) float64 { return *price * drawn(i, row) })
	if err != nil {
		return err
	}
	cost.Currency = j.state.Shop.Currency
	rate := figure.Exact("price", "plan.electricity_price", quantity.MoneyPerEnergy, *price, figure.Entered)
	rate.Currency = cost.Currency
	g.Figures = append(g.Figures, cost.From("plan.energy_cost_how", used, rate))
	return nil
}

// electricity is what a draw's campaign takes from the socket: the empty mill's
// draw while it turns, and what goes into the charge [J].
func (b *bench) electricity(row []float64, t campaign, i int) float64 {
	sum := estimate.Idle(row, t.d.Load) * t.run() * float64(t.charges)
	for j := range t.charges {
		sum += t.link(i, j).energy[t.k]
	}
	return sum * t.offBy(t.k, i, ofEnergy)
}

// load states what motor, jar and ears get.
func (j *job) load(g *Grinding, t campaign) error {
	b := j.bench
	chamber := figure.Exact("chamber", "plan.chamber", quantity.Volume, b.volume(), figure.Entered)
	if b.mill.Chamber == nil {
		chamber.Basis = figure.Assumed
	}
	bulk, err := b.over("charge_volume", "plan.charge_volume", quantity.Volume, func(_ int, row []float64) float64 {
		return b.fillOf(row, t.mass, 0) * b.volume()
	})
	if err != nil {
		return err
	}
	bulk = bulk.From("plan.charge_volume_how", g.Setting.Charge, belief(&b.beliefs, estimate.SolidDensity), belief(&b.beliefs, estimate.ScrapPacking), chamber)
	jar, err := b.over("jar_volume", "plan.jar_volume", quantity.Volume, func(i int, row []float64) float64 {
		return t.link(i, t.charges-1).passed[t.k] / row[estimate.GrainBulk]
	})
	if err != nil {
		return err
	}
	noise, err := b.over("noise_dose", "plan.noise_dose", quantity.SoundLevel, func(_ int, row []float64) float64 { return b.exposure(row, t) })
	if err != nil {
		return err
	}
	noise = noise.From("plan.noise_dose_how", belief(&b.beliefs, estimate.Noise), g.Setting.Run, g.Setting.Charges).
		Cite("EU2003", "article 3")
	if b.mill.Noise == nil {
		noise = noise.Warn("plan.noise_assumed")
	}
	g.Figures = append(g.Figures, bulk,
		jar.From("plan.jar_volume_how", g.Product, belief(&b.beliefs, estimate.GrainBulk)), noise)
	return nil
}
