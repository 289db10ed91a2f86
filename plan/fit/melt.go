package fit

import (
	"cmp"
	"math"
	"strings"

	"hopperful/answer"
	"hopperful/polymer"
	"hopperful/process/melt"
	"hopperful/process/screw"
	"hopperful/quantity"
	"hopperful/shop"
	"hopperful/source"
)

// meltLaw is how a polymer's melt flows, by whichever law its table has.
type meltLaw struct {
	cross     *melt.CrossWLF
	power     *melt.PowerLaw
	low, high float64    // 10–90 % of how many times as fast grades flow
	How       string     // which law, for the reader
	Lender    string     // the plastic whose constants these are; "" for the polymer's own
	ref       source.Ref // whose constants
}

// crossKeys are the constants of a Cross–WLF set, powerKeys those of a power law.
var (
	crossKeys = []polymer.Property{polymer.CrossN, polymer.CrossTau, polymer.CrossD1, polymer.CrossD2, polymer.CrossA1, polymer.CrossA2}
	powerKeys = []polymer.Property{polymer.PowerM, polymer.PowerN, polymer.PowerFold, polymer.PowerT0}
)

// LawOf picks the polymer's law: Cross–WLF where the set is whole, else a power
// law, else a usual curve drawn through the melt flow rate at the temperature and
// load the table has it at; temperature stands in where it names none.
func LawOf(p polymer.Polymer, temperature float64) (meltLaw, error) {
	if v, ok := set(p, crossKeys); ok {
		c := &melt.CrossWLF{N: v[0].Value, Stress: v[1].Value, D1: v[2].Value, D2: v[3].Value, A1: v[4].Value, A2: v[5].Value}
		return meltLaw{cross: c, low: v[2].Value / v[2].High, high: v[2].Value / v[2].Low, How: "law.cross", ref: v[2].Source, Lender: v[2].Lender()}, nil
	}
	if v, ok := set(p, powerKeys); ok {
		m := &melt.PowerLaw{K: v[0].Value, N: v[1].Value, Fold: v[2].Value, T0: v[3].Value}
		// K scales with 1/f^n when a lot flows f times as fast.
		return meltLaw{power: m, low: math.Pow(v[0].Value/v[0].High, 1/m.N), high: math.Pow(v[0].Value/v[0].Low, 1/m.N), How: "law.power", ref: v[0].Source, Lender: v[0].Lender()}, nil
	}
	rate := polymer.Value{Value: usualRate, Low: usualRate / 4, High: usualRate * 4, Source: source.Cite("judgement", "no melt flow rate known")}
	if v, err := p.Value(polymer.MeltFlowRate); err == nil {
		rate = v
	}
	temperature, load := FlowTestOf(rate, temperature)
	m := melt.PowerLaw{K: 1e4, N: usualN, Fold: usualFold, T0: temperature}
	lender := rate.Lender()
	if v, err := p.Value(polymer.PowerN); err == nil {
		m.N = v.Value
		lender = cmp.Or(lender, v.Lender())
	}
	c, err := m.At(temperature, melt.Window{Low: 250, Ceiling: 800})
	if err != nil {
		return meltLaw{}, err
	}
	model, err := melt.ModelMFR(c, melt.Plastometer{Load: load, Density: 1050})
	if err != nil {
		return meltLaw{}, err
	}
	f, err := melt.Thinning(rate.Value, model)
	if err != nil {
		return meltLaw{}, err
	}
	m, err = m.Thinned(f)
	return meltLaw{power: &m, low: rate.Low / rate.Value, high: rate.High / rate.Value, How: "law.usual", ref: rate.Source, Lender: lender}, err
}

// A usual melt, where the table has no curve. Judgement.
const (
	usualN    = 0.6       // flow exponent of a plastic nothing is known of
	usualFold = 60.0      // heating that thins it by a factor e [K]
	usualLoad = 2.16      // where a melt flow rate names none [kg]
	usualRate = 8.0 / 6e5 // melt flow rate [kg/s]
)

// FlowTestOf reads at which temperature and load a melt flow rate holds, from
// words such as "220 °C, 10 kg" or "220 to 240 °C", of which the middle counts.
// What they do not name is the temperature given, and 2.16 kg.
func FlowTestOf(rate polymer.Value, temperature float64) (kelvin, load float64) {
	kelvin, load = temperature, usualLoad
	heat, mass, _ := strings.Cut(rate.At, ",")
	from, to, span := strings.Cut(heat, " to ")
	if !span {
		to = from
	}
	low, err := quantity.Temperature.ParseOr(from, "°C")
	high, err2 := quantity.Temperature.ParseOr(to, "°C")
	if err == nil && err2 == nil {
		kelvin = (low + high) / 2
	}
	if m, err := quantity.Mass.Parse(mass); err == nil && m > 0 {
		load = m
	}
	return kelvin, load
}

// Guess reports whether nothing one could look up stands behind the law's constants.
func (l meltLaw) Guess() bool { return l.ref.Guess() }

// set reads values that belong together; false when one is missing.
func set(p polymer.Polymer, keys []polymer.Property) ([]polymer.Value, bool) {
	all := make([]polymer.Value, len(keys))
	for i, k := range keys {
		v, err := p.Value(k)
		if err != nil || v.Value == 0 {
			return nil, false
		}
		all[i] = v
	}
	return all, true
}

