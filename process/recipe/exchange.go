package recipe

// A first recipe by exchange: a few lots that miss as little as can be, one of
// them replaced by the lot the prices call for, as long as that helps. The tree
// that follows proves or betters it.

import (
	"cmp"
	"math"
	"slices"
)

const (
	exchangeTried  = 8  // replacements tried for a lot
	exchangeCuts   = 6  // rounds of cuts at a set taken
	exchangeTree   = 40 // nodes to make a recipe of a set
	exchangeStarts = 12 // times the search is sent on by barring a lot
	barred         = 2  // lots barred at once
)

// exchange is the state of that search.
type exchange struct {
	t     *task
	m     *model  // soft
	s     *search // over it, at the anchor of now; its own tree is never grown
	avoid [][]int
	set   []int   // places of the lots in the model, in order
	value float64 // of the set, breaks and all [1]
	bars  []int   // places not to be used
	share []float64
	left  int // programs that may still be solved
}

// exchanged looks for a recipe that beats the one known. Where a set keeps all
// limits by the anchor but is no recipe, curves are held tighter, for an anchor
// errs with the distance; where that does not help, costs are forgotten.
func (t *task) exchanged(root *relaxation, avoid [][]int, best *Recipe) (*Recipe, error) {
	x := &exchange{t: t, avoid: avoid, m: newModel(t.p, root.pool(promising), soft), left: 4 * t.o.Nodes}
	x.share = make([]float64, len(x.m.lots))
	x.begin(root)
	for start := range exchangeStarts {
		err := x.descend()
		if err != nil {
			return best, err
		}
		if best, err = x.taken(best); err != nil {
			return best, err
		}
		tree, err := t.tree(x.lots(), avoid, best, exchangeTree)
		if err != nil {
			return best, err
		}
		best = tree.best
		if x.left <= 0 || best != nil && best.Cost-root.bound <= t.o.slip(best.Cost) {
			break
		}
		if best == nil && start < 2 && len(t.p.Curves) > 0 {
			x.hold(t.p.copy(), 0.5/float64(start+1))
			continue
		}
		if best == nil && start == exchangeStarts/4 {
			x.hold(t.p.free(), 0.5)
		}
		x.moveOn(start)
	}
	return best, nil
}

// taken weighs the blend of the set out, and takes it where it is a recipe and
// beats the one known.
func (x *exchange) taken(best *Recipe) (*Recipe, error) {
	if v, err := x.worth(x.set, 1); err != nil || math.IsInf(v, 1) {
		return best, err
	}
	uses, rest := x.m.portions(x.s.solver.Values()[:len(x.m.lots)])
	if x.t.p.fixSteps(uses, rest); !x.t.p.fixMass(uses) {
		return best, nil
	}
	r, ok := x.t.certify(uses)
	if x.t.fault != nil || !ok {
		return best, x.t.fault
	}
	x.t.remember(r)
	if best == nil || r.Cost < best.Cost {
		return r, nil
	}
	return best, nil
}

// hold goes on with another problem, its curves limited to a part of theirs.
func (x *exchange) hold(q Problem, part float64) {
	for k := range q.Curves {
		c := &q.Curves[k]
		c.Limit = c.Floor + part*(c.Limit-c.Floor)
	}
	x.m, x.s = newModel(&q, x.m.lots, soft), nil
}

// begin takes the lots with the greatest shares in the relaxation, and those
// that must be used.
func (x *exchange) begin(root *relaxation) {
	share := map[int]float64{}
	for k, i := range root.lots {
		share[i] = root.w[k]
	}
	var rank []int
	key := make([]float64, len(x.m.lots))
	for k, i := range x.m.lots {
		if key[k] = share[i]; x.m.lo[k] > 0 {
			key[k] = math.Inf(1)
		}
		if key[k] > dust {
			rank = append(rank, k)
		}
	}
	slices.SortStableFunc(rank, func(a, b int) int { return cmp.Compare(key[b], key[a]) })
	x.set = slices.Clone(rank[:min(len(rank), x.t.p.Most)])
	slices.Sort(x.set)
	x.value = math.Inf(1)
}

func (x *exchange) lots() []int { return x.lotsAt(x.set) }

// descend exchanges until nothing helps.
func (x *exchange) descend() error {
	var err error
	if x.s == nil {
		if x.s, err = x.t.newSearch(x.m, nil, 1); err != nil {
			return err
		}
	}
	if x.value, err = x.worth(x.set, exchangeCuts); err != nil {
		return err
	}
	for x.left > 0 {
		if err := x.t.ctx.Err(); err != nil {
			return err
		}
		better, err := x.step()
		if err != nil || !better {
			return err
		}
	}
	return nil
}

