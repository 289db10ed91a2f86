package recipe

// From a problem to a linear program. Masses are counted in shares of the blend
// wanted and costs in the greatest of them, so that every number is near 1.

import (
	"math"

	"hopperful/process/recipe/simplex"
)

// model is the relaxation of a problem over some of its lots: without steps,
// without least amounts, and with the number of lots only as far as a row can
// say it. Columns are lots, one g a curve, then what may be broken if elastic.
type model struct {
	p     *Problem
	lots  []int     // the lots of the problem it is about
	unit  float64   // cost that counts as 1
	lo    []float64 // least share, greatest share, smallest share if used, step [share]
	hi    []float64
	least []float64
	step  []float64

	program simplex.Program
	limit   []int   // the limit each row states, −1 for another row
	count   int     // index of the row that counts lots, −1 without one
	curve   int     // column of the first curve
	elastic bool    // mass and limits may be broken
	free    bool    // nothing else costs
	fine    float64 // what breaking them costs
}

// manner is what a model is for.
type manner int

const (
	tight   manner = iota // for the tree: greatest shares as small as the limits make them
	plain                 // for prices: every limit speaks for itself
	elastic               // for the nearest: mass and limits may be broken, and only that costs
	soft                  // for a first recipe: the same, but costs count too
)

// breakCost is what breaking a limit by the spread of the lots costs in a soft
// model, where all costs are at most 1.
const breakCost = 50

// newModel builds the relaxation over the given lots.
func newModel(p *Problem, lots []int, how manner) *model {
	m := &model{p: p, lots: lots, unit: costUnit(p), count: -1, curve: len(lots), elastic: how == elastic || how == soft, fine: 1}
	switch how {
	case elastic:
		m.unit, m.free = 1, true
	case soft:
		m.fine = breakCost
	}
	most := p.Mass + p.Slack
	for _, i := range lots {
		l := p.Lots[i]
		m.lo = append(m.lo, l.from()/p.Mass)
		m.hi = append(m.hi, max(l.upTo(most), l.from())/p.Mass) // more than the blend where it must: the program says so
		m.least = append(m.least, l.smallest()/p.Mass)
		m.step = append(m.step, l.Step/p.Mass)
	}
	if how == tight || how == soft {
		m.tighten()
	}
	m.columns()
	m.massRow()
	for k := range p.Limits {
		m.limitRows(k)
	}
	if p.Most > 0 && p.Most < len(lots) && how != soft {
		m.count = len(m.program.Rows)
		m.addRow(-1, math.Inf(-1), math.Inf(1))
	}
	return m
}

func costUnit(p *Problem) float64 {
	unit := 0.0
	for _, l := range p.Lots {
		unit = max(unit, math.Abs(l.Cost)*p.Mass)
	}
	for _, c := range p.Curves {
		unit = max(unit, c.Weight*curveScale(c))
	}
	if unit == 0 {
		return 1
	}
	return unit
}

// curveScale is the size of g that matters.
func curveScale(c Curve) float64 {
	if math.IsInf(c.Limit, 1) {
		return 1
	}
	return max(math.Abs(c.Limit), 1e-6)
}

func (m *model) columns() {
	for k, i := range m.lots {
		cost := m.p.Lots[i].Cost * m.p.Mass / m.unit
		if m.free {
			cost = 0
		}
		m.addColumn(cost, m.lo[k], m.hi[k])
	}
	for _, c := range m.p.Curves {
		scale, cost := curveScale(c), c.Weight*curveScale(c)/m.unit
		if m.free {
			cost = 0
		}
		m.addColumn(cost, c.Floor/scale, (c.Limit-c.margin())/scale)
	}
	if m.elastic {
		for range m.p.Curves {
			m.addColumn(m.fine, 0, math.Inf(1))
		}
	}
}

// margin keeps linear cuts, which reach a limit from outside, within it.
func (c Curve) margin() float64 {
	if math.IsInf(c.Limit, 1) {
		return 0
	}
	return min(1e-6*curveScale(c), c.Limit-c.Floor)
}

func (m *model) addColumn(cost, lo, hi float64) int {
	q := &m.program
	q.Cost, q.Lo, q.Hi = append(q.Cost, cost), append(q.Lo, lo), append(q.Hi, hi)
	for i := range q.Rows {
		q.Rows[i].Coef = append(q.Rows[i].Coef, 0)
	}
	return len(q.Cost) - 1
}

// addRow adds an empty row for a limit, or −1.
func (m *model) addRow(limit int, lo, hi float64) []float64 {
	m.limit = append(m.limit, limit)
	r := simplex.Row{Coef: make([]float64, len(m.program.Cost)), Lo: lo, Hi: hi}
	m.program.Rows = append(m.program.Rows, r)
	return r.Coef
}

func (m *model) massRow() {
	s := m.p.Slack / m.p.Mass
	row := m.addRow(-1, 1-s, 1+s)
	for k := range m.lots {
		row[k] = 1
	}
	if m.elastic {
		m.give(1, 1)
		m.give(-1, 1)
	}
}

// give lets the last row be broken: v is the coefficient, cost what a unit costs.
func (m *model) give(v, cost float64) {
	j := m.addColumn(cost*m.fine, 0, math.Inf(1))
	m.program.Rows[len(m.program.Rows)-1].Coef[j] = v
}

// limitRows writes Lo ≤ mean ≤ Hi as Σ (a − Lo) x ≥ 0 and Σ (a − Hi) x ≤ 0, in
// one row where the mass is fixed; an open Lo leaves that row open. Measured from the limit, a property with a
// large offset (a density) loses no digits.
func (m *model) limitRows(k int) {
	l := m.p.Limits[k]
	if !math.IsInf(l.Hi, 1) && m.p.Slack == 0 && !m.elastic {
		m.fill(m.addRow(k, l.Lo-l.Hi, 0), l, l.Hi)
		return
	}
	scale := m.spread(l)
	if !math.IsInf(l.Hi, 1) {
		m.fill(m.addRow(k, math.Inf(-1), 0), l, l.Hi)
		if m.elastic {
			m.give(-1, 1/scale)
		}
	}
	if !math.IsInf(l.Lo, -1) {
		m.fill(m.addRow(k, 0, math.Inf(1)), l, l.Lo)
		if m.elastic {
			m.give(1, 1/scale)
		}
	}
}

func (m *model) fill(row []float64, l Limit, from float64) {
	for k, i := range m.lots {
		row[k] = l.Of[i] - from
	}
}

// spread is how far apart the lots lie in a property, to weigh what is broken.
func (m *model) spread(l Limit) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, i := range m.lots {
		lo, hi = min(lo, l.Of[i]), max(hi, l.Of[i])
	}
	size := max(math.Abs(lo), math.Abs(hi))
	if s := hi - lo; s > max(1e-9*size, 1e-12) { // less is rounding
		return s
	}
	return max(size, 1)
}

// crash is a basis to start from: the cheapest lot makes up the mass, all other
// rows rest on themselves. Every reduced cost but those of curves is right then.
func (m *model) crash() []int {
	cheapest := 0
	for k, h := range m.hi {
		if h > 0 && (m.hi[cheapest] == 0 || m.program.Cost[k] < m.program.Cost[cheapest]) {
			cheapest = k
		}
	}
	return []int{cheapest}
}
