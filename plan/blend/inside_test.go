package blend

import (
	"math"
	"testing"

	"hopperful/fact"
	"hopperful/process/recipe"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// Both ends of every limit a blend may be asked with, and the next beyond.
func TestLimitsAtTheEdge(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	for name, c := range map[string]struct {
		set          func(r *Request, v float64)
		ends, refuse [2]float64
	}{
		"within":     {func(r *Request, v float64) { r.WithinDE = p(v) }, [2]float64{0.1, 100}, [2]float64{0.099, 100.1}},
		"reserve":    {func(r *Request, v float64) { r.Reserve = p(v) }, [2]float64{0, 2}, [2]float64{-1e-9, 2.001}},
		"mean age":   {func(r *Request, v float64) { r.MeanAge = p(v) }, [2]float64{0, 1000}, [2]float64{-1e-9, 1001}},
		"oldest":     {func(r *Request, v float64) { r.OldestAge = p(v) }, [2]float64{0, 1000}, [2]float64{-1e-9, 1001}},
		"fines":      {func(r *Request, v float64) { r.Fines = p(v) }, [2]float64{0, 1}, [2]float64{-1e-9, 1.001}},
		"moisture":   {func(r *Request, v float64) { r.Moisture = p(v) }, [2]float64{1e-6, 0.1}, [2]float64{0.9e-6, 0.101}},
		"metal":      {func(r *Request, v float64) { r.Metal = p(v) }, [2]float64{1e-9, 0.1}, [2]float64{0.9e-9, 0.101}},
		"least flow": {func(r *Request, v float64) { r.FlowLow = p(v) }, [2]float64{1e-9, 0.01}, [2]float64{0.9e-9, 0.0101}},
		"most flow":  {func(r *Request, v float64) { r.FlowHigh = p(v) }, [2]float64{1e-9, 0.01}, [2]float64{0.9e-9, 0.0101}},
		"step":       {func(r *Request, v float64) { r.Step = v }, [2]float64{0, 100}, [2]float64{-1e-9, 100.1}},
		"least":      {func(r *Request, v float64) { r.Least = v }, [2]float64{0, 1000}, [2]float64{-1e-9, 1001}},
		"lots":       {func(r *Request, v float64) { r.MostLots = int(v) }, [2]float64{0, 100}, [2]float64{-1, 101}},
	} {
		at := func(v float64) error {
			j := &blendJob{}
			c.set(&j.req, v)
			return j.bounds()
		}
		for i := range 2 {
			if err := at(c.ends[i]); err != nil {
				t.Errorf("%s of %g: %v", name, c.ends[i], err)
			}
			if at(c.refuse[i]) == nil {
				t.Errorf("%s of %g: taken", name, c.refuse[i])
			}
		}
	}
	j := &blendJob{req: Request{FlowLow: p(2e-5), FlowHigh: p(2e-5)}}
	if err := j.bounds(); err != nil {
		t.Errorf("one melt flow: %v", err)
	}
	if j.req.FlowLow = p(2.1e-5); j.bounds() == nil {
		t.Error("crossed melt flows are taken")
	}
}

// What a change saves is told from half a cent, half of a tint nobody sees, or a thousandth of a
// second of age a kilogram on, each in its own order and no other.
func TestWhatAGainIs(t *testing.T) {
	t.Parallel()
	for i, c := range []struct {
		order Order
		cost  float64
		code  string
	}{
		{Cheapest, -0.0051, "blend.gain_cost"}, {Cheapest, -0.0049, ""}, {Cheapest, 0, ""}, {Cheapest, 1, ""}, {Cheapest, math.NaN(), ""},
		{NearestColour, -0.51 * unseenTint, "blend.gain_colour"}, {NearestColour, -0.49 * unseenTint, ""}, {NearestColour, 5, ""},
		{OldFirst, -2.1e-3, "blend.gain_age"}, {OldFirst, -1.9e-3, ""}, {OldFirst, 5, ""},
	} {
		j := &blendJob{state: &shop.State{}, req: Request{Order: c.order}, mass: 2}
		got := j.gain(c.cost, fact.Say("with"))
		if got.Code != c.code {
			t.Errorf("case %d: %g by %s is told as %q, wanted %q", i, c.cost, c.order, got.Code, c.code)
		}
		if by, ok := got.Fact("by"); ok && c.order == OldFirst && math.Abs(by.Value-2.1e-3/2*86400) > 1e-9 {
			t.Errorf("older by %g s", by.Value)
		}
	}
}

// Three digits, up or down and a little further, so that what is asked instead keeps its limit.
func TestRoundedForAsking(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ v, way, want float64 }{{0.123456, 1, 0.124}, {0.123456, -1, 0.123}, {0.123, 1, 0.124}, {0.124, -1, 0.123}, {1234, 1, 1240}, {0, 1, 0}, {-3, 1, -3}, {9.999, 1, 10}} {
		if got := rounded(c.v, c.way); math.Abs(got-c.want) > 1e-9*math.Abs(c.want)+1e-15 {
			t.Errorf("%g rounded by %g is %g, wanted %g", c.v, c.way, got, c.want)
		}
	}
}

