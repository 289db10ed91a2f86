package identify

import (
	"math"

	"gonum.org/v1/gonum/mathext"

	"hopperful/process"
)

// CountRange returns between which shares the truth lies when x of n pieces
// drawn at random were of a kind [1].
//
//	x  pieces of the kind, 0 to n
//	n  pieces looked at, 1 to 1e6
//	level  share of such ranges that hold the truth at least [1], 0.5 to 0.999
//
// Equation: low = B(α/2; x, n − x + 1), high = B(1 − α/2; x + 1, n − x), B the
// quantile of the beta distribution, α = 1 − level; 0 and 1 at the ends.
// Holds for: pieces drawn at random; a handful off the top is none. The range is
// never too narrow, often a little wide.
// Source: Clopper1934
// Errors: RangeError outside the ranges.
// Checks: CountRange rows of checks.csv (6 second library, 1 own derivation, 2 errors).
func CountRange(x, n int, level float64) (low, high float64, err error) {
	if err := process.Within("pieces looked at", float64(n), 1, 1e6, "", "judgement"); err != nil {
		return 0, 0, err
	}
	if err := process.Within("pieces alike", float64(x), 0, float64(n), "", "own derivation"); err != nil {
		return 0, 0, err
	}
	if err := process.Within("level", level, 0.5, 0.999, "", "judgement"); err != nil {
		return 0, 0, err
	}
	tail, k, all := (1-level)/2, float64(x), float64(n)
	high = 1
	if x > 0 {
		low = mathext.InvRegIncBeta(k, all-k+1, tail)
	}
	if x < n {
		high = mathext.InvRegIncBeta(k+1, all-k, 1-tail)
	}
	return low, high, nil
}

// PiecesFor returns how many pieces must be looked at, none of them wrong, to
// say that the share of wrong ones is not above a limit [1].
//
//	limit  share [1], 0.0001 to 0.5
//	level  as in CountRange
//
// Equation: n = ⌈ln(α/2)/ln(1 − limit)⌉, from (1 − limit)^n = α/2.
// Holds for: pieces drawn at random.
// Source: own derivation
// Errors: RangeError outside the ranges.
// Checks: PiecesFor rows of checks.csv (3 own derivation, 1 error).
func PiecesFor(limit, level float64) (int, error) {
	if err := process.Within("limit", limit, 1e-4, 0.5, "", "judgement"); err != nil {
		return 0, err
	}
	if err := process.Within("level", level, 0.5, 0.999, "", "judgement"); err != nil {
		return 0, err
	}
	return int(math.Ceil(math.Log((1-level)/2) / math.Log1p(-limit))), nil
}

// Parting is how well a liquid parts two materials.
type Parting struct {
	Wrong float64 // chance that a chip of the wrong material is on its side [1]
	Right float64 // chance that a chip of the right material is on that side too [1]
}

// Parts returns how well a liquid parts a stray from its host, on the side
// where the stray is to be found; floats says whether that is the top.
func (b *Book) Parts(host, stray string, liquid float64) (p Parting, floats bool, err error) {
	top, err := b.Chances(Finding{Test: "floats", Yes: true, At: liquid})
	if err != nil {
		return p, false, err
	}
	of := func(name string) float64 {
		sum, weight := 0.0, 0.0
		for i, c := range b.Candidates {
			if c.Polymer == name {
				sum, weight = sum+c.Prior*top[i], weight+c.Prior
			}
		}
		if weight == 0 {
			return unlisted
		}
		return sum / weight
	}
	p = Parting{Wrong: of(stray), Right: of(host)}
	if floats = p.Wrong > p.Right; !floats {
		p.Wrong, p.Right = 1-p.Wrong, 1-p.Right
	}
	return p, floats, nil
}

// leastParting is the least difference of the two chances for a split to say
// anything: below it most of what is on the wrong side belongs there. Judgement.
const leastParting = 0.5

// TrueShare returns the share of the wrong material behind a split [1].
//
//	seen  share of pieces on the stray's side [1], 0 to 1
//	p  see its fields, each 0 to 1 [1]
//
// Equation: s = (f − R)/(W − R), held to what a share can be, 0 to 1.
// Holds for: chances that are right for these very materials; a split whose
// share lies below R or above W only says that there is none or nothing else.
// Source: Rogan1978
// Errors: RangeError for a share outside, or chances less than 0.5 apart.
// Checks: TrueShare rows of checks.csv (1 identity, 4 own derivation, 2 errors).
func TrueShare(seen float64, p Parting) (float64, error) {
	for _, c := range []struct {
		name  string
		value float64
	}{{"share seen", seen}, {"stray's chance", p.Wrong}, {"host's chance", p.Right}} {
		if err := process.Within(c.name, c.value, 0, 1, "", "own derivation"); err != nil {
			return 0, err
		}
	}
	if err := process.Within("difference made", p.Wrong-p.Right, leastParting, 1, "", "judgement"); err != nil {
		return 0, err
	}
	return math.Min(1, math.Max(0, (seen-p.Right)/(p.Wrong-p.Right))), nil
}
