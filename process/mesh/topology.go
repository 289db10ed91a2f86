// Whether a surface is closed, how many shells it has, which are inside out.

package mesh

import (
	"math"
	"slices"
)

// topology welds vertices that are equal to the last bit and keeps, for every
// facet, its three edges and its share of a volume. Memory: some 60 bytes a vertex
// and 40 a facet; the number of facets is capped by the reader.
type topology struct {
	welder *welder
	parent []uint32 // union-find over vertices
	edges  []uint64 // lower vertex, higher vertex, direction in the lowest bit
	facets []share
}

// share is what one facet adds to the volume of its shell.
type share struct {
	six    float64 // six times the signed volume
	vertex uint32  // one of the facet
}

func newTopology() *topology { return &topology{welder: newWelder()} }

// vertex returns the number of the vertex at p.
func (t *topology) vertex(p point) uint32 {
	i, isNew := t.welder.number(p)
	if isNew {
		t.parent = append(t.parent, i)
	}
	return i
}

// add takes one facet with six times its signed volume.
func (t *topology) add(a, b, c point, six float64) {
	i, j, k := t.vertex(a), t.vertex(b), t.vertex(c)
	t.join(t.join(i, j), k)
	t.facets = append(t.facets, share{six, i})
	if i == j || j == k || k == i {
		return // collapsed to a line or point: it bounds nothing
	}
	t.edges = append(t.edges, edge(i, j), edge(j, k), edge(k, i))
}

// edge packs a directed edge so that both directions sort next to each other.
// Vertex numbers stay below 2³¹ because facets do.
func edge(from, to uint32) uint64 {
	if from < to {
		return uint64(from)<<32 | uint64(to)<<1
	}
	return uint64(to)<<32 | uint64(from)<<1 | 1
}

func (t *topology) root(i uint32) uint32 {
	for t.parent[i] != i {
		t.parent[i] = t.parent[t.parent[i]]
		i = t.parent[i]
	}
	return i
}

func (t *topology) join(i, j uint32) uint32 {
	i, j = t.root(i), t.root(j)
	if i == j {
		return i
	}
	if j < i {
		i, j = j, i
	}
	t.parent[j] = i
	return i
}

// counts is what a topology amounts to.
type counts struct{ open, misoriented, shells, insideOut int }

func (t *topology) count() counts {
	var c counts
	t.welder = nil // what the places were no longer matters
	c.open, c.misoriented = t.countEdges()
	c.shells, c.insideOut = t.countShells()
	return c
}

// countEdges returns the edges not shared by exactly two facets and those
// whose two facets run the same way along them.
func (t *topology) countEdges() (open, misoriented int) {
	defer func() { t.edges = nil }()
	t.sortEdges()
	for at := 0; at < len(t.edges); {
		end, along := at, 0
		for end < len(t.edges) && t.edges[end]>>1 == t.edges[at]>>1 {
			along += int(t.edges[end] & 1)
			end++
		}
		switch {
		case end-at != 2:
			open++
		case along != 1:
			misoriented++
		}
		at = end
	}
	return open, misoriented
}

// sortEdges puts edges in order: into the places of their lower vertex, of which most
// have a handful, and there by comparing.
func (t *topology) sortEdges() {
	ends := make([]int, len(t.parent)+1) // where the edges of each vertex end, once all are placed
	for _, e := range t.edges {
		ends[e>>32+1]++
	}
	for i := 1; i < len(ends); i++ {
		ends[i] += ends[i-1]
	}
	sorted := make([]uint64, len(t.edges))
	for _, e := range t.edges {
		v := e >> 32
		sorted[ends[v]] = e
		ends[v]++
	}
	from := 0
	for _, end := range ends[:len(t.parent)] {
		if own := sorted[from:end]; len(own) > 12 {
			slices.Sort(own)
		} else {
			insert(own)
		}
		from = end
	}
	t.edges = sorted
}

// insert sorts few values.
func insert(few []uint64) {
	for i := 1; i < len(few); i++ {
		x, k := few[i], i
		for ; k > 0 && few[k-1] > x; k-- {
			few[k] = few[k-1]
		}
		few[k] = x
	}
}

// rounding is the share of a shell's summed terms that may be mere rounding.
const rounding = 1e-9

// countShells returns how many bodies there are and how many of them have
// negative volume.
func (t *topology) countShells() (shells, insideOut int) {
	volume := make([]float64, len(t.parent)) // six times the signed volume, at the root
	weight := make([]float64, len(t.parent)) // sum of the sizes of its terms, to judge its rounding
	for _, f := range t.facets {
		root := t.root(f.vertex)
		volume[root] += f.six
		weight[root] += math.Abs(f.six)
	}
	for i := range t.parent {
		if t.parent[i] != uint32(i) {
			continue
		}
		shells++
		if volume[i] < -rounding*weight[i] {
			insideOut++
		}
	}
	return shells, insideOut
}
