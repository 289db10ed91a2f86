package demo

import (
	"archive/zip"
	"encoding/binary"
	"fmt"
	"io"
	"math"
)

// corner is a point of a solid [mm].
type corner [3]float64

// solid is a closed surface of triangles, seen anticlockwise from outside.
type solid struct {
	corners   []corner
	triangles [][3]int
}

// ring is a regular convex outline with n corners, stretched by sx and sy.
func ring(n int, radius, sx, sy, z float64) []corner {
	var points []corner
	for i := range n {
		a := 2 * math.Pi * (float64(i) + 0.5) / float64(n)
		points = append(points, corner{radius * sx * math.Cos(a), radius * sy * math.Sin(a), z})
	}
	return points
}

// loft joins two convex outlines with the same number of corners, the first
// below the second.
func loft(low, high []corner) solid {
	n := len(low)
	s := solid{corners: append(append([]corner{}, low...), high...)}
	for i := range n {
		j := (i + 1) % n
		s.triangles = append(s.triangles, [3]int{i, j, n + j}, [3]int{i, n + j, n + i})
	}
	for i := 1; i < n-1; i++ {
		s.triangles = append(s.triangles, [3]int{0, i + 1, i}, [3]int{n, n + i, n + i + 1})
	}
	return s
}

// writeSTL writes the solid as binary STL: 80 bytes of text, the number of
// triangles, and fifty bytes a triangle. Normals are left zero, as readers
// work them out.
func (s solid) writeSTL(w io.Writer, title string) error {
	var head [80]byte
	copy(head[:], title)
	if _, err := w.Write(head[:]); err != nil {
		return err
	}
	if err := binary.Write(w, binary.LittleEndian, uint32(len(s.triangles))); err != nil {
		return err
	}
	for _, t := range s.triangles {
		var facet struct {
			Normal  [3]float32
			Corners [3][3]float32
			Spare   uint16
		}
		for i, c := range t {
			for axis := range 3 {
				facet.Corners[i][axis] = float32(s.corners[c][axis])
			}
		}
		if err := binary.Write(w, binary.LittleEndian, facet); err != nil {
			return err
		}
	}
	return nil
}

// The fixed parts of a 3MF package: what kinds of file it holds and which is
// the model.
const (
	contentTypes = `<?xml version="1.0" encoding="UTF-8"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">
<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>
<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/>
</Types>
`
	relationships = `<?xml version="1.0" encoding="UTF-8"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">
<Relationship Target="/3D/3dmodel.model" Id="rel0" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/>
</Relationships>
`
)

// write3MF writes the solid as a 3MF package with a build item at each shift
// along x [mm].
func (s solid) write3MF(w io.Writer, shifts ...float64) error {
	pack := zip.NewWriter(w)
	for _, part := range [][2]string{
		{"[Content_Types].xml", contentTypes},
		{"_rels/.rels", relationships},
		{"3D/3dmodel.model", s.model(shifts)},
	} {
		file, err := pack.Create(part[0])
		if err != nil {
			return err
		}
		if _, err := io.WriteString(file, part[1]); err != nil {
			return err
		}
	}
	return pack.Close()
}

// model is the 3MF core model: one object, built once a shift.
func (s solid) model(shifts []float64) string {
	text := `<?xml version="1.0" encoding="UTF-8"?>
<model unit="millimeter" xml:lang="en" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">
<resources><object id="1" type="model"><mesh><vertices>
`
	for _, c := range s.corners {
		text += fmt.Sprintf("<vertex x=\"%.4f\" y=\"%.4f\" z=\"%.4f\"/>\n", c[0], c[1], c[2])
	}
	text += "</vertices><triangles>\n"
	for _, t := range s.triangles {
		text += fmt.Sprintf("<triangle v1=\"%d\" v2=\"%d\" v3=\"%d\"/>\n", t[0], t[1], t[2])
	}
	text += "</triangles></mesh></object></resources>\n<build>\n"
	for _, x := range shifts {
		text += fmt.Sprintf("<item objectid=\"1\" transform=\"1 0 0 0 1 0 0 0 1 %g 0 0\"/>\n", x)
	}
	return text + "</build></model>\n"
}
