package sensing

import "testing"

// Half a joule that went unseen is told as well; an end that was guessed too.
func TestWhatWentUnseenIsTold(t *testing.T) {
	t.Parallel()
	for unseen, warned := range map[float64]int{0: 0, 0.5: 1, 400: 1} {
		r := aRun(1)
		r.Energy.Unseen = unseen
		for _, f := range (&told{waiting: []Run{r}}).figures() {
			if f.Key == "run_energy" && len(f.Warnings) != warned {
				t.Errorf("%g J unseen: %v", unseen, f.Warnings)
			}
		}
	}
	if all := (&told{}).figures(); all != nil {
		t.Errorf("no run waits: %+v", all)
	}
}
