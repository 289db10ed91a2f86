package plan_test

import (
	"slices"
	"testing"

	"hopperful/answer"
	"hopperful/shop"
)

// A plan that the forecast alone would bar, and that is given because runs on record were
// as warm and came out as grains, says so where it tells what could spoil it: a person may not read
// "would not hold in 65 % of cases" beside "grind six charges" without the reason.
func TestAPlanAgainstTheForecastSaysWhyItIsAllowed(t *testing.T) {
	t.Parallel()
	s := noted(t, kettle(), 6, func(_ int, b *shop.Ground) { b.Run = 240 })
	req := bracket(0.5, "PLA")
	req.Lots = []shop.LotID{"S1"}
	g := grind(t, s, req)
	allowed := slices.ContainsFunc(g.Limits, func(l answer.Limit) bool {
		return slices.Contains(l.Figure.Warnings, "plan.as_warm_as_before")
	})
	said := slices.ContainsFunc(g.Spoilers, func(f answer.Finding) bool { return f.Code == "plan.limit_fails_by_forecast" })
	bare := slices.ContainsFunc(g.Spoilers, func(f answer.Finding) bool { return f.Code == "plan.limit_fails" })
	if !g.Possible || !allowed || !said || bare {
		t.Errorf("allowed by what was done: %v, said so: %v, bare: %v: %s", allowed, said, bare, shown(g))
	}
}
