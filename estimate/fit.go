package estimate

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"

	"gonum.org/v1/gonum/mat"

	"hopperful/process/breakage"
)

// Setup is what a fit takes as given.
type Setup struct {
	Area    float64            // inner wall of the mill that a charge touches [m²]
	Chamber float64            // volume of the mill [m³]; 0: a litre
	Priors  map[string]Beliefs // before any record, by polymer
	Usual   *Run               // how mills like it are commonly run and give grains; nil: not known

	exact bool // the models are the truth: for tests of the statistics alone
}

// chamber is the mill's volume [m³].
func (s *Setup) chamber() float64 {
	if s.Chamber > 0 {
		return s.Chamber
	}
	return 1e-3
}

// Skipped is a run the fit could not use.
type Skipped struct {
	Record int64
	Why    error // a [process.RangeError], or an unknown polymer
}

// fit is a posterior being looked for.
type fit struct {
	setup    Setup
	runs     []Run
	before   []Beliefs // a run
	ledger   *ledger
	links    [][]link    // a run
	readings [][]reading // a run
	spreads  [][]float64 // a run, a reading
	chains   [][2]int
	grid     breakage.Grid
	workers  []*worker
	rough    []*worker // quicker, for draws
	drawing  sync.Mutex

	errorScale [errorKinds]float64 // of the models' error, over what is believed beforehand

	v      []float64   // variables
	now    []outlook   // at v
	active []int       // variables that some record speaks of
	place  map[int]int // variable → place in active
	slopes []*slopes   // a run
	pulls  [][]pull    // a run
	blocks []*block

	step       int       // run from which a sudden change is reckoned with; 0: none
	differedAt []float64 // the variables that slopes belong to
	want       [paramCount]bool
}

// pull is how a run's readings change with one active variable.
type pull struct {
	at     int // place in active
	of     link
	column []float64
}

// by is what a pull's column is multiplied by: the scale of the models' error.
func (p pull) by(f *fit) float64 {
	if k, ok := p.of.errs(); ok {
		return scaleOf(&f.errorScale, k, p.of.slope)
	}
	return 1
}

// Fit learns a mill from its runs, in whatever order they come. It finds the
// most probable parameters, the models' error among them, by damped Gauss–Newton
// steps and takes the posterior for normal around them (Laplace), on the
// parameters' own normal scales. What no record speaks of keeps its prior exactly.
//
// Runs that no mill can have made are left out and named in [Fitted.Skipped].
func Fit(s Setup, runs []Run) (*Fitted, error) {
	f := &fit{setup: s, place: map[int]int{}}
	skipped := f.admit(runs)
	f.ledger = newLedger(f.runs)
	for k := range f.errorScale {
		if !s.exact {
			f.errorScale[k] = 1
		}
	}
	out := &Fitted{Skipped: skipped, fit: f}
	if len(f.runs) == 0 {
		return out, nil
	}
	if err := f.prepare(); err != nil {
		return nil, err
	}
	f.divide()
	f.v = make([]float64, len(f.ledger.names))
	var err error
	if f.now, err = f.look(f.v); err != nil {
		return nil, fmt.Errorf("the books' values for this mill do not hold together: %w", err)
	}
	f.spreads = make([][]float64, len(f.runs))
	f.spreadOut()
	// Readings are trusted less at first, so that none counts as a slip before the
	// fit is near.
	if err := f.descend(true, func(x float64) float64 { return math.Max(weigh(x/farStart), 1) }); err != nil {
		return nil, err
	}
	if err := out.settle(); err != nil {
		return nil, err
	}
	var at int
	if out.change, at, err = f.lookForChange(); err != nil {
		return nil, err
	}
	if out.change.Probability > ChangeTaken {
		if err := f.reckonWith(at); err != nil {
			return nil, err
		}
		if err := out.settle(); err != nil {
			return nil, err
		}
	}
	if out.spread, err = f.posterior(); err != nil {
		return nil, err
	}
	out.left = f.leaveOut(out.spread)
	out.calibrate()
	return out, nil
}

