package traceability

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"regexp"
	"slices"
	"strconv"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/polymer"
	"hopperful/process"
	"hopperful/process/ageing"
	"hopperful/process/melt"
	"hopperful/quantity"
	"hopperful/shop"
	"hopperful/source"
)

// How far a melt-flow test errs. Judgement: laboratories agree to some 5 to 10 %.
const (
	flowDoubt   = 0.05 // standard error of the logarithm of one test at least [1]
	unlikeDoubt = 0.7  // of flows taken together that were measured under other loads or temperatures [1]
)

// flowMeasure is a melt-flow test with cuts.
type flowMeasure struct {
	lot         shop.LotID
	record      int64
	rate        float64  // [kg/s]
	doubt       float64  // standard error of its logarithm [1]
	temperature *float64 // [K]
	load        *float64 // [kg]
}

// like is under what it was measured, to the degree and the gram; "" where nobody
// said.
func (m flowMeasure) like() string {
	if m.temperature == nil || m.load == nil {
		return ""
	}
	return underOf(*m.temperature, *m.load)
}

func underOf(temperature, load float64) string {
	return fmt.Sprintf("%.0fK/%.3fkg", temperature, load)
}

// measured remembers a melt-flow test; the newest of a lot stands for it.
func (w *Ager) measured(r shop.Record, t *shop.FlowTested) {
	if len(t.Cuts) == 0 || t.CutTime == nil {
		return
	}
	n, sum, squares := float64(len(t.Cuts)), 0.0, 0.0
	for _, m := range t.Cuts {
		sum += m
	}
	rate, err := melt.CutRate(sum, *t.CutTime*n)
	if err != nil {
		return
	}
	for _, m := range t.Cuts {
		squares += (m - sum/n) * (m - sum/n)
	}
	m := flowMeasure{lot: t.Lot, record: int64(r.ID), rate: rate, doubt: flowDoubt, temperature: t.Temperature, load: t.Load}
	if n > 1 {
		m.doubt = math.Max(flowDoubt, math.Sqrt(squares/(n-1)/n)/(sum/n)) // at most 1: all in one cut
	}
	w.tests = append(w.tests, m)
	w.flows[t.Lot] = m
}

// figure is the melt flow as measured.
func (m flowMeasure) figure() figure.Figure {
	f := figure.Exact("melt_flow", "age.melt_flow", quantity.MeltFlow, m.rate, figure.Measured).From("Σ m ÷ Σ t")
	f.Low, f.High = m.rate*math.Exp(-answer.Ninety*m.doubt), m.rate*math.Exp(answer.Ninety*m.doubt)
	f.Records = []int64{m.record}
	if m.temperature != nil && m.load != nil {
		f.About = quantity.Temperature.Show(*m.temperature) + ", " + quantity.Mass.Show(*m.load)
		f = f.Warn("age.measured_at")
	}
	return f
}

// shares are what a lot goes back to, by mass, together 1.
type shares map[shop.LotID]float64

// back is what a lot goes back to: the lots it came into the shop as or, unless
// past is set, the youngest ones whose flow was measured.
func (w *Ager) back(l *shop.Lot, past bool) shares {
	seen := w.roots
	if past {
		seen = w.grades
	}
	if done, ok := seen[l.ID]; ok {
		return done
	}
	out, whole := shares{}, wholeOf(l)
	_, measured := w.flows[l.ID]
	if measured && !past || whole == 0 {
		out[l.ID] = 1
		seen[l.ID] = out
		return out
	}
	if outside := outsideOf(l); outside > 0 {
		out[l.ID] = outside / whole
	}
	for _, e := range l.Parents {
		for id, share := range w.back(w.s.Lots.At(e.Lot), past) {
			out[id] += share * e.Mass / whole
		}
	}
	seen[l.ID] = out
	return out
}

// Flow is the melt flow of a lot: as measured, else forecast from the youngest
// lots in its family that were measured and the books for the rest; nil where
// nothing is known.
func (w *Ager) Flow(l *shop.Lot) (*figure.Figure, error) {
	if m, ok := w.flows[l.ID]; ok {
		f := m.figure()
		return &f, nil
	}
	p := w.plasticOf(l.Polymer)
	if !p.known { // an unknown polymer has no melt flow
		return nil, nil
	}
	start, ok, err := w.startOf(l, p)
	if err != nil || !ok {
		return nil, err
	}
	learned, err := w.factorOf(p)
	if err != nil {
		return unknownAgeing(err)
	}
	age, err := w.Of(l)
	if err != nil {
		return nil, err
	}
	var ranges [3]ageing.FlowRange
	for i, x := range age.all() {
		passes, err := x.Mean()
		if err != nil {
			return nil, err
		}
		gain, err := p.gain(start.cuts[1], start.cuts[1]+math.Max(0, x.Cuts-start.cuts[i]))
		if err != nil {
			return nil, err
		}
		ranges[i], err = ageing.ForecastFlow(start.KnownFlow, learned.factor, math.Max(0, passes-start.passes[i]), math.Min(gain, mostGain))
		var out *process.RangeError
		if errors.As(err, &out) { // so thin that no test could hold it: a measurement tells
			return nil, nil
		}
		if err != nil {
			return nil, err
		}
	}
	f := figure.Exact("melt_flow", "age.melt_flow", quantity.MeltFlow, ranges[1].Median, figure.Reckoned)
	// The age and the factor err by themselves: their ranges add by squares, on the
	// logarithm.
	mid, down, up := ranges[1], 0.0, 0.0
	for _, r := range ranges {
		by := math.Log(r.Median / mid.Median)
		down, up = math.Max(down, -by), math.Max(up, by)
	}
	f.Low = mid.Median * math.Exp(-math.Hypot(down, math.Log(mid.Median/mid.Low)))
	f.High = mid.Median * math.Exp(math.Hypot(up, math.Log(mid.High/mid.Median)))
	f.Records = slices.Concat(start.records, learned.records)
	slices.Sort(f.Records)
	f.Records = slices.Compact(f.Records)
	f.Sources = start.sources
	f.Warnings = start.warnings
	f = f.From(start.how)
	return citeStudies(f, learned.studies), nil
}

