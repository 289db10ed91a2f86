package estimate

import (
	"math"
	"testing"
)

// mixed is the 10–90 % range of a product's logarithm, where the models say 30 of 100 g.
func mixed(p pencil, distance float64) float64 {
	logs := make([]float64, 101)
	for i := range logs {
		logs[i] = math.Log(0.03) + 0.03*score((float64(i)+0.5)/101)
	}
	p.mix(0.1, distance, logs)
	return logs[90] - logs[10]
}

// Models that foretold the runs far better than the yield did are no longer held against
// a yield far off theirs; a share that few runs tell is.
func TestTheModelsShareIsKnownAsTheRunsTellIt(t *testing.T) {
	t.Parallel()
	p := pencil{share: 0.97, told: 8, yield: math.Log(0.8), square: 0.01}
	if spread := mixed(p, 0); spread > 0.2 {
		t.Errorf("the range is %.3f where many runs tell the share", spread)
	}
	p.told = 0.3
	if spread := mixed(p, 0); spread < 0.3 {
		t.Errorf("the range is %.3f where hardly a run tells it", spread)
	}
}

// A step away from the records models and yield count alike, and the range is wider.
func TestFarFromTheRecordsModelsAndYieldCountAlike(t *testing.T) {
	t.Parallel()
	p := pencil{share: 0.9, told: 8, yield: math.Log(0.8), square: 0.01}
	for distance, want := range map[float64]float64{0: 0.9, nearBy: 0.9, nearBy + 0.5: 0.7, nearBy + 1: 0.5, 9: 0.5} {
		if got := p.shareAt(distance); math.Abs(got-want) > 1e-12 {
			t.Errorf("%g steps away the models have %g, not %g", distance, got, want)
		}
	}
	if near, far := mixed(p, 0), mixed(p, nearBy+1); far < near+0.2 {
		t.Errorf("the range is %.3f near the records, %.3f a step away", near, far)
	}
}

// Before any record the usual yield is believed more than the books' rates, and the more
// so the more a mill is run as such mills commonly are.
func TestBeforeAnyRecordTheUsualYieldIsBelieved(t *testing.T) {
	t.Parallel()
	f, err := Fit(Setup{Area: 0.05, Chamber: 1e-3, Priors: map[string]Beliefs{"PLA": Prior()}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	p := f.pencil(Target{Polymer: "PLA"})
	common := Setting{Charge: 0.05, Time: 120, LevelShare: 0.6}
	large := Setting{Charge: 0.15, Time: 120, LevelShare: 0.6}
	near, far := p.shareAt(f.fit.straying(common)), p.shareAt(f.fit.straying(large))
	if near > 0.3 || far < 0.45 {
		t.Errorf("the models have %.2f of a usual charge, %.2f of thrice of it", near, far)
	}
}
