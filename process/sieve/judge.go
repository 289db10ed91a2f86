// Says which law fits and what that means.

package sieve

// How near a law must come to be said to fit: root mean square of the passing
// shares (judgement; a repeated stack scatters by about 1 %, so two laws that
// both come as near as that are not told apart).
const (
	goodRMS   = 0.01
	roughRMS  = 0.03
	tellApart = 1.25 // ratio of RMS below which two laws further off are not told apart
)

// Verdict is the word on the fits.
type Verdict struct {
	Best  Fit
	Word  string // "fits well", "fits roughly" or "does not fit"
	Alike []Law  // laws that do as well
}

// Judge says which of the least-squares fits follows the shares best and what
// that means for the material.
//
//	fits  of one set of points; those by straight line are passed over
//
// Equation: best = least RMS; alike: RMS ≤ max(1.25 · that of the best, 0.01). It fits
// well up to an RMS of 0.01, roughly up to 0.03.
// Holds for: fits to the same points. A law that follows the sieves is no proof of
// how the material broke.
// Source: judgement, except where breakage leads to RRSB (Reid1965).
// Errors: *EntryError when there is no least-squares fit among them.
// Checks: Judge rows of checks.csv (3 own derivation).
func Judge(fits []Fit) (Verdict, error) {
	var v Verdict
	for _, f := range fits {
		if f.Method == NonLinear && (v.Best.Law == "" || f.RMS < v.Best.RMS) {
			v.Best = f
		}
	}
	if v.Best.Law == "" {
		return v, &EntryError{Code: TooFew, What: "no law was fitted by least squares", Hint: "add sieves"}
	}
	for _, f := range fits {
		if f.Method == NonLinear && f.Law != v.Best.Law && f.RMS <= max(tellApart*v.Best.RMS, goodRMS) {
			v.Alike = append(v.Alike, f.Law)
		}
	}
	switch {
	case v.Best.RMS <= goodRMS:
		v.Word = "fits well"
	case v.Best.RMS <= roughRMS:
		v.Word = "fits roughly"
	default:
		v.Word = "does not fit"
	}
	return v, nil
}

// Fits reports whether the best law follows the shares at all.
func (v Verdict) Fits() bool { return v.Best.Law != "" && v.Best.RMS <= roughRMS }
