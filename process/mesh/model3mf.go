// Reads the model part of a 3MF package: objects, components, build.

package mesh

import (
	"errors"
	"fmt"
	"io"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
)

// The namespaces whose elements and requirements are understood. Materials
// colour a mesh and leave its shape alone; the production extension adds identities
// and lets the root model take objects from other parts (ThreeMFProduction2016, 2 and 3.1).
const (
	coreNS       = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
	materialNS   = "http://schemas.microsoft.com/3dmanufacturing/material/2015/02"
	productionNS = "http://schemas.microsoft.com/3dmanufacturing/production/2015/06"
)

// metres is the closed list of units of the core specification.
var metres = map[string]float64{
	"": 1e-3, "micron": 1e-6, "millimeter": 1e-3, "centimeter": 1e-2, "inch": 0.0254, "foot": 0.3048, "meter": 1,
}

// object is a mesh or a list of components.
type object struct {
	id, name, kind string
	unit           float64 // metres in a unit of its part
	vertices       []point // in file units
	triangles      [][3]uint32
	components     []placed
}

// placed is an object put somewhere, by a component or by the build.
type placed struct {
	id    string  // of the object within its part, see key
	part  string  // the part the object stands in
	unit  float64 // of the part that places it [m]
	at    transform
	where Place
}

// key names an object among those of all parts.
func (p placed) key() string { return p.part + "\x00" + p.id }

// model is everything of the root part, and of the parts it points into, that has
// to do with shape.
type model struct {
	root    float64            // unit of the root part [m]
	objects map[string]*object // by key
	build   []placed

	part    string          // being read
	unit    float64         // its unit, 0 until it is known [m]
	further map[string]bool // parts pointed into

	open      *object
	limits    Limits
	triangles int
	vertices  int
	placings  int
	others    int
}

// readModel reads the root part as a stream.
func readModel(in io.Reader, name string, limits Limits) (*model, error) {
	m := &model{objects: map[string]*object{}, further: map[string]bool{}, limits: limits}
	err := m.read(in, name)
	m.root = m.unit
	return m, err
}

// read takes in one part.
func (m *model) read(in io.Reader, name string) error {
	m.part, m.unit, m.open = name, 0, nil
	err := walkXML(in, name, m.start, m.end)
	if err == nil && m.unit == 0 {
		err = &ReadError{Fault: Malformed, Where: Place{Part: name}, What: "the part holds no model"}
	}
	return err
}

// readFurther takes in the parts the root part points into. They point no further
// (ThreeMFProduction2016, 2), so one round is all.
func (m *model) readFurther(c *container) error {
	names := slices.Sorted(maps.Keys(m.further))
	for _, name := range names {
		body, err := c.open(name)
		if err != nil {
			return err
		}
		if err := errors.Join(m.read(body, name), body.Close()); err != nil {
			return err
		}
	}
	return nil
}

// inRoot reports whether the root part is being read.
func (m *model) inRoot() bool { return m.root == 0 }

func (m *model) start(e *element) error {
	if e.Name.Space != coreNS || e.Name.Local != "vertex" && e.Name.Local != "triangle" {
		if m.others++; m.others > m.limits.Others { // they are quick to read, and a small package may hold very many
			return e.fail(TooLarge, "more than %d elements that are no vertex and no triangle", m.limits.Others)
		}
	}
	if e.Name.Space != coreNS {
		return nil // foreign elements carry nothing a core reader must know
	}
	switch e.Name.Local {
	case "model":
		return m.startModel(e)
	case "object":
		return m.startObject(e)
	case "vertex":
		return m.vertex(e)
	case "triangle":
		return m.triangle(e)
	case "component":
		return m.component(e)
	case "item":
		if !m.inRoot() {
			return nil // only the root part builds (ThreeMFProduction2016, 2)
		}
		p, err := m.place(e)
		m.build = append(m.build, p)
		return err
	}
	return nil
}

func (m *model) end(name name) error {
	if name.Space == coreNS && name.Local == "object" {
		m.open = nil
	}
	return nil
}

func (m *model) startModel(e *element) error {
	if m.unit != 0 {
		return e.fail(Malformed, "a model within the model")
	}
	unit, ok := metres[e.attr("unit")]
	if !ok {
		return e.fail(Malformed, "unit %q is none of micron, millimeter, centimeter, inch, foot, meter", e.attr("unit"))
	}
	m.unit = unit
	for _, prefix := range strings.Fields(e.attr("requiredextensions")) {
		if ns := namespace(e, prefix); ns != coreNS && ns != materialNS && ns != productionNS {
			return e.fail(Unsupported, "the file requires the extension %q (%s)", prefix, ns)
		}
	}
	return nil
}

