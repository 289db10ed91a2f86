package traceability

import (
	"hopperful/figure"
	"hopperful/process/ageing"
	"hopperful/shop"
)

// What the shop's records taught, for questions that are about no one lot.

// PriorScatter is the standard deviation of the logarithm of how strongly one
// plastic scatters against another before any mix was looked at.
const PriorScatter = priorScatter

// FlowPass is what a pass does to the melt flow of a polymer in this shop: the
// studies', narrowed by its melt-flow tests. The figure says what taught it.
func FlowPass(s *shop.State, name string) (ageing.Factor, []ageing.Study, figure.Figure, error) {
	w, err := NewAger(s)
	if err != nil {
		return ageing.Factor{}, nil, figure.Figure{}, err
	}
	t, err := w.factorOf(w.plasticOf(name))
	if err != nil {
		return ageing.Factor{}, nil, figure.Figure{}, err
	}
	return t.factor, t.studies, t.figure(), nil
}
