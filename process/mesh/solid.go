// What the readers return.

package mesh

// Solid is what a mesh amounts to, in SI units.
type Solid struct {
	Volume float64    // m³, by the divergence theorem; never negative, see Inverted
	Area   float64    // m², of all facets
	Min    [3]float64 // m, lower corner of the bounding box
	Max    [3]float64 // m, upper corner of the bounding box

	Facets      int  // facets read
	Degenerate  int  // facets without area
	OpenEdges   int  // edges that do not belong to exactly two facets
	Misoriented int  // edges whose two facets run the same way along them
	Shells      int  // bodies that share no vertex with one another
	InsideOut   int  // shells with negative volume: cavities, or bodies turned inside out
	Inverted    bool // a mesh came out negative as a whole and its sign was turned
	Closed      bool // no open and no misoriented edge: Volume is a volume
	Warnings    []Warning
}

// Caution is the kind of a warning, for programs that decide by it.
type Caution string

// The kinds of warning.
const (
	UnitAssumed   Caution = "unit assumed"      // the format names no unit
	WrongCount    Caution = "wrong count"       // the header counts other facets than follow
	TurnedOut     Caution = "inside out"        // negative volume, taken as positive
	NotClosed     Caution = "not closed"        // the volume is an estimate
	FlatFacets    Caution = "facets of no area" // harmless for volume and area
	LeftOut       Caution = "left out"          // objects of the file that are not solid parts
	SeveralShells Caution = "several shells"    // overlaps would be counted twice
)

// Warning is something to bear in mind; it never stops the reading.
type Warning struct {
	Caution Caution
	N       int    // how many: facets, shells, objects
	Of      string // of LeftOut: the type of the objects
}

// Size returns the edges of the bounding box [m].
func (s Solid) Size() [3]float64 {
	return [3]float64{s.Max[0] - s.Min[0], s.Max[1] - s.Min[1], s.Max[2] - s.Min[2]}
}

// newSolid sums up one mesh, its warnings left for conclude.
func newSolid(g *geometry, c counts) Solid {
	s := Solid{OpenEdges: c.open, Misoriented: c.misoriented, Shells: c.shells, InsideOut: c.insideOut,
		Facets: g.facets, Degenerate: g.degenerate, Min: g.min, Max: g.max,
		Volume: g.volume.total() / 6, Area: g.area.total() / 2}
	if s.Volume < 0 {
		s.Volume, s.Inverted = -s.Volume, true
	}
	return s
}

// include adds another mesh beside this one.
func (s *Solid) include(o Solid) {
	if s.Facets == 0 {
		s.Min, s.Max = o.Min, o.Max
	}
	for i := range 3 {
		s.Min[i], s.Max[i] = min(s.Min[i], o.Min[i]), max(s.Max[i], o.Max[i])
	}
	s.Volume += o.Volume
	s.Area += o.Area
	s.Facets += o.Facets
	s.Degenerate += o.Degenerate
	s.OpenEdges += o.OpenEdges
	s.Misoriented += o.Misoriented
	s.Shells += o.Shells
	s.InsideOut += o.InsideOut
	s.Inverted = s.Inverted || o.Inverted
}

// conclude settles the warnings once all facets are in.
func (s *Solid) conclude() {
	s.Closed = s.OpenEdges == 0 && s.Misoriented == 0
	if s.Inverted {
		s.warn(TurnedOut, 0, "")
	}
	if !s.Closed {
		s.warn(NotClosed, s.OpenEdges, "")
	}
	if s.Degenerate > 0 {
		s.warn(FlatFacets, s.Degenerate, "")
	}
	if s.Shells > 1 {
		s.warn(SeveralShells, s.Shells, "")
	}
}

func (s *Solid) warn(c Caution, n int, of string) {
	s.Warnings = append(s.Warnings, Warning{c, n, of})
}
