package plan

import (
	"math"
	"testing"

	"hopperful/shop"
)

func TestDrawsFollowTheMeterAndThenTheLabel(t *testing.T) {
	t.Parallel()
	rated := 2000.0
	m := shop.Mill{RatedPower: &rated, Controller: &shop.Control{Levels: 10,
		Watts:     []shop.LevelWatts{{Level: 8, Watts: 600}, {Level: 4, Watts: 200}},
		IdleWatts: []shop.LevelWatts{{Level: 4, Watts: 120}}}}
	all := draws(m)
	for _, c := range []struct {
		level               int
		watts, spread, idle float64
	}{
		{4, 200, meterSpread, 0.6},
		{6, 400, betweenSpread, 0}, // halfway between two readings
		{8, 600, meterSpread, 0},
		// Below the readings the label speaks: half of it, by phase angle 0.8π
		// (1 − 0.8 + sin 1.6π/2π = 0.04864).
		{2, 1000 * 0.048634, labelSpread, 0},
		{10, 1000, labelSpread, 0},
	} {
		d := all[c.level-1]
		if math.Abs(d.Watts-c.watts) > 1e-3*c.watts || d.Spread != c.spread || math.Abs(d.IdleShare-c.idle) > 1e-12 {
			t.Errorf("level %d: got %+v, want %+v", c.level, d, c)
		}
	}
	if one := draws(shop.Mill{}); len(one) != 1 || one[0].Watts != unknownPower*labelShare {
		t.Errorf("without controller and label: %+v", one)
	}
}
