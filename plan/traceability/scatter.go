package traceability

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"hopperful/fact"
	"hopperful/process/colour"
	"hopperful/shop"
)

// What is believed before any mix was looked at, and how results are weighed.
// Judgement.
const (
	priorScatter = 0.7   // [ln] one plastic scatters up to twice or half as strongly as another
	mixingErrs   = 3.0   // colour difference a small screw leaves to a well mixed melt
	heavyTail    = 4.0   // degrees of freedom: a photo that is far off counts little
	traceShare   = 1e-3  // parts below it are left out
	mainShare    = 0.9   // of a part that has to be one plastic
	deafScatter  = 3.0   // [ln] a result this unsure tells nothing
	mostScatter  = 3.912 // [ln] 50, as far as LearnScatter looks
	stepScatter  = 0.05  // [ln]
	turnsScatter = 12
)

// mixResult is what one melted mix of two plastics said.
type mixResult struct {
	lot   shop.LotID
	a, b  shop.LotID // the lots the two began in
	ratio float64    // ln of the scattering of b over that of a
	sd    float64    // of it
}

// scatters is how strongly the plastics of lots scatter against each other, learned
// from melted mixes. Only ratios show; the middle is 1.
type scatters struct {
	at      map[shop.LotID]int
	mean    []float64  // ln
	spread  *mat.Dense // lower triangle: spread × standard normal is one draw
	runs    []int      // how many results told of each
	results []mixResult
	told    map[shop.LotID]bool        // lots whose colour taught something
	unclear map[shop.LotID]fact.Saying // lots whose colour taught nothing, and why
}

// strength is how strongly a plastic scatters, by the lot it began in [1].
func (s *scatters) strength(id shop.LotID) float64 {
	if s == nil {
		return 1
	}
	if i, ok := s.at[id]; ok {
		return math.Exp(s.mean[i])
	}
	return 1
}

