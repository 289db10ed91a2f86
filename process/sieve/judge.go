// Says which law fits and what that means.

package sieve

import "fmt"

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
	Word  string   // "fits well", "fits roughly" or "does not fit"
	Alike []Law    // laws that do as well
	Says  []string // what it means, a sentence each
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
	v.Says = meaning(v)
	return v, nil
}

// meaning puts a verdict into sentences.
func meaning(v Verdict) []string {
	b := v.Best
	if v.Word == "does not fit" {
		return []string{fmt.Sprintf("No law follows these shares (the nearest, %s, misses by %.1f points): perhaps two products are mixed, or a mass is wrong. Use the shares themselves.", b.Law, 100*b.RMS)}
	}
	var says []string
	switch b.Law {
	case LawRRSB:
		says = append(says, fmt.Sprintf("RRSB %s (x' = %s, n = %.2f): the pieces were broken again and again by the same blows.", v.Word, name(b.Scale), b.Shape))
		if b.Shape <= 1 {
			says = append(says, "n is not above 1: the law holds so much dust that no mean surface exists. Do not stretch it below the finest sieve.")
		} else if b.Shape > 2.5 {
			says = append(says, "n is large: an even product, as when pieces leave through the screen as soon as they fit.")
		}
	case LawGGS:
		says = append(says, fmt.Sprintf("A power law %s (largest %s, slope %.2f): the fine end counts, and little is coarser than the largest size.", v.Word, name(b.Scale), b.Shape))
	case LawLogNormal:
		says = append(says, fmt.Sprintf("Log-normal %s (x50 = %s, s = %.2f): cut at random, with fewer fines than RRSB would have.", v.Word, name(b.Scale), b.Shape))
	}
	for _, other := range v.Alike {
		says = append(says, fmt.Sprintf("%s follows these sieves as well: do not read a mechanism out of the choice.", other))
	}
	if b.MisfitGrains < b.Grains/10 {
		says = append(says, fmt.Sprintf("The shares miss the law as a sample of only %.0f grains would; the parameters' errors are widened for that.", b.MisfitGrains))
	}
	return says
}
