package fit

import "slices"

// The thresholds of a verdict. Judgement: yes is what one would promise a
// customer, likely what one would try with own time.
const (
	yesFrom      = 0.95
	likelyFrom   = 0.75
	unlikelyUpTo = 0.25
	noUpTo       = 0.05
)

// judge turns a chance into a word. From books alone nothing is certain: yes and
// no are kept for what the shop itself has measured or said. In between, an
// answer is not known yet as long as there is something to measure; where all
// has been measured the likelier side is named.
func judge(chance float64, known bool) Verdict {
	switch {
	case chance >= yesFrom && known:
		return Yes
	case chance >= likelyFrom:
		return Likely
	case chance <= noUpTo && known:
		return No
	case chance <= unlikelyUpTo:
		return Unlikely
	case !known:
		return Unknown
	case chance >= 0.5:
		return Likely
	}
	return Unlikely
}

// badness ranks verdicts; the whole is only as good as its worst item.
func (v Verdict) badness() int {
	return slices.Index([]Verdict{Yes, Likely, Unknown, Unlikely, No}, v)
}

// worst is the item that decides: the worst verdict, among alike ones the
// lowest chance.
func worst(items []Item) Item {
	w := items[0]
	for _, x := range items[1:] {
		if b := x.Verdict.badness() - w.Verdict.badness(); b > 0 || b == 0 && x.Chance < w.Chance {
			w = x
		}
	}
	return w
}
