// Looks over a stack: what is refused, what is doubted, what is said.

package sieve

import (
	"fmt"
	"math"
	"slices"
)

const (
	// maxMass bounds what lies on one sieve [kg]; a bench sieve bears a few (judgement).
	maxMass = 1000.0
	// maxSieves bounds a stack; a tall one has twelve (judgement).
	maxSieves = 100
	// maxPortions bounds the portions of one sample (judgement).
	maxPortions = 1000
	// Tares of a small and a large frame [kg] (judgement).
	leastTare, mostTare = 0.030, 3.0
	// excess over the charge from which a forgotten tare is looked for, and how
	// evenly tares may differ from one another (judgement).
	tareExcess, tareSpread = 0.05, 0.4
	// muchOpen is the share in an open class from which it is mentioned (judgement).
	muchOpen = 0.05
	// wideStep is the ratio of neighbouring openings from which interpolation is
	// doubtful (judgement; the widest usual step is 2).
	wideStep = 2.1
)

// checkStack refuses what cannot be reckoned with.
func checkStack(s Stack) error {
	fail := func(c Code, portion, row int, hint, format string, args ...any) error {
		return &EntryError{Code: c, Portion: portion, Row: row, What: fmt.Sprintf(format, args...), Hint: hint}
	}
	n := len(s.Sieves)
	switch {
	case n == 0:
		return fail(TooFew, 0, 0, "one sieve and the pan are the least", "the stack holds no sieve")
	case n > maxSieves:
		return fail(WrongNumber, 0, 0, "", "%d sieves are more than %d", n, maxSieves)
	case len(s.Portions) == 0:
		return fail(WrongNumber, 0, 0, "enter the masses found", "nothing was weighed")
	case len(s.Portions) > maxPortions:
		return fail(WrongNumber, 0, 0, "", "%d portions are more than %d", len(s.Portions), maxPortions)
	case !(s.Allowance.Share >= 0 && s.Allowance.Share <= 1):
		return fail(NotANumber, 0, 0, "give it as a share of the charge", "the allowance for loss is %g", s.Allowance.Share)
	}
	for i, one := range s.Sieves {
		if !(one.Opening > 0) || math.IsInf(one.Opening, 0) {
			return fail(NotANumber, 0, i+1, "", "a sieve with openings of %g m", one.Opening)
		}
		if i > 0 && one.Opening == s.Sieves[i-1].Opening {
			return fail(SameSieve, 0, i+1, "take one of them out", "%s stands twice", name(one.Opening))
		}
		if i > 0 && one.Opening > s.Sieves[i-1].Opening {
			return fail(WrongOrder, 0, i+1, "list the sieves from the top, the coarsest first",
				"%s lies under %s", name(one.Opening), name(s.Sieves[i-1].Opening))
		}
	}
	for i, p := range s.Portions {
		if len(p.Rows) != n+1 {
			return fail(WrongNumber, i+1, 0, "give one mass a sieve, then the pan", "%d masses for %d sieves and the pan", len(p.Rows), n)
		}
		if !(p.Charge >= 0 && p.Charge <= maxMass) {
			return fail(NotANumber, i+1, 0, "enter 0 if it was not weighed", "a charge of %g kg", p.Charge)
		}
	}
	return nil
}

func sameSieves(a, b []Sieve) bool {
	return slices.EqualFunc(a, b, func(x, y Sieve) bool { return x.Opening == y.Opening && x.Form == y.Form })
}

// tareForgotten asks whether gross masses were entered as net ones: then what
// was found exceeds the charge by about the same tare a row, and no row holds
// less than about that tare.
func tareForgotten(p Portion, net []float64) (Doubt, bool) {
	for _, row := range p.Rows {
		if row.Tare > 0 {
			return Doubt{}, false
		}
	}
	over := total(net) - p.Charge
	if p.Charge == 0 || over < tareExcess*p.Charge {
		return Doubt{}, false
	}
	// Perhaps only some rows were entered with their sieve: the fewest heavy rows
	// left out first, so that the explanation covers as much as it can.
	sorted := slices.Clone(net)
	slices.SortFunc(sorted, func(a, b float64) int {
		if a > b {
			return -1
		}
		return 1
	})
	for rows := len(sorted); rows >= 1; rows-- {
		tare := over / float64(rows)
		if tare >= leastTare && tare <= mostTare && sorted[rows-1] >= (1-tareSpread)*tare {
			return Doubt{Code: TareForgotten, Value: tare, Rows: rows}, true
		}
	}
	return Doubt{}, false
}

// judge warns of what is to be borne in mind with an analysis.
func (a *Analysis) judge() {
	warn := func(c Code) { a.Warnings = append(a.Warnings, c) }
	switch {
	case a.Charge == 0: // a loss would go unseen
		warn(ChargeUnknown)
	case a.Closes:
	case a.Loss > 0: // most likely dust
		warn(Loss)
	default: // one mass is wrong
		warn(Gain)
	}
	n := len(a.Sieves)
	mixed := false
	for i := 1; i < n; i++ {
		if a.Sieves[i-1].Opening/a.Sieves[i].Opening > wideStep { // a sieve is missing there
			warn(WideStep)
		}
		mixed = mixed || (a.Sieves[i].Form == PlateRound) != (a.Sieves[0].Form == PlateRound)
	}
	if mixed { // a round hole holds back what a square one of the same width lets through
		warn(MixedForms)
	}
	if a.Retained[0]/a.Recovered > muchOpen { // how coarse it is, this stack cannot say
		warn(CoarseTop)
	}
	if a.Retained[n]/a.Recovered > muchOpen { // how fine it is, this stack cannot say
		warn(FullPan)
	}
}
