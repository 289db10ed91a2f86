package fit

import "hopperful/plan/answer"

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
func judge(chance float64, known bool) answer.Verdict {
	switch {
	case chance >= yesFrom && known:
		return answer.Yes
	case chance >= likelyFrom:
		return answer.Likely
	case chance <= noUpTo && known:
		return answer.No
	case chance <= unlikelyUpTo:
		return answer.Unlikely
	case !known:
		return answer.Unknown
	case chance >= 0.5:
		return answer.Likely
	}
	return answer.Unlikely
}

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
