// Solids whose volume and area are known in closed form, and writers for them.

package mesh

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"strings"
	"testing"
)

// facets is a surface in millimetres, anticlockwise seen from outside.
type facets [][3]point

// quad adds a four-sided face as two facets.
func (f *facets) quad(a, b, c, d point) { *f = append(*f, [3]point{a, b, c}, [3]point{a, c, d}) }

func box(x, y, z float64) facets {
	var f facets
	o, i, j, k := point{}, point{x, 0, 0}, point{0, y, 0}, point{0, 0, z}
	ij, ik, jk, ijk := point{x, y, 0}, point{x, 0, z}, point{0, y, z}, point{x, y, z}
	f.quad(o, j, ij, i)
	f.quad(k, ik, ijk, jk)
	f.quad(o, i, ik, k)
	f.quad(j, jk, ijk, ij)
	f.quad(o, k, jk, j)
	f.quad(i, ij, ijk, ik)
	return f
}

// tetrahedron has its right angle at the origin.
func tetrahedron(a float64) facets {
	o, x, y, z := point{}, point{a, 0, 0}, point{0, a, 0}, point{0, 0, a}
	return facets{{o, y, x}, {o, z, y}, {o, x, z}, {x, y, z}}
}

// globe is a ball as n meridians and m rings of flat faces.
func globe(r float64, n, m int) facets {
	at := func(i, j int) point {
		if i == 0 || i == m {
			return point{0, 0, r * math.Cos(math.Pi*float64(i/m))}
		}
		th, ph := math.Pi*float64(i)/float64(m), 2*math.Pi*float64(j%n)/float64(n)
		return point{r * math.Sin(th) * math.Cos(ph), r * math.Sin(th) * math.Sin(ph), r * math.Cos(th)}
	}
	var f facets
	for i := range m {
		for j := range n {
			a, b, c, d := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
			switch i {
			case 0:
				f = append(f, [3]point{a, b, c})
			case m - 1:
				f = append(f, [3]point{a, b, d})
			default:
				f.quad(a, b, c, d)
			}
		}
	}
	return f
}

// ring is a torus of radius R and tube a, as n wedges of m flat faces.
func ring(R, a float64, n, m int) facets {
	at := func(i, j int) point {
		ph, ps := 2*math.Pi*float64(i%n)/float64(n), 2*math.Pi*float64(j%m)/float64(m)
		q := R + a*math.Cos(ps)
		return point{q * math.Cos(ph), q * math.Sin(ph), a * math.Sin(ps)}
	}
	var f facets
	for i := range n {
		for j := range m {
			f.quad(at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1))
		}
	}
	return f
}

// moved returns the surface turned about the z axis, scaled and shifted.
func (f facets) moved(turn, scale float64, by point) facets {
	c, s := math.Cos(turn), math.Sin(turn)
	out := make(facets, len(f))
	for i, t := range f {
		for k, p := range t {
			out[i][k] = point{scale*(c*p[0]-s*p[1]) + by[0], scale*(s*p[0]+c*p[1]) + by[1], scale*p[2] + by[2]}
		}
	}
	return out
}

// turnedOut returns the surface inside out.
func (f facets) turnedOut() facets {
	out := make(facets, len(f))
	for i, t := range f {
		out[i] = [3]point{t[0], t[2], t[1]}
	}
	return out
}

// binary writes the surface as binary STL.
func (f facets) binary(header string) []byte {
	b := make([]byte, 80, headerBytes+facetBytes*len(f))
	copy(b, header)
	b = binary.LittleEndian.AppendUint32(b, uint32(len(f)))
	for _, t := range f {
		b = append(b, make([]byte, 12)...)
		for _, p := range t {
			for _, v := range p {
				b = binary.LittleEndian.AppendUint32(b, math.Float32bits(float32(v)))
			}
		}
		b = append(b, 0, 0)
	}
	return b
}

// text writes the surface as text STL.
func (f facets) text(name string) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "solid %s\n", name)
	for _, t := range f {
		b.WriteString("  facet normal 0 0 0\n    outer loop\n")
		for _, p := range t {
			fmt.Fprintf(&b, "      vertex %g %g %g\n", p[0], p[1], p[2])
		}
		b.WriteString("    endloop\n  endfacet\n")
	}
	fmt.Fprintf(&b, "endsolid %s\n", name)
	return b.Bytes()
}

// mesh writes the surface as the mesh element of a 3MF object.
func (f facets) mesh() string {
	var v, t strings.Builder
	known := map[point]int{}
	for _, facet := range f {
		var n [3]int
		for k, p := range facet {
			i, ok := known[p]
			if !ok {
				i = len(known)
				known[p] = i
				fmt.Fprintf(&v, `<vertex x="%g" y="%g" z="%g"/>`, p[0], p[1], p[2])
			}
			n[k] = i
		}
		fmt.Fprintf(&t, `<triangle v1="%d" v2="%d" v3="%d"/>`, n[0], n[1], n[2])
	}
	return "<mesh><vertices>" + v.String() + "</vertices><triangles>" + t.String() + "</triangles></mesh>"
}

// model3MF wraps resources and build in a model element.
func model3MF(attributes, resources, build string) string {
	return `<?xml version="1.0" encoding="UTF-8"?>` +
		`<model ` + attributes + ` xmlns="` + coreNS + `" xmlns:m="` + materialNS + `" xmlns:p="` + productionNS + `" xmlns:b="urn:beams">` +
		`<resources>` + resources + `</resources><build>` + build + `</build></model>`
}

const relations = `<?xml version="1.0" encoding="UTF-8"?>` +
	`<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">` +
	`<Relationship Id="r0" Target="/3D/part.model" Type="` + modelRelation + `"/></Relationships>`

// zipped packs parts, given as name, text, name, text.
func zipped(t testing.TB, parts ...string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for i := 0; i < len(parts); i += 2 {
		w, err := z.Create(parts[i])
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write([]byte(parts[i+1])); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// pack makes a 3MF package of a model.
func pack(t testing.TB, model string) []byte {
	t.Helper()
	return zipped(t, "[Content_Types].xml", "<Types/>", "_rels/.rels", relations, "3D/part.model", model)
}

// build3MF reads a package from memory.
func build3MF(data []byte, o Options) (Build, error) {
	return Read3MF(bytes.NewReader(data), int64(len(data)), o)
}
