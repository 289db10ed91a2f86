package mesh

import (
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"math"
	"strings"
	"testing"
	"testing/iotest"

	"hopperful/process"
)

// refused reports the fault of an error, or "" when it is none of ours.
func refused(err error) Fault {
	var own *ReadError
	if errors.As(err, &own) {
		return own.Fault
	}
	return ""
}

func cautions(s Solid) map[Caution]bool {
	all := map[Caution]bool{}
	for _, w := range s.Warnings {
		all[w.Caution] = true
	}
	return all
}

func TestReadSTLRefuses(t *testing.T) {
	t.Parallel()
	good := box(1, 2, 3).binary("box")
	text := string(box(1, 2, 3).text("box"))
	nan := bytes.Clone(good)
	binary.LittleEndian.PutUint32(nan[headerBytes+2*facetBytes+12:], math.Float32bits(float32(math.NaN())))
	far := bytes.Clone(good)
	binary.LittleEndian.PutUint32(far[headerBytes+12:], math.Float32bits(3e38))
	for name, c := range map[string]struct {
		input string
		want  Fault
		where string
	}{
		"nothing":                {"", Empty, ""},
		"neither form":           {"hello", Truncated, "byte 5"},
		"header only":            {string(good[:headerBytes]), Empty, ""},
		"cut inside a facet":     {string(good[:headerBytes+3*facetBytes+7]), Truncated, "byte 241"},
		"bytes behind":           {string(good) + "tail", Malformed, "byte 684"},
		"NaN":                    {string(nan), NotFinite, "facet 3"},
		"beyond a kilometre":     {string(far), NotFinite, "facet 1"},
		"text cut off":           {text[:200], Truncated, "line"},
		"text without endsolid":  {text[:strings.Index(text, "endsolid")], Truncated, "line 86"},
		"text without facets":    {"solid empty\nendsolid empty\n", Empty, ""},
		"decimal comma":          {strings.Replace(text, "vertex 0 2 0", "vertex 0 2,5 0", 1), Malformed, "line 5"},
		"text NaN":               {strings.Replace(text, "vertex 0 2 0", "vertex 0 nan 0", 1), NotFinite, "facet 1"},
		"text infinite":          {strings.Replace(text, "vertex 0 2 0", "vertex 0 1e999 0", 1), NotFinite, "facet 1"},
		"four corners":           {strings.Replace(text, "    endloop", "      vertex 0 0 0\n    endloop", 1), Malformed, "line 7"},
		"two corners":            {strings.Replace(text, "      vertex 0 0 0\n", "", 1), Malformed, "line 6"},
		"word out of place":      {strings.Replace(text, "  facet normal", "  vertex normal", 1), Malformed, "line 2"},
		"normal of words":        {strings.Replace(text, "normal 0 0 0", "normal up up up", 1), Malformed, "line 2"},
		"endless word":           {"solid x\nfacet normal " + strings.Repeat("1", 5000), Malformed, "line 2"},
		"text behind the solids": {text + "and more", Malformed, "line 87"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			_, err := ReadSTL(strings.NewReader(c.input), Options{})
			if refused(err) != c.want {
				t.Fatalf("got %v, wanted fault %q", err, c.want)
			}
			if !strings.Contains(err.Error(), c.where) {
				t.Errorf("%q does not say where: %q", err, c.where)
			}
		})
	}
}

func TestReadSTLLimits(t *testing.T) {
	t.Parallel()
	data := box(1, 2, 3).binary("box")
	for name, l := range map[string]Limits{"facets": {Facets: 11}, "bytes": {Bytes: 600}} {
		if _, err := ReadSTL(bytes.NewReader(data), Options{Limits: l}); refused(err) != TooLarge {
			t.Errorf("%s: got %v", name, err)
		}
	}
	if _, err := ReadSTL(bytes.NewReader(data), Options{Limits: Limits{Facets: 12, Bytes: int64(len(data))}}); err != nil {
		t.Errorf("exactly at the limits: %v", err)
	}
	var out *process.RangeError
	if _, err := ReadSTL(bytes.NewReader(data), Options{Unit: 5}); !errors.As(err, &out) {
		t.Errorf("a unit of 5 m: got %v", err)
	}
}