// moveOn bars a lot of the set, so that the next descent ends elsewhere.
func (x *exchange) moveOn(start int) {
	var free []int
	for _, k := range x.set {
		if x.m.lo[k] == 0 {
			free = append(free, k)
		}
	}
	if len(free) == 0 {
		x.left = 0
		return
	}
	bar := free[start%len(free)]
	x.bars = append(x.bars, bar)
	if len(x.bars) > barred {
		x.bars = x.bars[1:]
	}
	x.set = without(x.set, bar)
}

// step looks for one exchange, or addition, or removal, that makes the set better.
func (x *exchange) step() (bool, error) {
	if len(x.set) < x.t.p.Most {
		if better, err := x.fill(x.set); better || err != nil {
			return better, err
		}
	}
	out := slices.Clone(x.set)
	if _, err := x.worth(x.set, 1); err != nil {
		return false, err
	}
	for _, k := range out {
		x.share[k] = x.s.solver.Values()[k]
	}
	slices.SortStableFunc(out, func(a, b int) int { return cmp.Compare(x.share[a], x.share[b]) })
	for _, k := range out {
		if x.m.lo[k] > 0 {
			continue
		}
		if better, err := x.fill(without(x.set, k)); better || err != nil {
			return better, err
		}
	}
	return false, nil
}

// fill takes the rest of a set as it stands, or with the best lot added, if that
// is better than the set.
func (x *exchange) fill(rest []int) (bool, error) {
	best, err := x.worth(rest, 1)
	if err != nil {
		return false, err
	}
	pick := -1
	for _, k := range x.wanted(rest) {
		v, err := x.worth(with(rest, k), 1)
		if err != nil {
			return false, err
		}
		if v < best {
			best, pick = v, k
		}
	}
	set := rest
	if pick >= 0 {
		set = with(rest, pick)
	}
	if !(best < x.value-1e-9) || len(set) == 0 {
		return false, nil
	}
	v, err := x.worth(set, exchangeCuts)
	if err != nil || !(v < x.value-1e-9*(1+math.Abs(x.value))) {
		return false, err
	}
	x.set, x.value = set, v
	return true, nil
}

// wanted lists the lots that the prices of the last program want most.
func (x *exchange) wanted(rest []int) []int {
	d, m := x.s.solver.Reduced(), x.m
	var list []int
	worst := math.Inf(1) // key of the last of a full list
	key := func(k int) float64 { return d[k] * min(m.hi[k], 0.25) }
	for k := range m.lots {
		v := key(k)
		if !(v < 0) || v >= worst || slices.Contains(rest, k) || slices.Contains(x.bars, k) {
			continue
		}
		at, _ := slices.BinarySearchFunc(list, v, func(a int, v float64) int { return cmp.Compare(key(a), v) })
		list = slices.Insert(list, at, k)
		if len(list) > exchangeTried {
			list = list[:exchangeTried]
		}
		if len(list) == exchangeTried {
			worst = key(list[exchangeTried-1])
		}
	}
	return list
}

// worth is the least of cost and breaks with just the lots of a set.
func (x *exchange) worth(set []int, rounds int) (float64, error) {
	s := x.s
	clear(s.lo)
	clear(s.hi)
	for _, k := range set {
		s.lo[k], s.hi[k] = max(s.m.lo[k], min(s.m.least[k], s.m.hi[k])), s.m.hi[k]
	}
	if len(x.avoid) > 0 && usesWhole(x.lotsAt(set), x.avoid) {
		return math.Inf(1), nil
	}
	if err := s.solver.SetBounds(s.lo, s.hi); err != nil {
		return 0, err
	}
	for round := 0; ; round++ {
		before := s.solver.Pivots()
		if _, err := s.solver.Solve(); err != nil {
			return 0, err
		}
		x.left--
		s.t.nodes++
		s.t.pivots += s.solver.Pivots() - before
		if len(s.t.p.Curves) == 0 || round >= rounds {
			break
		}
		again, err := s.refine(s.exact(s.solver.Values()[:len(s.m.lots)], nil, false))
		if err != nil {
			return 0, err
		}
		if !again {
			break
		}
	}
	return s.solver.Objective(), nil
}

func (x *exchange) lotsAt(set []int) []int {
	lots := make([]int, len(set))
	for j, k := range set {
		lots[j] = x.m.lots[k]
	}
	return lots
}

func without(set []int, k int) []int {
	at := slices.Index(set, k)
	return slices.Delete(slices.Clone(set), at, at+1)
}

func with(set []int, k int) []int {
	at, _ := slices.BinarySearch(set, k)
	return slices.Insert(slices.Clone(set), at, k)
}