// mostGain is what water can make of a melt flow before nobody would call it
// plastic [1].
const mostGain = 1e6

// gain is by what factor the flow rises when the chains cut go from one count to
// another [mol/kg].
func (p plastic) gain(from, to float64) (float64, error) {
	if !p.cut || to <= from {
		return 1, nil
	}
	before, err := ageing.FlowGain(p.chain.Molar, from, ageing.FlowPower)
	if err != nil {
		return 0, err
	}
	after, err := ageing.FlowGain(p.chain.Molar, to, ageing.FlowPower)
	return after / before, err
}

// flowStart is the melt flow a forecast starts from: of the lots measured and of
// the books for what was not, by mass and on the logarithm.
type flowStart struct {
	ageing.KnownFlow
	passes, cuts [3]float64 // the measured lots' own, by mass: low, middle, high
	how          string
	records      []int64
	sources      []source.Ref
	warnings     []string
}

// startOf finds it; false where the books are silent on a part nobody measured.
func (w *Ager) startOf(l *shop.Lot, p plastic) (flowStart, bool, error) {
	var out flowStart
	back := w.back(l, false)
	var rates, shares []float64
	own, booked := 0.0, 0.0
	under := map[string]bool{}
	for _, id := range slices.Sorted(maps.Keys(back)) {
		m, ok := w.flows[id]
		if !ok {
			booked += back[id]
			continue
		}
		share := back[id]
		rates, shares = append(rates, m.rate), append(shares, share)
		own += share * share * m.doubt * m.doubt
		under[m.like()] = true
		out.records = append(out.records, m.record)
		age, err := w.Of(w.s.Lots.At(id))
		if err != nil {
			return out, false, err
		}
		for i, x := range age.all() {
			passes, err := x.Mean()
			if err != nil {
				return out, false, err
			}
			out.passes[i] += share * passes
			out.cuts[i] += share * x.Cuts
		}
	}
	out.how = "age.how_flow_measured"
	grade := 0.0
	if booked > 0 {
		book, err := p.Value(polymer.MeltFlowRate)
		if err != nil || book.Value <= 0 {
			return out, false, nil
		}
		rates, shares = append(rates, book.Value), append(shares, booked)
		grade = booked * gradeDoubt(book)
		under[bookUnder(book)] = true
		out.sources = []source.Ref{book.Source}
		out.how = "age.how_flow_books"
		if len(out.records) > 0 {
			out.how = "age.how_flow_both"
		}
	}
	rate, err := ageing.BlendFlow(rates, shares)
	if err != nil {
		return out, false, err
	}
	out.Rate, out.Doubt = rate, math.Sqrt(own+grade*grade)
	if len(under) > 1 {
		out.Doubt = math.Hypot(out.Doubt, unlikeDoubt)
		out.warnings = append(out.warnings, "age.unlike_tests")
	}
	out.Doubt = math.Min(out.Doubt, 3)
	return out, true, nil
}

// gradeDoubt is how far grades lie apart by the books, on the logarithm.
func gradeDoubt(book polymer.Value) float64 {
	return math.Min(math.Log(book.High/book.Low)/2/answer.Ninety, 3)
}

var atLoad = regexp.MustCompile(`^([0-9.]+) °C, ([0-9.]+) kg$`)

// bookUnder is under what the books' melt flow was measured, as [flowMeasure.like]
// writes it; "" where they do not say.
func bookUnder(book polymer.Value) string {
	m := atLoad.FindStringSubmatch(book.At)
	if m == nil {
		return ""
	}
	celsius, err := strconv.ParseFloat(m[1], 64)
	load, bad := strconv.ParseFloat(m[2], 64)
	if err != nil || bad != nil {
		return ""
	}
	return underOf(celsius+273.15, load)
}

// unknownAgeing turns "no study of this polymer" into no figure.
func unknownAgeing(err error) (*figure.Figure, error) {
	var unknown *ageing.UnknownError
	if errors.As(err, &unknown) {
		return nil, nil
	}
	return nil, err
}
