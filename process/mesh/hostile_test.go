package mesh

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// swelling packs a model whose body is one text again and again.
func swelling(t testing.TB, head, again string, times int, tail string) []byte {
	t.Helper()
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for name, body := range map[string]io.Reader{
		"_rels/.rels":      strings.NewReader(`<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Target="/3D/3dmodel.model" Type="` + modelRelation + `"/></Relationships>`),
		"3D/3dmodel.model": io.MultiReader(strings.NewReader(head), &repeated{text: again, left: times}, strings.NewReader(tail)),
	} {
		w, err := z.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.Copy(w, body); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// repeated is a text so many times over.
type repeated struct {
	text string
	left int
	rest string
}

func (r *repeated) Read(p []byte) (int, error) {
	if r.rest == "" {
		if r.left == 0 {
			return 0, io.EOF
		}
		r.rest, r.left = r.text, r.left-1
	}
	n := copy(p, r.rest)
	r.rest = r.rest[n:]
	return n, nil
}

// hostileHead begins a model and an object of vertices that may go on for ever.
const hostileHead = `<?xml version="1.0"?><model unit="millimeter" xmlns="` + coreNS + `"><resources><object id="1"><mesh><vertices>`

// someVertices are 400 of them, written as a slicer would.
func someVertices() string {
	var text strings.Builder
	r := rand.New(rand.NewPCG(1, 1))
	for range 400 {
		fmt.Fprintf(&text, `<vertex x="%.3f" y="%.3f" z="%.3f"/>`, r.Float64()*100, r.Float64()*100, r.Float64()*100)
	}
	return text.String()
}

// TestASwellingPackageIsRefusedBeforeItIsRead: by the sizes its directory names,
// so that nothing is unpacked.
func TestASwellingPackageIsRefusedBeforeItIsRead(t *testing.T) {
	t.Parallel()
	for name, again := range map[string]string{"one vertex": `<vertex x="1" y="2" z="3"/>`, "foreign tags": `<a/>`, "many vertices": someVertices()} {
		data := swelling(t, hostileHead, again, 1+(40<<20)/len(again), "")
		read := &counted{Reader: bytes.NewReader(data)}
		_, err := Read3MF(read, int64(len(data)), Options{})
		var own *ReadError
		if !errors.As(err, &own) || own.Fault != TooLarge || !strings.Contains(own.What, "swells") {
			t.Errorf("%s: %v", name, err)
		}
		if read.n > 160<<10 { // the search for the directory takes some
			t.Errorf("%s: %d of %d bytes were read", name, read.n, len(data))
		}
	}
}

// counted counts what is read.
type counted struct {
	*bytes.Reader
	n int64
}

func (c *counted) ReadAt(p []byte, off int64) (int, error) {
	c.n += int64(len(p))
	return c.Reader.ReadAt(p, off)
}

// TestAModelOfTooManyVerticesIsRefused before they take the memory.
func TestAModelOfTooManyVerticesIsRefused(t *testing.T) {
	t.Parallel()
	data := swelling(t, hostileHead, someVertices(), 10, "")
	_, err := build3MF(data, Options{Limits: Limits{Facets: 1000}})
	var own *ReadError
	if !errors.As(err, &own) || own.Fault != TooLarge || !strings.Contains(own.What, "more than 1000 vertices") {
		t.Errorf("got %v", err)
	}
}

// TestTooManyOtherTagsAreRefused: of the namespace of the core and of others, while as many
// as are allowed pass.
func TestTooManyOtherTagsAreRefused(t *testing.T) {
	t.Parallel()
	for _, tag := range []string{`<a/>`, `<a xmlns="elsewhere"/>`} {
		for times, refused := range map[int]bool{90: false, 200: true} {
			_, err := build3MF(swelling(t, hostileHead, tag, times, ""), Options{Limits: Limits{Others: 100}})
			var own *ReadError
			if !errors.As(err, &own) || (own.Fault == TooLarge) != refused || refused && !strings.Contains(own.What, "more than 100 elements") {
				t.Errorf("%d of %s: %v", times, tag, err)
			}
		}
	}
}

// TestTheWelderIsAMap: held against the map of the language over places of which
// many are the same, zeros of both signs among them.
func TestTheWelderIsAMap(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(3, 3))
	w, known := newWelder(), map[point]uint32{}
	for range 300_000 {
		p := point{float64(r.IntN(60)), float64(r.IntN(60)) / 7, math.Copysign(float64(r.IntN(60)), r.Float64()-0.5)}
		got, isNew := w.number(p)
		want, was := known[p] // −0 equals 0 as a key
		if !was {
			want = uint32(len(known))
			known[p] = want
		}
		if got != want || isNew == was {
			t.Fatalf("%v is %d (new %v), want %d (known %v)", p, got, isNew, want, was)
		}
	}
}

// randomSTL is a binary STL of facets with nothing in common.
func randomSTL(facets int) []byte {
	r := rand.New(rand.NewPCG(2, 2))
	data := make([]byte, headerBytes+facetBytes*facets)
	binary.LittleEndian.PutUint32(data[80:], uint32(facets))
	for f := range facets {
		row := data[headerBytes+facetBytes*f:]
		for i := range 9 {
			binary.LittleEndian.PutUint32(row[12+4*i:], math.Float32bits(r.Float32()*200))
		}
	}
	return data
}

func BenchmarkReadRandomSTL(b *testing.B) {
	data := randomSTL(1_500_000)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ReadSTL(bytes.NewReader(data), Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRefuse3MF(b *testing.B) {
	data := swelling(b, hostileHead, someVertices(), 6000, "")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := build3MF(data, Options{Limits: Limits{Ratio: 1e9}}); err == nil {
			b.Fatal("it is taken")
		}
	}
}
