package mesh

import (
	"bytes"
	"math"
	"testing"
)

var small = Options{Limits: Limits{Facets: 2000, Bytes: 1 << 20, Unzipped: 1 << 20, Placed: 100}}

// sane fails when a result that was not refused is not a measurement.
func sane(t *testing.T, s Solid, err error) {
	t.Helper()
	if err != nil {
		if err.Error() == "" || refused(err) == "" {
			t.Fatalf("a refusal that says nothing: %#v", err)
		}
		return
	}
	if s.Facets == 0 || !(s.Volume >= 0) || math.IsInf(s.Volume, 0) || !(s.Area >= 0) || math.IsInf(s.Area, 0) {
		t.Fatalf("no measurement: %+v", s)
	}
	for i := range 3 {
		if !(s.Min[i] <= s.Max[i]) {
			t.Fatalf("box %v to %v", s.Min, s.Max)
		}
	}
}

func FuzzReadSTL(f *testing.F) {
	for name, data := range ownFiles(f) {
		if len(data) < 2000 && name != "pair.3mf" {
			f.Add(data)
		}
	}
	f.Add([]byte("solid\nfacet normal 0 0 0 outer loop vertex 0 0 0 vertex 1 0 0 vertex 0 1 0 endloop endfacet endsolid"))
	f.Add([]byte("solid x"))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := ReadSTL(bytes.NewReader(data), small)
		sane(t, s, err)
	})
}

func FuzzRead3MF(f *testing.F) {
	f.Add(pack(f, model3MF(plain, cube("1", ""), `<item objectid="1"/>`)))
	f.Add(ownFiles(f)["pair.3mf"])
	f.Fuzz(func(t *testing.T, data []byte) {
		b, err := build3MF(data, small)
		sane(t, b.Solid, err)
	})
}

// FuzzModel goes past the zip, whose check sums keep mutations out.
func FuzzModel(f *testing.F) {
	f.Add([]byte(model3MF(plain, cube("1", ""), `<item objectid="1" transform="1 0 0 0 1 0 0 0 1 0 0 0"/>`)))
	f.Add([]byte(model3MF(`unit="inch"`, cube("1", "")+`<object id="2"><components><component objectid="1"/></components></object>`, `<item objectid="2"/>`)))
	f.Fuzz(func(t *testing.T, data []byte) {
		m, err := readModel(bytes.NewReader(data), "3D/part.model", small.Limits.withDefaults())
		if err != nil {
			sane(t, Solid{}, err)
			return
		}
		b, err := m.assemble()
		sane(t, b.Solid, err)
	})
}
