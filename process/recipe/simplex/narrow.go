package simplex

// Columns held at 0 take no part. Where most are, as deep in a search tree, the
// program is packed without them and that is solved.

const (
	fewestPacked = 24 // columns from which on packing pays
	packedShare  = 2  // packed when at most one in so many columns is live
)

// liveColumns lists the caller's columns that are not held at 0, and those of
// the basis, so that the solve can start from it.
func (s *Solver) liveColumns() []int32 {
	for _, j := range s.head {
		s.inBasis[j] = true
	}
	live := s.live[:0]
	for j := range s.columns {
		if s.lo[j] != 0 || s.hi[j] != 0 || s.inBasis[j] {
			live = append(live, int32(j))
		}
	}
	for _, j := range s.head {
		s.inBasis[j] = false
	}
	s.live = live
	return live
}

// solveNarrow solves the program of the live columns and takes over its answer.
func (s *Solver) solveNarrow(live []int32) (Status, error) {
	if s.packed == nil {
		s.packed = &Solver{}
	}
	t := s.packed
	t.pack(s, live)
	status, err := t.Solve()
	s.unpack(t, live)
	return status, err
}

// pack makes t the program of some columns of s, at the basis of s.
func (t *Solver) pack(s *Solver, live []int32) {
	m, n := len(s.rows), len(live)
	t.columns, t.scale, t.pivots = n, s.scale, 0
	t.packing = sized(t.packing, m*n)
	t.rows = t.rows[:0]
	for i, row := range s.rows {
		part := t.packing[i*n : (i+1)*n]
		for k, j := range live {
			part[k] = row[j]
		}
		t.rows = append(t.rows, part)
	}
	t.cost, t.lo, t.hi = t.cost[:0], t.lo[:0], t.hi[:0]
	for _, j := range live {
		t.cost, t.lo, t.hi = append(t.cost, s.cost[j]), append(t.lo, s.lo[j]), append(t.hi, s.hi[j])
	}
	t.lo, t.hi = append(t.lo, s.lo[s.columns:]...), append(t.hi, s.hi[s.columns:]...)
	t.resize()
	place := s.place // of each column of s in t, plus one
	for k, j := range live {
		place[j] = int32(k) + 1
		t.at[k] = s.at[j]
	}
	copy(t.at[n:], s.at[s.columns:])
	t.takeBasis(s, place)
	for _, j := range live {
		place[j] = 0
	}
}

// takeBasis translates the basis.
func (t *Solver) takeBasis(s *Solver, place []int32) {
	t.head = t.head[:0]
	for _, j := range s.head {
		if j < s.columns {
			t.head = append(t.head, int(place[j])-1)
		} else {
			t.head = append(t.head, j+t.columns-s.columns)
		}
	}
}

// unpack takes over values, basis, prices and ray. The reduced costs of the
// columns left out are made when somebody asks.
func (s *Solver) unpack(t *Solver, live []int32) {
	n := s.columns
	clear(s.x[:n])
	for k, j := range live {
		s.x[j], s.d[j], s.at[j] = t.x[k], t.d[k], t.at[k]
	}
	copy(s.x[n:], t.x[t.columns:])
	copy(s.d[n:], t.d[t.columns:])
	copy(s.at[n:], t.at[t.columns:])
	copy(s.ray, t.ray)
	for r, j := range t.head {
		if j >= t.columns {
			s.head[r] = j - t.columns + n
		} else {
			s.head[r] = int(live[j])
		}
	}
	s.pivots += t.pivots
	s.halfPriced = true
}

// priceRest makes the reduced costs that a packed solve left out.
func (s *Solver) priceRest() {
	if !s.halfPriced {
		return
	}
	s.halfPriced = false
	s.priceColumns()
}
