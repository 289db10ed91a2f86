package answer

import (
	"math"
	"slices"
)

// Verdict is the word for how sure something is.
type Verdict string

// The verdicts, best first. Fits is said of a limit, Yes of a question.
const (
	Fits     Verdict = "fits"
	Yes      Verdict = "yes"
	Likely   Verdict = "likely"
	Unknown  Verdict = "not known yet"
	Unlikely Verdict = "unlikely"
	No       Verdict = "no"
)

// Rank is the place of a verdict on a question, the higher the worse; the whole
// is only as good as its worst item.
func (v Verdict) Rank() int {
	return slices.Index([]Verdict{Yes, Likely, Unknown, Unlikely, No}, v)
}

// Below SureShare judgement divides the rest: a limit is likely kept when more
// draws keep it than not, and unlikely when at least one in ten does.
const (
	likelyShare   = 0.5
	unlikelyShare = 0.1
)

// Held is the word for a limit that this share of the draws keeps; NaN where
// nothing was drawn.
func Held(share float64) Verdict {
	switch {
	case math.IsNaN(share):
		return Unknown
	case share >= SureShare:
		return Fits
	case share >= likelyShare:
		return Likely
	case share >= unlikelyShare:
		return Unlikely
	}
	return No
}
