package recipe

// Small problems spelled by bytes, against trying everything.

import (
	"math"
	"testing"
)

// spelled reads a problem off bytes: every string of bytes spells one.
func spelled(text []byte) Problem {
	at := 0
	next := func(n int) float64 {
		if at == len(text) {
			return 0
		}
		at++
		return float64(int(text[at-1]) % n)
	}
	p := Problem{Mass: 1 + next(8), Slack: next(2) / 2, Most: int(next(4))}
	p.Slack = min(p.Slack, p.Mass/2)
	for range 1 + int(next(4)) {
		l := Lot{Cost: next(11) - 5, Stock: next(10), Least: next(4), Step: 1 + next(3)/2}
		l.Must = min(next(3), l.Stock)
		p.Lots = append(p.Lots, l)
	}
	for range int(next(4)) {
		l := Limit{Lo: math.Inf(-1), Hi: next(9)/2 - 1}
		if next(2) == 1 {
			l.Lo = l.Hi - next(4)/2
		}
		for range p.Lots {
			l.Of = append(l.Of, next(7)-2)
		}
		p.Limits = append(p.Limits, l)
	}
	return p
}

func FuzzSolve(f *testing.F) {
	f.Add([]byte("a blend of three lots"))
	f.Add([]byte{7, 1, 2, 3, 4, 9, 0, 1, 0, 2, 8, 1, 2, 1, 6, 5, 0, 0, 0, 1, 3, 3, 1, 2, 5, 0, 4, 1, 1, 0, 0, 6, 2, 2, 2})
	f.Add([]byte{255, 254, 253, 252, 251, 250, 249, 248, 247, 246, 245, 244, 243, 242, 241, 240, 239, 238})
	f.Fuzz(func(t *testing.T, text []byte) {
		p := spelled(text)
		a, err := Solve(t.Context(), p, Options{})
		if err != nil {
			if p.check() == nil {
				t.Fatalf("%v: %+v", err, p)
			}
			return
		}
		holdAnswer(t, p, a)
		want, cost := everything(p, nil), math.Inf(1)
		if len(a.Recipes) > 0 {
			cost = a.Recipes[0].Cost
		}
		if !a.Proved || cost != want && math.Abs(cost-want) > 1e-6*(1+math.Abs(want)) {
			t.Fatalf("cost %g (proved %v), by trying everything %g: %+v", cost, a.Proved, want, p)
		}
	})
}
