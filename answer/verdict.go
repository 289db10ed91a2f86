package answer

import (
	"math"
	"slices"
	"strings"

	"hopperful/fact"
)

// Verdict is the word for how sure something is.
type Verdict string

// The verdicts, best first. Fits is said of a limit, Yes of a question.
const (
	Fits     Verdict = "fits"
	Yes      Verdict = "yes"
	Likely   Verdict = "likely"
	Open     Verdict = "open"
	Unknown  Verdict = "not known yet"
	Unlikely Verdict = "unlikely"
	No       Verdict = "no"
)

// Verdicts are the words of the scale, best first.
func Verdicts() []Verdict { return []Verdict{Fits, Yes, Likely, Open, Unknown, Unlikely, No} }

// Fact is the verdict as a term of the catalogue of words.
func (v Verdict) Fact(name string) fact.Fact {
	return fact.Word(name, "verdict."+strings.ReplaceAll(string(v), " ", "_"))
}

// Rank is the place of a verdict on a question, the higher the worse; the whole
// is only as good as its worst item.
func (v Verdict) Rank() int {
	return slices.Index([]Verdict{Yes, Likely, Open, Unknown, Unlikely, No}, v)
}

// SureShare is the chance from which on something is counted on: what a plan
// asks of its limits, and what yes and fits mean. It is also the upper end of
// every range (10–90 %), so that a bound which just holds is one that the range
// just keeps.
const SureShare = 0.9

// The other steps of the one scale, which lies alike around one in two: likely
// is two thirds and more, open the third in the middle, unlikely less, no less
// than one in ten (Mastrandrea2010, table 1: very likely from 90 %, likely from
// 66 %, about as likely as not from 33 %, unlikely below, very unlikely below 10 %).
const (
	LikelyShare = 2.0 / 3
	openShare   = 1.0 / 3
	noShare     = 0.1
)

// Judge is the word for a chance. From books alone nothing is certain: yes and
// no are kept for what the shop itself has measured or said, and in the middle
// such an answer is not known yet, because there is something to measure. A
// chance that is not a number, because nothing was drawn, is not known either.
func Judge(chance float64, known bool) Verdict {
	switch {
	case math.IsNaN(chance):
		return Unknown
	case chance >= SureShare && known:
		return Yes
	case chance >= LikelyShare:
		return Likely
	case chance < noShare && known:
		return No
	case chance < openShare:
		return Unlikely
	case !known:
		return Unknown
	}
	return Open
}

// Held is the word for a limit that this share of the draws keeps; NaN where
// nothing was drawn.
func Held(share float64) Verdict {
	v := Judge(share, true)
	if v == Yes {
		return Fits
	}
	return v
}
