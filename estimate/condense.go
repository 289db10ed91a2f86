package estimate

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// A mill with a thousand runs learns from as many as say something new: the latest
// ones, and of the older those that were run most unlike each other. What the
// models leave out does not average away, so a hundredth charge of one kind adds
// next to nothing to the ten before it.

const (
	// freshRuns is how many of the latest runs are all taken.
	freshRuns = 40
	// oldRuns is how many of the older ones stand for the rest.
	oldRuns = 24
)

// like names runs that tell the same.
func (r *Run) like() string {
	return fmt.Sprintf("%s/%s/%d/%d/%.0f/%.0f", r.Polymer, r.Screen, r.Chapter, r.Load.Level, math.Log(r.Charge)/0.25, math.Log(r.Time)/0.35)
}

// condense picks the runs to learn from, of all in the order of the mill's life.
// One whose run before it is left out remembers what that one left.
func condense(runs []Run, chamber float64) []int {
	n := len(runs)
	var picked []int
	if n <= freshRuns+oldRuns {
		for i := range n {
			picked = append(picked, i)
		}
		return picked
	}
	kinds := map[string][]int{}
	var names []string
	for i := n - freshRuns - 1; i >= 0; i-- { // the latest first
		name := runs[i].like()
		if kinds[name] == nil {
			names = append(names, name)
		}
		kinds[name] = append(kinds[name], i)
	}
	for round := 0; len(picked) < oldRuns; round++ {
		for _, name := range names {
			if round < len(kinds[name]) && len(picked) < oldRuns {
				picked = append(picked, kinds[name][round])
			}
		}
	}
	for i := n - freshRuns; i < n; i++ {
		picked = append(picked, i)
	}
	slices.Sort(picked)
	lying := NewLying(chamber)
	for i := range runs {
		if r := &runs[i]; r.Follows && r.lay == nil && i > 0 && !slices.Contains(picked, i-1) {
			r.lay = new(lying.now)
		}
		lying.Meet(&runs[i])
	}
	return picked
}

// remainder is what lay in a mill [kg].
type remainder struct{ mean, spread float64 }

// inOrder are the places of runs in the order of the mill's life.
func inOrder(runs []Run) []int {
	order := make([]int, len(runs))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		x, y := runs[a], runs[b]
		return cmp.Or(cmp.Compare(x.Chapter, y.Chapter), cmp.Compare(x.Since, y.Since), cmp.Compare(x.Record, y.Record))
	})
	return order
}
