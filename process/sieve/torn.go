// Is the screen torn? Too many coarse grains for a sound one.

package sieve

import (
	"math"

	"hopperful/process"
)

// Torn is what the test says.
type Torn struct {
	Alarm      bool
	FalseAlarm float64 // share of sound stacks that would alarm, as set
	ShareP     float64 // chance of so much above 1.25 holes from a sound screen
	LongP      float64 // chance of so many grains above 2 holes; 1 when nobody looked
	ShareLimit float64 // ShareP below which it alarms
	LongLimit  float64 // LongP below which it alarms; 0 when nobody looked
	// LogBayes is log10 of the odds the sample gives a torn screen over a sound
	// one, before what one believed (judgement: torn, 11 % lie above 1.25 holes
	// in the median, 2 to 32 % in 80 of 100; 30 % of that above 2 holes).
	LogBayes float64
	Expected Range   // share above 1.25 holes of a sound run: median, 10 and 90 %
	Grains   float64 // effective number of grains in the sample
}

// sharePart is the part of the false alarms the share may cause; grains above
// 2 holes have the rest (judgement).
const sharePart = 0.75

// Test looks for a torn screen. falseAlarm is the share of sound stacks that
// may alarm; 0 means 1 in 200.
//
//	screen      the screen; see its fields
//	sample      what the stack said; see its fields
//	falseAlarm  [1], 0 (meaning 0.005) or 1e-5 to 0.5
//
// Equation: ShareP = Σ_z w(z) P(Binomial(N, share(z)) ≥ N · coarse), LongP = Σ_z w(z)
// P(Poisson(m share(z) LongShare / m_grain) ≥ long); alarm when ShareP < ¾ falseAlarm or
// LongP < ¼ falseAlarm.
// Holds for: sound runs that scatter as the prior says; then at most falseAlarm of
// them alarm. A tear too small to let coarse grains out is not seen. An alarm
// asks for a look at the screen, it proves nothing.
// Source: own derivation; prior numbers are judgement.
// Errors: RangeError for arguments out of range.
// Checks: Torn rows of checks.csv (second library); simulation in torn_test.go.
func (s Sound) Test(screen Screen, sample Sample, falseAlarm float64) (Torn, error) {
	if falseAlarm == 0 {
		falseAlarm = 0.005
	}
	if err := process.Within("share of false alarms", falseAlarm, 1e-5, 0.5, "", "judgement"); err != nil {
		return Torn{}, err
	}
	screen, err := screen.check()
	if err != nil {
		return Torn{}, err
	}
	d, err := sample.draw(screen)
	if err != nil {
		return Torn{}, err
	}
	t := Torn{FalseAlarm: falseAlarm, LongP: 1, ShareLimit: falseAlarm, Grains: d.n}
	w := s.runs()
	t.Expected = s.expected(w)
	for z, share := range s.share {
		t.ShareP += w[z] * binomialTail(d.k, d.n, share)
	}
	if d.seen != NotLooked {
		t.ShareLimit, t.LongLimit, t.LongP = sharePart*falseAlarm, (1-sharePart)*falseAlarm, 0
		for z, share := range s.share {
			t.LongP += w[z] * poissonTail(d.seen, d.long*share*screen.Shape.LongShare)
		}
	}
	t.LogBayes = s.logBayes(w, d, screen)
	t.Alarm = t.ShareP < t.ShareLimit || t.LongP < t.LongLimit
	return t, nil
}

// expected returns the share of a sound run.
func (s Sound) expected(w []float64) Range {
	at := func(p float64) float64 {
		sum := 0.0
		for z := range w {
			if sum += w[z]; sum >= p {
				return s.share[z]
			}
		}
		return s.share[scores-1]
	}
	return Range{at(0.5), at(0.1), at(0.9)}
}

// A torn screen's share follows Beta(1, 6): anything from little to much.
const (
	tornPower     = 6.0
	tornLongShare = 0.3
	tornSteps     = 2000
)

// logBayes is log10 of the likelihood ratio torn over sound.
func (s Sound) logBayes(w []float64, d draw, screen Screen) float64 {
	torn := make([]float64, tornSteps)
	for i := range torn {
		p := (float64(i) + 0.5) / tornSteps
		share := 1 - math.Pow(1-p, 1/tornPower)
		torn[i] = d.logShare(share) + d.logLong(share, tornLongShare) - math.Log(tornSteps)
	}
	sound := make([]float64, scores)
	for z, share := range s.share {
		sound[z] = d.logShare(share) + d.logLong(share, screen.Shape.LongShare) + math.Log(math.Max(w[z], 1e-300))
	}
	return (logSum(torn) - logSum(sound)) / math.Ln10
}

// logSum is ln Σ e^x without overflow.
func logSum(x []float64) float64 {
	top := math.Inf(-1)
	for _, v := range x {
		top = math.Max(top, v)
	}
	sum := 0.0
	for _, v := range x {
		sum += math.Exp(v - top)
	}
	return top + math.Log(sum)
}
