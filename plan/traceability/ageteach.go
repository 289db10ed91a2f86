package traceability

import (
	"math"
	"slices"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/polymer"
	"hopperful/process/ageing"
	"hopperful/quantity"
	"hopperful/shop"
)

// What melt-flow tests teach of a pass. Judgement.
const (
	lotLuck    = 0.03 // how far lots of one age and grade lie apart, on the logarithm [1]
	bookShift  = 1.0  // what another load or temperature than the books' does to the flow, on the logarithm [1]
	mostTaught = 300  // lots that teach at once, the newest
)

// taught is what a pass does to the melt flow of a polymer in this shop.
type taught struct {
	factor  ageing.Factor
	studies []ageing.Study
	records []int64 // of the tests that taught it
	lots    int     // how many lots those are of
	err     error
}

// factorOf is the factor of a pass: the studies', narrowed by every melt-flow
// test of the shop under like conditions.
func (w *Ager) factorOf(p plastic) (taught, error) {
	if done, ok := w.taught[p.Name]; ok {
		return done, done.err
	}
	var t taught
	if t.factor, t.studies, t.err = ageing.PerPass(p.Name, ageing.MeltFlow); t.err == nil {
		t.err = w.teach(p, &t)
	}
	w.taught[p.Name] = t
	return t, t.err
}

// teach takes the tests of a polymer, each load and temperature by itself: what
// one group leaves unknown is where the next begins.
func (w *Ager) teach(p plastic, t *taught) error {
	book, _ := p.Value(polymer.MeltFlowRate)
	if book.Value <= 0 { // none in the books
		return nil
	}
	var order []string
	groups := map[string][]flowMeasure{}
	for _, m := range w.tests {
		like := m.like()
		if like == "" || w.plasticOf(w.s.Lots.At(m.lot).Polymer).Name != p.Name {
			continue
		}
		if _, ok := groups[like]; !ok {
			order = append(order, like)
		}
		groups[like] = append(groups[like], m)
	}
	for _, like := range order {
		fresh := ageing.FreshFlow{Rate: book.Value, Grade: math.Max(gradeDoubt(book), 1e-3)}
		if like != bookUnder(book) {
			fresh.Shift = bookShift
		}
		tests, lots, err := w.lessons(groups[like], p)
		if err != nil || len(tests) == 0 {
			return err
		}
		after, err := ageing.LearnFlow(t.factor, fresh, tests)
		if err != nil {
			return err
		}
		if after == t.factor { // new granulate alone
			continue
		}
		t.factor = after
		t.lots += lots
		for _, m := range groups[like] {
			t.records = append(t.records, m.record)
		}
	}
	slices.Sort(t.records)
	return nil
}

// lessons are the tests of a group, one a lot, beside what is thought of the lot
// without them; lots counts them.
func (w *Ager) lessons(group []flowMeasure, p plastic) (tests []ageing.FlowTest, lots int, err error) {
	byLot := map[shop.LotID][]flowMeasure{}
	var order []shop.LotID
	for _, m := range group {
		if _, ok := byLot[m.lot]; !ok {
			order = append(order, m.lot)
		}
		byLot[m.lot] = append(byLot[m.lot], m)
	}
	order = order[max(0, len(order)-mostTaught):]
	place := map[shop.LotID]int{}
	for _, id := range order {
		for root := range w.back(w.s.Lots.At(id), true) {
			place[root] = 0
		}
	}
	i := 0
	for _, id := range w.s.Order { // grades in the order they came
		if _, ok := place[id]; ok {
			place[id], i = i, i+1
		}
	}
	for _, id := range order {
		t, ok, err := w.lesson(w.s.Lots.At(id), byLot[id], p)
		if err != nil {
			return nil, 0, err
		}
		if !ok {
			continue
		}
		t.Grades = make([]float64, len(place))
		for root, share := range w.back(w.s.Lots.At(id), true) {
			t.Grades[place[root]] = share
		}
		tests, lots = append(tests, t), lots+1
	}
	return tests, lots, nil
}

// lesson is what the tests of one lot say, and what is thought of its passes and
// water; false where water may have done anything.
func (w *Ager) lesson(l *shop.Lot, tests []flowMeasure, p plastic) (ageing.FlowTest, bool, error) {
	var t ageing.FlowTest
	age, err := w.Of(l)
	if err != nil {
		return t, false, err
	}
	log, precision := 0.0, 0.0
	for _, m := range tests {
		weight := 1 / (m.doubt * m.doubt)
		log, precision = log+weight*math.Log(m.rate), precision+weight
	}
	t.Rate = math.Exp(log / precision)
	var passes, gains [3]float64
	for i, x := range age.all() {
		if passes[i], err = x.Mean(); err != nil {
			return t, false, err
		}
		if gains[i], err = p.gain(0, x.Cuts); err != nil {
			return t, false, err
		}
	}
	if gains[2] > mostGain {
		return t, false, nil
	}
	prior, _, err := ageing.PerPass(p.Name, ageing.MeltFlow)
	if err != nil {
		return t, false, err
	}
	counted := (passes[2] - passes[0]) / 2 / answer.Ninety * math.Max(math.Abs(math.Log(prior.Low)), math.Abs(math.Log(prior.High)))
	t.Passes, t.Gain = passes[1], gains[1]
	t.GainDoubt = math.Log(gains[2]/gains[0]) / 2 / answer.Ninety
	t.Doubt = math.Min(math.Hypot(math.Hypot(1/math.Sqrt(precision), lotLuck), counted), 3)
	return t, true, nil
}

// figure is the factor of a pass, and how many tests taught it.
func (t taught) figure() figure.Figure {
	f := figure.Exact("flow_per_pass", "age.flow_per_pass", quantity.Number, t.factor.Median, figure.Books)
	f.Low, f.High = t.factor.Low, t.factor.High
	how := "age.how_pooled"
	if len(t.records) > 0 {
		f.Basis, f.Records = figure.Learned, t.records
		how = "age.how_narrowed"
	}
	return *citeStudies(f.From(how), t.studies)
}