// A stream that breaks is told from a file that is cut off, with its cause.
func TestReadSTLStreamFails(t *testing.T) {
	t.Parallel()
	cause := errors.New("the cable came out")
	for name, data := range map[string][]byte{
		"at once": nil, "in a facet": globe(5, 100, 50).binary("x"), "in text": globe(5, 100, 50).text("x"),
	} {
		in := io.MultiReader(bytes.NewReader(data[:len(data)*2/3]), iotest.ErrReader(cause))
		if _, err := ReadSTL(in, Options{}); refused(err) != Unreadable || !errors.Is(err, cause) {
			t.Errorf("%s: got %v", name, err)
		}
	}
}

func TestReadSTLWrongCount(t *testing.T) {
	t.Parallel()
	for _, counted := range []uint32{0, 11, 13, math.MaxUint32} {
		data := box(1, 2, 3).binary("solid box facet")
		binary.LittleEndian.PutUint32(data[80:], counted)
		s, err := ReadSTL(bytes.NewReader(data), Options{})
		if err != nil || s.Facets != 12 || !cautions(s)[WrongCount] {
			t.Errorf("count %d: %d facets, %v, %v", counted, s.Facets, s.Warnings, err)
		}
	}
}

func TestReadSTLForms(t *testing.T) {
	t.Parallel()
	text := string(box(1, 2, 3).text("box"))
	for name, input := range map[string]string{
		"upper case":       strings.ToUpper(text),
		"carriage returns": strings.ReplaceAll(text, "\n", "\r\n"),
		"tabs":             strings.ReplaceAll(text, "  ", "\t"),
		"blank lines":      "\n \n" + strings.ReplaceAll(text, "\n", "\n\n"),
		"byte order mark":  "\xef\xbb\xbf" + text,
		"no final newline": strings.TrimSpace(text),
		"name with facet":  strings.Replace(text, "solid box", "solid a facet of ünderstanding", 1),
		"normals not used": strings.ReplaceAll(text, "normal 0 0 0", "normal -nan nan inf"),
	} {
		s, err := ReadSTL(strings.NewReader(input), Options{})
		if err != nil || s.Facets != 12 || !s.Closed || math.Abs(s.Volume-6e-9) > 1e-20 {
			t.Errorf("%s: %+v, %v", name, s, err)
		}
	}
}

func TestReadSTLJudgesTheSurface(t *testing.T) {
	t.Parallel()
	outer, inner := box(10, 10, 10), box(4, 4, 4).moved(0, 1, point{3, 3, 3})
	turned := box(1, 1, 1)
	turned[0][1], turned[0][2] = turned[0][2], turned[0][1]
	flat := append(box(1, 1, 1), [3]point{{0, 0, 0}, {0, 0, 0}, {1, 0, 0}})
	fin := append(box(1, 1, 1), [3]point{{0, 0, 0}, {1, 0, 0}, {0, -1, 0}})
	read := func(f facets) Solid {
		s, err := ReadSTL(bytes.NewReader(f.text("x")), Options{Unit: 1e-3})
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	if s := read(outer.turnedOut()); !s.Inverted || !cautions(s)[TurnedOut] || math.Abs(s.Volume-1e-6) > 1e-18 || !s.Closed {
		t.Errorf("inside out: %+v", s)
	}
	if s := read(append(outer, inner.turnedOut()...)); s.Shells != 2 || s.InsideOut != 1 || math.Abs(s.Volume-936e-9) > 1e-18 {
		t.Errorf("cavity: %+v", s)
	}
	if s := read(append(outer, inner.moved(0, 1, point{20, 0, 0})...)); s.Shells != 2 || !cautions(s)[SeveralShells] {
		t.Errorf("two bodies: %+v", s)
	}
	if s := read(turned); s.Misoriented != 3 || s.OpenEdges != 0 || s.Closed || !cautions(s)[NotClosed] {
		t.Errorf("one facet turned: %+v", s)
	}
	if s := read(box(1, 1, 1)[1:]); s.OpenEdges != 3 || s.Closed {
		t.Errorf("one facet missing: %+v", s)
	}
	if s := read(flat); s.Degenerate != 1 || !s.Closed || !cautions(s)[FlatFacets] {
		t.Errorf("a facet without area: %+v", s)
	}
	if s := read(fin); s.OpenEdges != 3 || s.Closed {
		t.Errorf("three facets at one edge: %+v", s)
	}
	if s := read(outer); len(s.Warnings) != 0 || s.Size() != [3]float64{0.01, 0.01, 0.01} {
		t.Errorf("a sound box: %+v", s)
	}
}
