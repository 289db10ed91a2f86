package fit

import (
	"cmp"
	"slices"
)

// worse puts the item that decides first: a wrong plastic, then the worst verdict, among
// alike ones the lowest chance.
func worse(a, b Item) int {
	switch {
	case a.wrong():
		return -1
	case b.wrong():
		return 1
	}
	return cmp.Or(b.Verdict.Rank()-a.Verdict.Rank(), cmp.Compare(a.Chance, b.Chance))
}

// worst is the item that decides.
func worst(items []Item) Item { return slices.MinFunc(items, worse) }
