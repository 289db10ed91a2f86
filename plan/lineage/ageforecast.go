package lineage

import (
	"errors"
	"fmt"
	"math"

	"hopperful/figure"
	"hopperful/plan/answer"
	"hopperful/polymer"
	"hopperful/process/ageing"
	"hopperful/process/melt"
	"hopperful/quantity"
	"hopperful/shop"
)

// forecast adds what the age makes of flow and strength, and the notes.
func (a *LotAge) forecast(s *shop.State, lot *shop.Lot, age Spread) error {
	flow, err := LotFlow(s, lot, age)
	if err != nil {
		return err
	}
	a.MeltFlow = flow
	if a.Strength, err = lotStrength(s, lot, age); err != nil {
		return err
	}
	if a.MeltFlow == nil || a.Strength == nil {
		a.Notes = append(a.Notes, fmt.Sprintf("Nothing is known of how %s ages, or not enough; a melt-flow test tells its flow.", answer.OrUnknown(lot.Polymer)))
	}
	name := lot.Polymer
	if p, err := findPolymer(s, name); err == nil {
		name = p.Name
	}
	if _, cut := ageing.Hydrolyses(name); cut {
		a.Notes = append(a.Notes, name+" ages more when it is melted damp; the records do not say how damp it was, so that is left out.")
	}
	return nil
}

// LotFlow is the melt flow of a lot: as measured, else forecast from the books;
// nil where nothing is known.
func LotFlow(s *shop.State, lot *shop.Lot, age Spread) (*figure.Figure, error) {
	if f, ok := measuredFlow(s, lot.ID); ok {
		return &f, nil
	}
	p, err := findPolymer(s, lot.Polymer)
	if err != nil { // an unknown polymer has no melt flow
		return nil, nil
	}
	book, err := p.Value(polymer.MeltFlowRate)
	if err != nil || book.Value <= 0 { // the books are silent
		return nil, nil
	}
	factor, studies, err := ageing.PerPass(p.Name, ageing.MeltFlow)
	if err != nil {
		return unknownAgeing(err)
	}
	doubt := math.Log(book.High/book.Low) / 2 / answer.Ninety
	from := ageing.KnownFlow{Rate: book.Value, Doubt: math.Min(doubt, 3)}
	var ranges [3]ageing.FlowRange
	for i, x := range []ageing.Age{age.low, age.mid, age.high} {
		n, err := x.Mean()
		if err != nil {
			return nil, err
		}
		if ranges[i], err = ageing.ForecastFlow(from, factor, n, 1); err != nil {
			return nil, err
		}
	}
	f := figure.Exact("melt_flow", "melt flow rate", quantity.MeltFlow, ranges[1].Median, figure.Reckoned)
	f.Low = min(ranges[0].Low, ranges[1].Low, ranges[2].Low)
	f.High = max(ranges[0].High, ranges[1].High, ranges[2].High)
	f = f.From("melt flow rate of new granulate × factor of a pass to the power of the mean passes").Cite(book.Source.Key, book.Source.Place)
	return citeStudies(f, studies), nil
}

// unknownAgeing turns "no study of this polymer" into no figure.
func unknownAgeing(err error) (*figure.Figure, error) {
	var unknown *ageing.UnknownError
	if errors.As(err, &unknown) {
		return nil, nil
	}
	return nil, err
}

func citeStudies(f figure.Figure, studies []ageing.Study) *figure.Figure {
	for _, one := range studies {
		f = f.Cite(one.Source, one.Place)
	}
	return &f
}

// measuredFlow is the newest melt-flow test with cuts of the lot.
func measuredFlow(s *shop.State, id shop.LotID) (figure.Figure, bool) {
	for _, e := range s.FlowTests(id) {
		t := e.Body
		if len(t.Cuts) == 0 || t.CutTime == nil {
			continue
		}
		sum := 0.0
		for _, m := range t.Cuts {
			sum += m
		}
		rate, err := melt.CutRate(sum, *t.CutTime*float64(len(t.Cuts)))
		if err != nil {
			continue
		}
		f := figure.Exact("melt_flow", "melt flow rate", quantity.MeltFlow, rate, figure.Measured).From("mass of the cuts ÷ their time")
		f.Records = []int64{int64(e.ID)}
		if t.Temperature != nil && t.Load != nil {
			f = f.Warn(fmt.Sprintf("Measured at %s under %s; compare only with tests like it.", quantity.Temperature.Show(*t.Temperature), quantity.Mass.Show(*t.Load)))
		}
		return f, true
	}
	return figure.Figure{}, false
}

// lotStrength is the tensile strength of a print of the lot over one of new
// granulate; nil where no study says. Both have the pass of their own printing,
// which falls out.
func lotStrength(s *shop.State, lot *shop.Lot, age Spread) (*figure.Figure, error) {
	p, err := findPolymer(s, lot.Polymer)
	if err != nil {
		return nil, nil
	}
	factor, studies, err := ageing.PerPass(p.Name, ageing.TensileStrength)
	if err != nil {
		return unknownAgeing(err)
	}
	mid, err := ageing.Retained(age.mid, factor.Median)
	if err != nil {
		return nil, err
	}
	f := figure.Exact("strength_kept", "strength of a print over a new one", quantity.Share, mid, figure.Reckoned)
	for _, x := range []ageing.Age{age.low, age.mid, age.high} {
		for _, q := range []float64{factor.Low, factor.High} {
			v, err := ageing.Retained(x, q)
			if err != nil {
				return nil, err
			}
			f.Low, f.High = min(f.Low, v), max(f.High, v)
		}
	}
	f = f.From("sum of the shares, each × factor of a pass to the power of its passes")
	return citeStudies(f, studies), nil
}
