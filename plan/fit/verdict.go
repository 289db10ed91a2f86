package fit

// worst is the item that decides: the worst verdict, among alike ones the
// lowest chance.
func worst(items []Item) Item {
	w := items[0]
	for _, x := range items[1:] {
		if b := x.Verdict.Rank() - w.Verdict.Rank(); b > 0 || b == 0 && x.Chance < w.Chance {
			w = x
		}
	}
	return w
}