// What to ask so that a row is wider by a step: a share more, a melt flow as many times as much or
// little as its logarithm says, and only on the sides that are limited.
func TestWhatToAskInstead(t *testing.T) {
	t.Parallel()
	row := func(key string, lo, hi float64) blendRow {
		return blendRow{key: key, Limit: recipe.Limit{Lo: lo, Hi: hi}}
	}
	inf := math.Inf(1)
	for i, c := range []struct {
		row  blendRow
		want map[string]float64
	}{
		{row("fines", -inf, 0.1), map[string]float64{"fines": 0.15}}, {row("mean_age", -inf, 0.4), map[string]float64{"mean_age": 0.45}}, {row("polymer", -inf, 1), nil},
		{row("melt_flow", math.Log(2), math.Log(4)), map[string]float64{"flow_low": 2 * math.Exp(-0.05), "flow_high": 4 * math.Exp(0.05)}},
		{row("melt_flow", -inf, math.Log(4)), map[string]float64{"flow_high": 4 * math.Exp(0.05)}}, {row("melt_flow", math.Log(2), inf), map[string]float64{"flow_low": 2 * math.Exp(-0.05)}},
	} {
		got := c.row.moved(0.05)
		if len(got) != len(c.want) {
			t.Errorf("case %d: %+v", i, got)
			continue
		}
		for _, x := range got {
			if math.Abs(*x.Value/c.want[x.Field]-1) > 1e-12 {
				t.Errorf("case %d: %s of %g, wanted %g", i, x.Field, *x.Value, c.want[x.Field])
			}
		}
	}
	// The nearest blend is asked for whole, or not at all where no question would allow it.
	j := &blendJob{within: 5, rows: []blendRow{row("fines", -inf, 0.1), row("melt_flow", math.Log(2), math.Log(4)), row("polymer", -inf, 0)}, req: Request{Step: 0.01}}
	near := func(short float64, curve float64, over ...float64) map[string]float64 {
		to, all := j.toNearest(&recipe.Nearest{Short: short, Over: over, Curves: []float64{curve}})
		if !all {
			return nil
		}
		m := map[string]float64{}
		for _, x := range to {
			m[x.Field] = *x.Value
		}
		return m
	}
	if m := near(0.005, 1, 0.05, -0.1, 0); len(m) != 3 || m["fines"] < 0.15 || m["fines"] > 0.152 || m["flow_low"] > 2*math.Exp(-0.1) || m["flow_low"] < 1.79 || m["within"] < 6 || m["within"] > 6.02 {
		t.Errorf("%v", m)
	}
	if m := near(0, 0, 0, 0.1, 0); len(m) != 1 || m["flow_high"] < 4*math.Exp(0.1) || m["flow_high"] > 4.45 {
		t.Errorf("%v", m)
	}
	if near(0.0051, 0, 0, 0, 0) != nil || near(-0.0051, 0, 0, 0, 0) != nil || near(0, 0, 0, 0, 0.1) != nil {
		t.Error("what no question changes is asked for")
	}
}