func namespace(e *element, prefix string) string {
	for _, a := range e.Attr {
		if a.Space == "xmlns" && a.Local == prefix {
			return a.Value
		}
	}
	return "unknown"
}

func (m *model) startObject(e *element) error {
	o := &object{id: e.attr("id"), name: e.attr("name"), kind: e.attr("type"), unit: m.unit}
	if o.kind == "" {
		o.kind = "model"
	}
	if m.open != nil {
		return e.fail(Malformed, "object %q within object %q", o.id, m.open.id)
	}
	if o.id == "" {
		return e.fail(Malformed, "an object without id")
	}
	key := placed{id: o.id, part: m.part}.key()
	if _, twice := m.objects[key]; twice {
		return e.fail(Malformed, "object id %q stands twice", o.id)
	}
	if len(m.objects) >= m.limits.Placed {
		return e.fail(TooLarge, "more than %d objects", m.limits.Placed)
	}
	m.objects[key], m.open = o, o
	return nil
}

func (m *model) vertex(e *element) error {
	if m.open == nil {
		return e.fail(Malformed, "a vertex outside an object")
	}
	// A closed mesh has half as many vertices as facets.
	if m.vertices++; m.vertices > m.limits.Facets {
		return e.fail(TooLarge, "more than %d vertices", m.limits.Facets)
	}
	var p point
	for i, axis := range [3]string{"x", "y", "z"} {
		v, err := strconv.ParseFloat(strings.TrimSpace(e.attr(axis)), 64)
		if err != nil {
			return e.fail(Malformed, "object %q, vertex %d: %s is %q, not a number", m.open.id, len(m.open.vertices), axis, e.attr(axis))
		}
		if math.IsNaN(v) || math.Abs(v)*m.unit > maxCoordinate {
			return e.fail(NotFinite, "object %q, vertex %d: %s is %q, not a place within %g m", m.open.id, len(m.open.vertices), axis, e.attr(axis), maxCoordinate)
		}
		p[i] = v
	}
	m.open.vertices = append(m.open.vertices, p)
	return nil
}

func (m *model) triangle(e *element) error {
	if m.open == nil {
		return e.fail(Malformed, "a triangle outside an object")
	}
	if m.triangles++; m.triangles > m.limits.Facets {
		return tooMany(m.limits.Facets)
	}
	var t [3]uint32
	for i, name := range [3]string{"v1", "v2", "v3"} {
		v, err := strconv.ParseUint(strings.TrimSpace(e.attr(name)), 10, 31)
		if err != nil || int(v) >= len(m.open.vertices) {
			return e.fail(Malformed, "object %q, triangle %d: %s is %q, but there are %d vertices", m.open.id, len(m.open.triangles)+1, name, e.attr(name), len(m.open.vertices))
		}
		t[i] = uint32(v)
	}
	m.open.triangles = append(m.open.triangles, t)
	return nil
}

func (m *model) component(e *element) error {
	if m.open == nil {
		return e.fail(Malformed, "a component outside an object")
	}
	p, err := m.place(e)
	m.open.components = append(m.open.components, p)
	return err
}

// place reads where an object goes.
func (m *model) place(e *element) (placed, error) {
	p := placed{id: e.attr("objectid"), part: m.part, unit: m.unit, where: e.where()}
	for _, a := range e.Attr {
		if a.Space != productionNS || a.Local != "path" {
			continue
		}
		if p.part = partName(a.Value); p.part == m.part {
			continue
		}
		if !m.inRoot() {
			return p, e.fail(Malformed, "object %q lies in another part, %q, which only the root part may ask for", p.id, a.Value)
		}
		m.further[p.part] = true
	}
	if m.placings++; m.placings > m.limits.Placed {
		return p, e.fail(TooLarge, "more than %d components and build items", m.limits.Placed)
	}
	at, wrong := parseTransform(e.attr("transform"))
	if wrong != "" {
		return p, e.fail(Malformed, "the transform of object %q %s", p.id, wrong)
	}
	p.at = at
	return p, nil
}

// title names an object for a person.
func (o *object) title() string {
	if o.name != "" {
		return o.name
	}
	return fmt.Sprintf("object %s", o.id)
}