// anyHeat is the window in which a curve is drawn; whether the polymer bears the
// temperature is a question of its own.
var anyHeat = melt.Window{Low: 250, Ceiling: 800}

// Curve is the flow curve of a lot that flows so many times as fast.
func (l meltLaw) Curve(temperature, runny float64) (melt.Curve, error) {
	if l.cross != nil {
		m, err := l.cross.Thinned(runny)
		if err != nil {
			return melt.Curve{}, err
		}
		return m.At(temperature, anyHeat)
	}
	m, err := l.power.Thinned(runny)
	if err != nil {
		return melt.Curve{}, err
	}
	return m.At(temperature, anyHeat)
}

// believeFlow takes the flow tests: cuts of a melt-flow test scale the melt,
// weighings at the printer the screw.
func (j *job) believeFlow() {
	b := &j.beliefs
	one := &b[fRunny]
	one.Low, one.High, one.Source, one.Assumed = j.law.low, j.law.high, j.law.ref, false
	for _, e := range j.state.FlowTests(j.lot.ID) {
		if e.Body.Printer != "" {
			continue
		}
		if f, spread, err := j.thinning(e.Body); err == nil {
			b.narrow(fRunny, f, spread, int64(e.ID))
		}
	}
	if j.printer.Name != "" {
		j.turned()
	}
}

// thinning is how many times as fast as the books' melt the cuts flowed.
func (j *job) thinning(t *shop.FlowTested) (factor, spread float64, err error) {
	cuts := make([]melt.Cut, len(t.Cuts))
	for i, m := range t.Cuts {
		cuts[i] = melt.Cut{Mass: m, Time: *t.CutTime}
	}
	rate, spread := 0.0, 0.1 // one cut says little of its own scatter; judgement
	if len(cuts) == 1 {
		rate, err = melt.CutRate(cuts[0].Mass, cuts[0].Time)
	} else {
		var r melt.FlowRate
		r, err = melt.TimedCuts(cuts, j.state.Resolution(cuts[0].Mass))
		rate, spread = r.Value, math.Max(r.Scatter/math.Sqrt(float64(r.Count))/math.Max(r.Value, 1e-30), 0.05)
	}
	if err != nil {
		return 0, 0, err
	}
	c, err := j.law.Curve(*t.Temperature, 1)
	if err != nil {
		return 0, 0, err
	}
	solid := j.beliefs[fSolid].Median
	model, err := melt.ModelMFR(c, melt.Plastometer{Load: *t.Load, Density: solid * j.beliefs[fMelt].Median})
	if err != nil {
		return 0, 0, err
	}
	factor, err = melt.Thinning(rate, model)
	return factor, spread, err
}

// turned takes what a turn of this printer's screw gave: of this lot, else of
// other lots, which feed differently.
func (j *job) turned() {
	var own, others []float64
	var ids, otherIDs []int64
	density := j.beliefs[fSolid].Median * j.beliefs[fMelt].Median
	for _, e := range j.state.FlowTestsOn(j.printer.Name) {
		t := e.Body
		if t.Screw == nil || t.Extruded == nil || t.Time == nil || *t.Extruded <= 0 {
			continue
		}
		turns := *t.Screw * *t.Time / (2 * math.Pi)
		volume := math.Log(*t.Extruded / turns / density)
		if t.Lot == j.lot.ID {
			own, ids = append(own, volume), append(ids, int64(e.ID))
		} else {
			others, otherIDs = append(others, volume), append(otherIDs, int64(e.ID))
		}
	}
	floor := 0.05 // a weighing of a minute's flow; judgement
	if len(own) == 0 {
		own, ids, floor = others, otherIDs, 0.2 // another lot has another bulk density; judgement
	}
	if len(own) == 0 {
		return
	}
	mean, spread := meanAndSpread(own)
	half := answer.Ninety * math.Max(spread, floor)
	mid := math.Exp(mean)
	j.beliefs.observe(fPerTurn, mid, mid*math.Exp(-half), mid*math.Exp(half), ids...)
}

// measuredTurn reports whether a turn's output was weighed or entered.
func (j *job) measuredTurn() bool { return j.beliefs[fPerTurn].Median > 0 }

// screwOf is the screw of a draw: the usual proportions around its bore, held
// to what can be made.
func screwOf(row []float64) screw.Screw {
	d := row[fScrew]
	feed := math.Min(row[fFeedDepth], 0.4) * d
	tip := feed / math.Min(math.Max(row[fCompression], 1), 8)
	turns := math.Max(row[fPumpTurns], 1)
	return screw.Screw{Diameter: d, Lead: d, Flight: 0.1 * d, Clearance: math.Min(1e-4, tip/4), FeedDepth: feed, DepthIn: tip, DepthOut: tip,
		Pump: turns * d, Heated: 2 * turns * d}
}

// nozzleOf is the nozzle of a draw: a cone of 60° from four bores wide.
func nozzleOf(row []float64) melt.Nozzle {
	bore := row[fNozzle]
	return melt.Nozzle{Bore: bore, Land: row[fLand] * bore, Entry: 4 * bore, Taper: 2.6 * bore, Losses: melt.UsualLosses}
}
