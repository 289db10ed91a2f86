package mesh

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestEdgesAreSortedAsByComparing holds the order of edges against the sort of the standard
// library, also of fans, where one vertex has most of them.
func TestEdgesAreSortedAsByComparing(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		vertices := rapid.IntRange(2, 60).Draw(t, "vertices")
		vertex := rapid.Uint32Range(0, uint32(vertices-1))
		if rapid.Bool().Draw(t, "fan") {
			vertex = rapid.SampledFrom([]uint32{0, 0, 0, uint32(vertices - 1)})
		}
		x := &topology{parent: make([]uint32, vertices)}
		for range rapid.IntRange(0, 200).Draw(t, "edges") {
			x.edges = append(x.edges, edge(vertex.Draw(t, "from"), rapid.Uint32Range(0, uint32(vertices-1)).Draw(t, "to")))
		}
		want := slices.Sorted(slices.Values(x.edges))
		if x.sortEdges(); !slices.Equal(x.edges, want) {
			t.Fatalf("%x, not %x", x.edges, want)
		}
	})
}

// TestPlacesWeldByTheirValue: the same place has one number, −0 and 0 are the same, and
// any other last bit is another place.
func TestPlacesWeldByTheirValue(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		w, known := newWelder(), map[point]uint32{}
		some := rapid.OneOf(rapid.SampledFrom([]float64{0, negativeZero, 1, 1 + 0x1p-52, -1, 5e-324}), rapid.Float64Range(-1000, 1000))
		for range rapid.IntRange(1, 300).Draw(t, "points") {
			p := point{some.Draw(t, "x"), some.Draw(t, "y"), some.Draw(t, "z")}
			i, isNew := w.number(p)
			was, seen := known[p] // a map takes −0 and 0 for one key
			if isNew == seen || seen && i != was {
				t.Fatalf("%v: number %d, new %t; known as %d %t", p, i, isNew, was, seen)
			}
			known[p] = i
		}
	})
}

var negativeZero = math.Copysign(0, -1)
