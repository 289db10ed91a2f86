package study

import (
	"fmt"
	"math"
	"slices"

	"hopperful/internal/study/outside"
)

// Does the program notice when a mill changes at once, and how often does it
// ask when nothing has changed?

// The change, and how it is looked for.
const (
	bluntTo      = 0.55 // share of the break rate left
	beforeChange = 12   // records
	afterChange  = 8
	firstLook    = 4    // records
	sinceWithin  = 2    // records: a change is named right when its record is this near
	otherScrap   = 1.25 // times as readily or less so: scrap that the question is right to ask about
)

// Noticed is what came of it.
type Noticed struct {
	Mills   int
	After   []int // runs until a mill was asked about, of those that were
	Right   int   // of them, with the right record
	Looks   int   // without a change
	Scrap   int   // that ask, and rightly: the bag of scrap had changed
	Falsely int
}

// Within is how many mills were asked about within so many runs.
func (n Noticed) Within(runs int) int {
	count := 0
	for _, after := range n.After {
		if after <= runs {
			count++
		}
	}
	return count
}

// Changes follows the makers of the seeds before and after a change.
func Changes[S outside.Seed](seeds []S) (Noticed, error) {
	n := Noticed{Mills: len(seeds)}
	for _, seed := range seeds {
		m, err := newMaker(seed)
		if err == nil {
			err = n.watch(m)
		}
		if err != nil {
			return n, fmt.Errorf("mill %d: %w", seed, err)
		}
	}
	return n, nil
}

// watch looks after every record.
func (n *Noticed) watch(m *maker) error {
	for count := firstLook; count <= beforeChange; count++ {
		if err := m.records(count); err != nil {
			return err
		}
		since, asked, err := m.changed()
		if err != nil {
			return err
		}
		n.Looks++
		switch mill, _ := m.state.Mill(millName); {
		case !asked:
		case differ(m.scrap, slices.Index(mill.Runs, since)):
			n.Scrap++
		default:
			n.Falsely++
		}
	}
	m.mill.Blunt(bluntTo)
	mill, _ := m.state.Mill(millName)
	known := len(mill.Runs)
	for after := 1; after <= afterChange; after++ {
		if err := m.records(beforeChange + after); err != nil {
			return err
		}
		since, asked, err := m.changed()
		if err != nil {
			return err
		}
		if !asked {
			continue
		}
		n.After = append(n.After, after)
		mill, _ := m.state.Mill(millName)
		if at := slices.Index(mill.Runs, since); at >= known-sinceWithin && at <= known+sinceWithin {
			n.Right++
		}
		return nil
	}
	return nil
}

// differ reports whether scrap broke more readily, or less, from a run on than before it,
// by what the question counts as other scrap.
func differ(scrap []float64, from int) bool {
	if from < 1 || from >= len(scrap) {
		return false
	}
	mean := func(all []float64) (sum float64) {
		for _, v := range all {
			sum += math.Log(v) / float64(len(all))
		}
		return sum
	}
	return math.Abs(mean(scrap[from:])-mean(scrap[:from])) >= math.Log(otherScrap)
}
