package exchange

import (
	"math"
	"testing"

	"hopperful/process/sieve"
)

// TestPortionsOfAStackAreAdded: the masses without the sieve are added, the sieve is not.
func TestPortionsOfAStackAreAdded(t *testing.T) {
	t.Parallel()
	s := Stack{Stack: sieve.Stack{Portions: []sieve.Portion{
		{Charge: 0.1, Rows: []sieve.Row{{Mass: 0.35, Tare: 0.3}, {Mass: 0.05}}},
		{Charge: 0.08, Rows: []sieve.Row{{Mass: 0.34, Tare: 0.3}, {Mass: 0.04}}}}}}
	net, gross, tare := s.Row(0)
	for _, x := range [][2]float64{{net, 0.09}, {gross, 0.39}, {tare, 0.3}, {s.Charge(), 0.18}} {
		if math.Abs(x[0]-x[1]) > 1e-12 {
			t.Errorf("%g, wanted %g", x[0], x[1])
		}
	}
	if net, gross, _ := s.Row(1); math.Abs(net-0.09) > 1e-12 || net != gross {
		t.Errorf("the pan holds %g and %g", net, gross)
	}
}