// settle descends to the most probable variables, and scales the models' error
// anew until it stays.
func (f *Fitted) settle() (err error) {
	for range mostRounds {
		f.fit.spreadOut()
		if err := f.fit.descend(false, weigh); err != nil {
			return err
		}
		if f.spread, err = f.fit.posterior(); err != nil {
			return err
		}
		if !f.fit.rescale() {
			return nil
		}
	}
	return nil
}

// mostRounds bounds how often the models' error is scaled anew.
const mostRounds = 2

// admit takes the runs that can have been, in the order of the mill's life, as far
// as they say something new.
func (f *fit) admit(runs []Run) (out []Skipped) {
	var can []Run
	for _, r := range runs {
		if _, ok := f.setup.Priors[r.Polymer]; !ok {
			out = append(out, Skipped{r.Record, fmt.Errorf("nothing is believed of the polymer %q", r.Polymer)})
			continue
		}
		if err := r.check(); err != nil {
			out = append(out, Skipped{r.Record, err})
			continue
		}
		can = append(can, r)
	}
	order := inOrder(can)
	sorted := make([]Run, len(order))
	for i, j := range order {
		sorted[i] = can[j]
	}
	for _, i := range condense(sorted, f.setup.chamber()) {
		r := sorted[i]
		b := f.setup.Priors[r.Polymer]
		b.sheet(&r)
		f.runs, f.before = append(f.runs, r), append(f.before, b)
	}
	return out
}

// Descent. A step is tried at full length first and damped until it helps.
const (
	mostSteps = 25
	longStep  = 1.5  // most that a variable moves at once, in prior spreads
	goodStep  = 1e-3 // log likelihood below which a step is not worth the next
	fairStep  = 0.1  // the same while still far off
	farStart  = 5.0  // how much less readings are trusted at first, so that none counts as a slip before the fit is near
	stale     = 0.25 // move after which slopes are worked out anew, in prior spreads
	farthest  = 5.0  // prior spreads beyond which nothing is believed
)

// errAdrift says that the descent found nothing to stand on.
var errAdrift = errors.New("the records of this mill contradict its models: no parameters fit them; check the latest entries")

// descend finds the most probable variables; at first it asks which of them the
// records speak of.
func (f *fit) descend(first bool, w weighing) error {
	damp, enough := 0.0, goodStep
	if first {
		enough = fairStep
	}
	for step := range mostSteps {
		if first && step == 0 || f.strayed() {
			if err := f.differAll(first); err != nil {
				return err
			}
		}
		if err := f.hold(w); err != nil {
			return err
		}
		f.whiten()
		cost := f.cost(f.now, f.v)
		normal, slope := f.normal()
		gained := false
		for range 10 {
			v, ok := f.stepped(normal, slope, damp)
			if ok {
				if next, err := f.look(v); err == nil {
					if c := f.cost(next, v); c < cost && !math.IsNaN(c) {
						gained = cost-c > enough
						f.v, f.now = v, next
						damp /= 10
						break
					}
				}
			}
			damp = math.Max(10*damp, 0.01)
		}
		if !gained {
			return nil
		}
	}
	return nil
}

// strayed reports whether the variables have moved far enough since the slopes
// were worked out that they may have changed.
func (f *fit) strayed() bool {
	for i, v := range f.v {
		if math.Abs(v-f.differedAt[i]) > stale {
			return true
		}
	}
	return false
}

// stepped solves for the next variables.
func (f *fit) stepped(normal *mat.SymDense, slope []float64, damp float64) ([]float64, bool) {
	n := len(f.active)
	v := slices.Clone(f.v)
	if n == 0 {
		return v, false
	}
	damped := mat.NewSymDense(n, nil)
	damped.CopySym(normal)
	for a := range n {
		damped.SetSym(a, a, normal.At(a, a)*(1+damp))
	}
	var chol mat.Cholesky
	if !chol.Factorize(damped) {
		return v, false
	}
	var step mat.VecDense
	if err := chol.SolveVecTo(&step, mat.NewVecDense(n, slices.Clone(slope))); err != nil {
		return v, false
	}
	shorten := 1.0
	for a := range f.active {
		shorten = math.Min(shorten, longStep/math.Max(math.Abs(step.AtVec(a)), longStep))
	}
	for a, name := range f.active {
		v[name] = math.Min(math.Max(v[name]-shorten*step.AtVec(a), -farthest), farthest)
	}
	return v, true
}
