// One surface being read: geometry and topology together.

package mesh

import "fmt"

// surface takes facets one by one and becomes a Solid.
type surface struct {
	geometry
	topology *topology
	limit    int
}

func newSurface(limit int) *surface { return &surface{topology: newTopology(), limit: limit} }

// mostExpected bounds what a header is believed: room for so many facets takes 10 MB.
const mostExpected = 1 << 18

// expect makes room for so many facets.
func (s *surface) expect(facets int64) {
	n := int(min(facets, int64(s.limit), mostExpected))
	s.topology.facets, s.topology.edges = make([]share, 0, n), make([]uint64, 0, 3*n)
}

// facet takes one facet in metres.
func (s *surface) facet(a, b, c point) error {
	if s.facets >= s.limit {
		return tooMany(s.limit)
	}
	for _, p := range [3]point{a, b, c} {
		if !p.bounded() {
			return &ReadError{Fault: NotFinite, Where: Place{Of: "facet", N: int64(s.facets + 1)},
				What: fmt.Sprintf("the vertex %g, %g, %g m is not a place within %g m", p[0], p[1], p[2], maxCoordinate)}
		}
	}
	s.topology.add(a, b, c, s.add(a, b, c))
	return nil
}

func tooMany(limit int) error {
	return &ReadError{Fault: TooLarge, Where: Place{Of: "facet", N: int64(limit + 1)},
		What: fmt.Sprintf("more than %d facets", limit)}
}

func nothing(what string) error {
	return &ReadError{Fault: Empty, What: what}
}
