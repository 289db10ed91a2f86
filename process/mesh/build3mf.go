// Puts the objects of a 3MF model where the build wants them and sums up.

package mesh

import (
	"fmt"
	"io"
)

// Build is the content of a 3MF package: all of it as one, and each build item.
type Build struct {
	Solid
	Items []Item
}

// Item is one thing the build places.
type Item struct {
	Name   string
	Volume float64 // m³
	Facets int
}

// Read3MF reads the build of a 3MF package: core specification, with nested
// components and transforms, and objects in further parts of the package as the
// production extension has it. Objects of the types "model" and "solidsupport"
// count; the others are named in a warning, as they are not solid. Nothing
// built means nothing measured, as the specification has it.
//
// Source: ThreeMF2015 and ThreeMFProduction2016 (the core's clauses from memory; the mirror rule too: a transform
// with negative determinant turns the winding back).
// Errors: *ReadError with the part and byte, for input that is no package, is
// malformed, beyond a limit, refers in a circle, or requires an extension that
// changes shapes.
// Checks: Read3MF rows of checks.csv (own derivation).
func Read3MF(r io.ReaderAt, size int64, o Options) (Build, error) {
	limits := o.Limits.withDefaults()
	c, err := openContainer(r, size, limits)
	if err != nil {
		return Build{}, err
	}
	name, err := c.modelPart()
	if err != nil {
		return Build{}, err
	}
	body, err := c.open(name)
	if err != nil {
		return Build{}, err
	}
	defer body.Close()
	m, err := readModel(body, partName(name), limits)
	if err != nil {
		return Build{}, err
	}
	if err := m.readFurther(c); err != nil {
		return Build{}, err
	}
	return m.assemble()
}

// assembly is a build being put together.
type assembly struct {
	*model
	total    Solid
	counts   map[*object]counts // of each mesh
	placed   int
	facets   int
	leftOut  map[string]int
	onTheWay map[string]bool // objects being placed, to find circles
}

func (m *model) assemble() (Build, error) {
	a := &assembly{model: m, counts: map[*object]counts{}, leftOut: map[string]int{}, onTheWay: map[string]bool{}}
	var out Build
	toMetres := uniform(m.root)
	for _, item := range m.build {
		before := a.total
		if err := a.place(item, toMetres, 0); err != nil {
			return Build{}, err
		}
		if a.total.Facets > before.Facets {
			out.Items = append(out.Items, Item{Name: m.objects[item.key()].title(),
				Volume: a.total.Volume - before.Volume, Facets: a.total.Facets - before.Facets})
		}
	}
	out.Solid = a.total
	for _, kind := range []string{"support", "surface", "other"} {
		if n := a.leftOut[kind]; n > 0 {
			out.warn(LeftOut, n, kind)
		}
	}
	if out.Facets == 0 {
		return out, nothing("the build of the 3MF holds no facet of a solid part")
	}
	out.conclude()
	return out, nil
}

// place puts one object and its components.
func (a *assembly) place(p placed, outer transform, depth int) error {
	fail := func(f Fault, format string, args ...any) error {
		return &ReadError{Fault: f, Where: p.where, What: fmt.Sprintf(format, args...)}
	}
	key := p.key()
	o, ok := a.objects[key]
	a.placed++
	switch {
	case !ok:
		return fail(Malformed, "object %q does not exist", p.id)
	case a.onTheWay[key]:
		return fail(Malformed, "object %q contains itself", p.id)
	case depth > a.limits.Nesting:
		return fail(TooLarge, "components nest deeper than %d", a.limits.Nesting)
	case a.placed > a.limits.Placed:
		return fail(TooLarge, "the build places more than %d objects", a.limits.Placed)
	}
	if o.kind != "model" && o.kind != "solidsupport" {
		if o.kind != "support" && o.kind != "surface" && o.kind != "other" {
			return fail(Malformed, "object %q has the unknown type %q", o.id, o.kind)
		}
		a.leftOut[o.kind]++
		return nil
	}
	// An object's coordinates count in its own part's unit, its place in the other's.
	at := uniform(o.unit / p.unit).then(p.at).then(outer)
	if len(o.triangles) > 0 {
		if err := a.mesh(o, at, p.where); err != nil {
			return err
		}
	}
	a.onTheWay[key] = true
	defer delete(a.onTheWay, key)
	for _, part := range o.components {
		if err := a.place(part, at, depth+1); err != nil {
			return err
		}
	}
	return nil
}

// mesh adds one mesh as placed.
func (a *assembly) mesh(o *object, at transform, where Place) error {
	if a.facets += len(o.triangles); a.facets > a.limits.Facets {
		return &ReadError{Fault: TooLarge, Where: where, What: fmt.Sprintf("the build places more than %d facets", a.limits.Facets)}
	}
	var g geometry
	mirror := at.determinant() < 0
	for _, t := range o.triangles {
		p, q, r := at.apply(o.vertices[t[0]]), at.apply(o.vertices[t[1]]), at.apply(o.vertices[t[2]])
		if mirror {
			q, r = r, q
		}
		if !p.bounded() || !q.bounded() || !r.bounded() {
			return &ReadError{Fault: NotFinite, Where: where,
				What: fmt.Sprintf("object %q is placed beyond %g m", o.id, maxCoordinate)}
		}
		g.add(p, q, r)
	}
	a.total.include(newSolid(&g, a.topology(o)))
	return nil
}

// topology counts the edges and shells of a mesh, once, in its own frame.
func (a *assembly) topology(o *object) counts {
	if known, ok := a.counts[o]; ok {
		return known
	}
	var g geometry
	t := newTopology()
	for _, f := range o.triangles {
		p, q, r := o.vertices[f[0]], o.vertices[f[1]], o.vertices[f[2]]
		t.add(p, q, r, g.add(p, q, r))
	}
	a.counts[o] = t.count()
	return a.counts[o]
}
