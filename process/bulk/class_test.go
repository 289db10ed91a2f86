package bulk

import "testing"

// The classes of flow as printed: both ends of each in the table of USP <1174>.
func TestFlowClassesArePrinted(t *testing.T) {
	t.Parallel()
	for class, ends := range []struct{ carr, hausner [2]float64 }{
		Excellent: {[2]float64{0, 10}, [2]float64{1, 1.11}}, Good: {[2]float64{11, 15}, [2]float64{1.12, 1.18}},
		Fair: {[2]float64{16, 20}, [2]float64{1.19, 1.25}}, Passable: {[2]float64{21, 25}, [2]float64{1.26, 1.34}},
		Poor: {[2]float64{26, 31}, [2]float64{1.35, 1.45}}, VeryPoor: {[2]float64{32, 37}, [2]float64{1.46, 1.59}},
		VeryVeryPoor: {[2]float64{38, 60}, [2]float64{1.60, 3}},
	} {
		for i := range 2 {
			if got := classOf(ends.carr[i], 1, carrEnds[:]); got != Flow(class) {
				t.Errorf("Carr %g is %s, printed as %s", ends.carr[i], got, Flow(class))
			}
			if got := classOf(ends.hausner[i], 0.01, hausnerEnds[:]); got != Flow(class) {
				t.Errorf("Hausner %g is %s, printed as %s", ends.hausner[i], got, Flow(class))
			}
		}
	}
}