// doubt is the standard deviation of the logarithm of a strength, and how many
// results told of it.
func (s *scatters) doubt(id shop.LotID) (sd float64, runs int) {
	if s != nil {
		if i, ok := s.at[id]; ok {
			row := s.spread.RawRowView(i)
			return math.Sqrt(dot(row, row)), s.runs[i]
		}
	}
	return priorScatter, 0
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// learn looks at every melted mix whose colour was taken, once.
func (w *Tinter) learn() error {
	if w.plain || w.learned != nil {
		return nil
	}
	s := &scatters{at: map[shop.LotID]int{}, told: map[shop.LotID]bool{}, unclear: map[shop.LotID]fact.Saying{}}
	alike := newTinter(w.s, true)
	alike.curves, alike.ratios = w.curves, w.ratios
	taken := map[shop.LotID]bool{}
	for _, r := range w.s.Records.Of((*shop.Coloured)(nil)) {
		taken[r.Body.(*shop.Coloured).Lot] = true
	}
	for _, id := range w.s.Order {
		if !taken[id] { // most of many lots, which need not be looked at then
			continue
		}
		l := w.s.Lots.At(id)
		if l.Taken == nil || !l.Taken.OfMelt() {
			continue
		}
		r, ok, err := alike.result(l, s)
		if err != nil {
			return err
		}
		if ok {
			s.results = append(s.results, r)
		}
	}
	if err := s.solve(); err != nil {
		return err
	}
	w.learned = s
	return nil
}

// result is what the colour of a melted lot says of its two plastics; false when
// it says nothing, or not of which.
func (w *Tinter) result(l *shop.Lot, s *scatters) (mixResult, bool, error) {
	t, err := w.Of(l)
	if err != nil || t.forecast == nil {
		return mixResult{}, false, err
	}
	var parts []tintPart
	whole := 0.0
	for _, p := range t.from {
		if p.share >= traceShare {
			parts, whole = append(parts, p), whole+p.share
		}
	}
	if len(parts) != 2 {
		if len(parts) > 2 {
			s.unclear[l.ID] = fact.Say("colour.from_many", fact.Count("n", len(parts)))
		}
		return mixResult{}, false, nil
	}
	r := mixResult{lot: l.ID}
	var one, two bool
	r.a, one = w.origin(parts[0].lot)
	r.b, two = w.origin(parts[1].lot)
	if !one || !two {
		s.unclear[l.ID] = fact.Say("colour.from_mixes")
		return r, false, nil
	}
	if r.a == r.b {
		return r, false, nil
	}
	base, added := w.own[parts[0].lot], w.own[parts[1].lot]
	share := parts[1].share / whole
	errs := math.Hypot(w.own[l.ID].errs(), mixingErrs)
	errs = math.Hypot(errs, math.Hypot((1-share)*base.errs(), share*added.errs()))
	mix := mixSeen{base.curve, added.curve, t.Mixed, share, errs}
	told, done := w.ratios[mix]
	if !done {
		if told, err = mix.tell(); err != nil {
			return r, false, err
		}
		w.ratios[mix] = told
	}
	r.ratio, r.sd = told.ratio, told.sd
	if r.sd > deafScatter {
		s.unclear[l.ID] = fact.Say("colour.parts_alike")
		return r, false, nil
	}
	s.told[l.ID] = true
	return r, true, nil
}

// origin is the lot that nearly all of a lot's plastic began in; false when it
// began in several.
func (w *Tinter) origin(id shop.LotID) (shop.LotID, bool) {
	for _, p := range w.origins(w.s.Lots.At(id)) {
		if p.share >= mainShare {
			return p.lot, true
		}
	}
	return "", false
}

// mixSeen is a melted mix of two plastics somebody looked at.
type mixSeen struct {
	base, added, seen colour.Curve
	share             float64 // of the one added [1]
	errs              float64 // what the colours are off by, all together
}

// mixTold is what it says of the scattering.
type mixTold struct {
	ratio float64 // ln of the one added over the base
	sd    float64
}

// tell learns from one mix how strongly the plastic added scatters against the
// base, and how far that may be off: as far as the colour difference rises by
// what the colours are off. A colour no scattering reaches says less.
func (m mixSeen) tell() (mixTold, error) {
	b, err := bodyOf(m.base, 1)
	if err != nil {
		return mixTold{}, err
	}
	plain, err := bodyOf(m.added, 1)
	if err != nil {
		return mixTold{}, err
	}
	lab, err := colour.LabOf(m.seen, colour.TwoDegrees)
	if err != nil {
		return mixTold{}, err
	}
	for i, r := range m.added { // LearnScatter makes the body itself
		m.added[i] = min(lightest, max(darkest, r))
	}
	strength, left, err := colour.LearnScatter(b, m.added, m.share, lab, colour.PhotoSurface())
	if err != nil {
		return mixTold{}, err
	}
	told := mixTold{ratio: math.Log(strength)}
	enough := left*left + m.errs*m.errs + left*left
	far := func(x float64) (float64, error) {
		p := plain
		for i := range p.K {
			p.K[i] *= math.Exp(x)
			p.S[i] *= math.Exp(x)
		}
		mix, err := colour.Mixed([]colour.Body{b, p}, []float64{1 - m.share, m.share}, colour.PhotoSurface())
		if err != nil {
			return 0, err
		}
		at, err := colour.LabOf(mix, colour.TwoDegrees)
		if err != nil {
			return 0, err
		}
		return colour.Difference(lab, at)
	}
	for _, way := range []float64{-1, 1} {
		step := stepScatter
		for ; step < 2*mostScatter; step += stepScatter {
			d, err := far(told.ratio + way*step)
			if err != nil {
				return mixTold{}, err
			}
			if d*d >= enough {
				break
			}
		}
		told.sd += step / 2
	}
	return told, nil
}

// solve finds all strengths together: least squares of the ratios and of what is
// believed of each, results far off weighed down as by Student's distribution
// with four degrees of freedom.
func (s *scatters) solve() error {
	for _, r := range s.results {
		for _, id := range []shop.LotID{r.a, r.b} {
			i, ok := s.at[id]
			if !ok {
				i = len(s.runs)
				s.at[id], s.runs = i, append(s.runs, 0)
			}
			s.runs[i]++
		}
	}
	n := len(s.runs)
	s.mean = make([]float64, n)
	if n == 0 {
		return nil
	}
	var found mat.Cholesky
	for range turnsScatter {
		sure, pull := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
		for i := range n {
			sure.SetSym(i, i, 1/(priorScatter*priorScatter))
		}
		for _, r := range s.results {
			a, b := s.at[r.a], s.at[r.b]
			off := (r.ratio - s.mean[b] + s.mean[a]) / r.sd
			weight := (heavyTail + 1) / (heavyTail + off*off) / (r.sd * r.sd)
			sure.SetSym(a, a, sure.At(a, a)+weight)
			sure.SetSym(b, b, sure.At(b, b)+weight)
			sure.SetSym(a, b, sure.At(a, b)-weight)
			pull.SetVec(a, pull.AtVec(a)-weight*r.ratio)
			pull.SetVec(b, pull.AtVec(b)+weight*r.ratio)
		}
		found.Factorize(sure) // each lot has its own belief, so it is positive
		if err := found.SolveVecTo(mat.NewVecDense(n, s.mean), pull); err != nil {
			return err
		}
	}
	var cov mat.SymDense
	if err := found.InverseTo(&cov); err != nil {
		return err
	}
	var chol mat.Cholesky
	chol.Factorize(&cov)
	var lower mat.TriDense
	chol.LTo(&lower)
	s.spread = mat.DenseCopyOf(&lower)
	return nil
}
