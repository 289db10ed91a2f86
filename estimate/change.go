package estimate

import "math"

// A sudden change of a mill that nobody told: from some record on it breaks faster
// or slower by one factor. Every record is tried as the first after it, against no
// change at all; wear, sheets and blades, being part of the fit, are no change.

// What is believed of a change before any record. Judgement.
const (
	changeChance = 0.03 // that it came with a given record: a nick, a half-blind sheet, other scrap within a month or two of evenings
	changeSpread = 0.5  // of the break rate's logarithm
	leastBefore  = 3    // runs on the blade and sheet before it can have come: two may both have been odd
	leastAfter   = 2    // runs after it: a single one may be a slip
	asked        = 0.65 // probability from which to ask
)

// ChangeTaken is the probability of a change from which the fit reckons with it.
// Judgement.
const ChangeTaken = 0.95

// Change is a sudden change of a mill that nobody told.
type Change struct {
	Since       int64   // record of the first run after it
	Probability float64 // that there was one [1]
	Factor      float64 // of the break rate, from before to after [1]
	Low, High   float64 // its 10–90 % range
	Records     []int64 // runs from it on
}

// Change says whether the mill suddenly ground faster or slower since some record,
// as far as asking for the reason is worth it.
func (f *Fitted) Change() (Change, bool) { return f.change, f.change.Probability > asked }

// stepName names its variable.
const stepName = "sudden change"

// lookForChange tries every run on the present blade and sheet.
func (f *fit) lookForChange() (Change, int, error) {
	n := len(f.runs)
	// A reading far off is what is looked for, so it keeps more of its weight.
	s, err := f.around(func(x float64) float64 { return worth(x / 2) })
	if err != nil || n == 0 || s == nil {
		return Change{}, 0, err
	}
	began := n - 1
	for began > 0 && f.runs[began-1].Chapter == f.runs[n-1].Chapter && f.runs[began-1].Screen == f.runs[n-1].Screen {
		began--
	}
	total, best, at, count := 0.0, math.Inf(-1), 0, 0
	var found Change
	for from := began + leastBefore; from <= n-leastAfter; from++ {
		a, b := f.trial(s, from)
		w := 1 / (changeSpread * changeSpread)
		logBayes := -0.5*math.Log1p(a/w) + 0.5*b*b/(a+w)
		count++
		total += changeChance * math.Exp(math.Min(logBayes, 500))
		if logBayes > best {
			mean, sd := b/(a+w), 1/math.Sqrt(a+w)
			best, at = logBayes, from
			found = Change{Since: f.runs[from].Record, Factor: math.Exp(mean), Low: math.Exp(mean - tail*sd), High: math.Exp(mean + tail*sd)}
		}
	}
	if count == 0 {
		return Change{}, 0, nil
	}
	found.Probability = total / (total + math.Pow(1-changeChance, float64(count)))
	for _, r := range f.runs[at:] {
		found.Records = append(found.Records, r.Record)
	}
	return found, at, nil
}

// trial is the information about a step at a run, and its slope: hᵀG⁻¹h and
// hᵀG⁻¹u with h the change of the readings.
func (f *fit) trial(s *spread, from int) (information, slope float64) {
	p := len(f.active)
	toward := make([]float64, p)
	for _, block := range f.blocks {
		h, some := make([]float64, block.n), false
		for j, i := range block.runs {
			if i < from || f.slopes[i] == nil {
				continue
			}
			for m, by := range f.slopes[i].byLogBreak {
				h[block.first[j]+m] = by
				some = true
			}
		}
		if !some {
			continue
		}
		forward(block.lower, block.n, h, 1)
		miss := f.unexplained(block, s)
		for k, v := range h {
			information += v * v
			slope += v * miss[k]
			for a, w := range block.white[k*p : (k+1)*p] {
				toward[a] += v * w
			}
		}
	}
	known := make([]float64, p)
	s.times(toward, known)
	for a, v := range toward {
		information -= v * known[a]
	}
	return math.Max(information, 0), slope
}

// reckonWith makes a step part of the fit.
func (f *fit) reckonWith(from int) error {
	f.step = from
	for i := from; i < len(f.runs); i++ {
		f.links[i] = append(f.links[i], f.ledger.stepLink())
	}
	for len(f.v) < len(f.ledger.names) {
		f.v = append(f.v, 0)
	}
	return f.descend(true, weigh)
}

// stepLink links the break rate to the change.
func (l *ledger) stepLink() link {
	return link{variable: l.number(stepName), param: BreakRate, factor: true, c: changeSpread}
}
