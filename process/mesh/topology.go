// Whether a surface is closed, how many shells it has, which are inside out.

package mesh

import "slices"

// topology welds vertices that are equal to the last bit and keeps, for every
// facet, its three edges. Memory: one map entry a vertex, 24 bytes of edges a
// facet; the number of facets is capped by the reader.
type topology struct {
	index  map[point]uint32
	parent []uint32  // union-find over vertices
	volume []float64 // six times the signed volume of the shell, at its root
	weight []float64 // sum of the sizes of the terms of volume, to judge its rounding
	edges  []uint64  // lower vertex, higher vertex, direction in the lowest bit
}

func newTopology() *topology { return &topology{index: map[point]uint32{}} }

// vertex returns the number of the vertex at p.
func (t *topology) vertex(p point) uint32 {
	for i := range p {
		p[i] += 0 // turns −0 into 0, which must weld with it
	}
	if i, ok := t.index[p]; ok {
		return i
	}
	i := uint32(len(t.parent))
	t.index[p] = i
	t.parent = append(t.parent, i)
	t.volume = append(t.volume, 0)
	t.weight = append(t.weight, 0)
	return i
}

// add takes one facet with six times its signed volume.
func (t *topology) add(a, b, c point, six float64) {
	i, j, k := t.vertex(a), t.vertex(b), t.vertex(c)
	root := t.join(t.join(i, j), k)
	t.volume[root] += six
	if six < 0 {
		t.weight[root] -= six
	} else {
		t.weight[root] += six
	}
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
	t.volume[i] += t.volume[j]
	t.weight[i] += t.weight[j]
	return i
}

// counts is what a topology amounts to.
type counts struct{ open, misoriented, shells, insideOut int }

func (t *topology) count() counts {
	var c counts
	c.open, c.misoriented = t.countEdges()
	c.shells, c.insideOut = t.countShells()
	return c
}

// countEdges returns the edges not shared by exactly two facets and those
// whose two facets run the same way along them.
func (t *topology) countEdges() (open, misoriented int) {
	slices.Sort(t.edges)
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

// rounding is the share of a shell's summed terms that may be mere rounding.
const rounding = 1e-9

// countShells returns how many bodies there are and how many of them have
// negative volume.
func (t *topology) countShells() (shells, insideOut int) {
	for i := range t.parent {
		if t.parent[i] != uint32(i) {
			continue
		}
		shells++
		if t.volume[i] < -rounding*t.weight[i] {
			insideOut++
		}
	}
	return shells, insideOut
}
