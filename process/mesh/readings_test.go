package mesh

// Files whole, cut off and spoilt by chance: what is read of each, or where and why it is refused.

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
)

// tetra is a tetrahedron as text and as binary, with a facet of no area and, where wanted, one facet short.
func tetra(short bool) (text string, binary []byte) {
	at := [4][3]float32{{0, 0, 0}, {1.5, 0.25, 0}, {0.5, 2, -0.125}, {0.25, 0.5, 3}}
	facets := [][3]int{{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {2, 0, 3}, {1, 1, 2}}
	if short {
		facets = facets[1:]
	}
	var out strings.Builder
	out.WriteString("solid two words\n")
	raw := make([]byte, headerBytes)
	raw[80] = byte(len(facets))
	for _, f := range facets {
		out.WriteString("facet normal 0 0 1\n outer loop\n")
		one := make([]byte, facetBytes)
		for i, v := range f {
			fmt.Fprintf(&out, "  vertex %g %g %g\n", at[v][0], at[v][1], at[v][2])
			for k := range 3 {
				putFloat(one[12+12*i+4*k:], at[v][k])
			}
		}
		out.WriteString(" endloop\nendfacet\n")
		raw = append(raw, one...)
	}
	out.WriteString("endsolid two words\n")
	return out.String(), raw
}

func putFloat(b []byte, v float32) { binary.LittleEndian.PutUint32(b, math.Float32bits(v)) }

// assemblyText is a model with objects of two kinds, components, transforms, names, comments and text as it is.
func assemblyText() string {
	return model3MF(`unit="centimeter" xml:lang="en"`, cube("1", `name="a &amp; b"`)+`<!-- a comment -->`+
		`<object id="2" type="model"><components><component objectid="1" transform="2 0 0 0 1 0 0 0 1 5 0 0"/><component objectid="1"/></components></object>`+
		cube("3", `type="support"`)+`<object id="4"><mesh><vertices><vertex x="0" y="0" z="0"/><vertex x="1" y="0" z="0"/><vertex x="0" y=" 1 " z="0"/><vertex x='0' y='0' z='1e0'/></vertices>`+
		`<triangles><triangle v1="0" v2="2" v3="1"/><triangle v1="0" v2="1" v3="3"/><triangle v1="1" v2="2" v3="3"/></triangles></mesh></object><![CDATA[ < ]]><?x y?>`,
		`<item objectid="1" transform="1 0 0 0 1 0 0 0 1 0.5 0.25 0"/><item objectid="2" p:UUID="x"/><item objectid="3"/><item objectid="4" partnumber="7"/>`)
}

// Numbers and words say nothing by themselves; what moved is looked at and kept by -run AsApproved -update.
func TestReadingsAreAsApproved(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	told := func(name string, whole any, err error) {
		var r *ReadError
		switch {
		case errors.As(err, &r):
			fmt.Fprintf(&out, "%s: %s | %+v | %q\n", name, r.Fault, r.Where, r.What)
		case err != nil:
			fmt.Fprintf(&out, "%s: %v\n", name, err)
		default:
			fmt.Fprintf(&out, "%s: %s\n", name, checkrow.Whole(t, whole))
		}
	}
	stl := func(name string, data []byte) {
		s, err := ReadSTL(bytes.NewReader(data), Options{})
		told(name, s, err)
	}
	model := func(name, text string) {
		b, err := build3MF(pack(t, text), Options{})
		told(name, b, err)
	}
	spoilt := func(rng *rand.Rand, data []byte) []byte {
		data = bytes.Clone(data)
		at := rng.IntN(len(data))
		const signs = "<>\"'&/= x-9e.\x00\xff:"
		switch with := signs[rng.IntN(len(signs))]; rng.IntN(3) {
		case 0:
			data[at] = with
		case 1:
			data = append(data[:at], data[at+1:]...)
		default:
			data = append(data[:at], append([]byte{with}, data[at:]...)...)
		}
		return data
	}
	rng := rand.New(rand.NewPCG(81, 2))
	for _, short := range []bool{false, true} {
		text, raw := tetra(short)
		stl(fmt.Sprint("text ", short), []byte(text))
		stl(fmt.Sprint("binary ", short), raw)
		for k := range 24 {
			stl(fmt.Sprint("text cut ", k), []byte(text[:len(text)*k/24]))
			stl(fmt.Sprint("text spoilt ", k), spoilt(rng, []byte(text)))
			stl(fmt.Sprint("binary cut ", k), raw[:len(raw)*k/24])
			stl(fmt.Sprint("binary spoilt ", k), spoilt(rng, raw))
		}
		stl("text twice", []byte(text+text))
		stl("binary and more", append(bytes.Clone(raw), 1, 2, 3))
		stl("binary and a facet more", append(bytes.Clone(raw), raw[headerBytes:headerBytes+facetBytes]...))
	}
	text := assemblyText()
	model("a build", text)
	for k := range 30 {
		model(fmt.Sprint("build cut ", k), text[:len(text)*k/30])
	}
	for k := range 120 {
		model(fmt.Sprint("build spoilt ", k), string(spoilt(rng, []byte(text))))
	}
	for i, word := range [][2]string{
		{`x="1"`, `x="1e9"`}, {`x="1"`, `x="one"`}, {`x="1"`, `x="NaN"`}, {`v3="3"`, `v3="4"`}, {`v3="3"`, `v3="-1"`}, {`v3="3"`, ``}, {`objectid="2"`, `objectid="9"`}, {`objectid="1"/>`, `objectid="2"/>`}, {`"model"`, `"thing"`}, {`"centimeter"`, `"parsec"`},
		{`"centimeter"`, `"micron"`}, {`"centimeter"`, `"inch"`}, {`2 0 0 0 1 0`, `2 0 0 0 1`}, {`2 0 0 0 1 0`, `2 0 0 0 x 0`}, {`2 0 0 0 1 0`, `0 0 0 0 0 0`}, {`2 0 0 0 1 0`, `-1 0 0 0 1 0`}, {`&amp;`, `&#65;&#x42;`}, {`&amp;`, `&nothing;`}, {`<object id="4">`, `<object id="1">`},
		{`<object id="4">`, `<object>`}, {`<!-- a`, `<!DOCTYPE x><!-- a`}, {`<build>`, `<build/><build>`}, {`<item objectid="4"`, `<item`}, {`</vertices>`, ``}, {`</triangles>`, `</triangles><triangles/>`}, {`p:UUID`, `q:UUID`}, {`p:UUID`, `p:UU:ID`}, {`p:UUID`, `:UUID`}, {`p:UUID`, `p:`},
	} {
		model(fmt.Sprint("build with another word ", i), strings.Replace(text, word[0], word[1], 1))
	}
	for k, limits := range []Limits{{Facets: 51}, {Facets: 54}, {Facets: 55}, {Placed: 5}, {Placed: 6}, {Unzipped: 900}, {Others: 1}, {Nesting: 1}, {Nesting: 2}, {Directory: 10}} {
		b, err := build3MF(pack(t, text), Options{Limits: limits})
		told(fmt.Sprint("limits ", k), b, err)
	}
	checkrow.ApprovedText(t, "readings", out.String())
}

// Ends of what is no tag, names with a prefix, and how large a solid is.
func TestSmallPartsOfReading(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]int{"<!-- x -->rest": 10, "<!-- x --": 0, "<![CDATA[a]]>b": 13, "<?x y?>z": 7, "<?x y?": 0, "<!DOC": 0, "<!DOCTYPE x>": 9, "<!---->": 7} {
		if got := specialEnd([]byte(text)); got != want {
			t.Errorf("%q ends after %d bytes, wanted %d", text, got, want)
		}
	}
	for text, want := range map[string]bool{"a": true, "p:a": true, "pp:aa": true, ":a": false, "p:": false, "p:a:b": false, ":": false, "": true} {
		if got := qualified([]byte(text)); got != want {
			t.Errorf("%q is a name: %t", text, got)
		}
	}
	if got := (Solid{Min: [3]float64{-1, 2, -8}, Max: [3]float64{3, 5, -2}}).Size(); got != [3]float64{4, 3, 6} {
		t.Errorf("its size is %v", got)
	}
	for limit, want := range map[int64]bool{9: false, 10: true, 11: true} {
		c := &capped{r: strings.NewReader("0123456789"), left: limit, limit: limit}
		var got bytes.Buffer
		_, err := got.ReadFrom(c)
		if (err == nil) != want || got.Len() != int(min(limit, 10)) {
			t.Errorf("of 10 bytes with %d allowed %d are read: %v", limit, got.Len(), err)
		}
	}
}

// A part whose directory says that it swells more than forty times is not opened, once it is beyond a mebibyte.
func TestWhichPartIsOpened(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(82, 2))
	word := make([]byte, 400)
	for i := range word {
		word[i] = byte('a' + rng.IntN(26))
	}
	mixed := make([]byte, 0, 3<<19) // every fourth word by chance
	for len(mixed) < 3<<19 {
		for i := range word {
			if len(mixed)%1600 < 400 {
				word[i] = byte('a' + rng.IntN(26))
			}
		}
		mixed = append(mixed, word...)
	}
	data := zipped(t, "zeros", string(make([]byte, 3<<19)), "fewer", string(make([]byte, 1<<20)), "one more", string(make([]byte, 1<<20+1)), "mixed", string(mixed))
	c, err := openContainer(bytes.NewReader(data), int64(len(data)), Limits{}.withDefaults())
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]Fault{"zeros": TooLarge, "fewer": "", "one more": TooLarge, "mixed": "", "MIXED": "", "/mixed": "", "m%69xed": "", "none": Malformed} {
		body, err := c.open(name)
		var r *ReadError
		if want == "" && err != nil || want != "" && (!errors.As(err, &r) || r.Fault != want) {
			t.Errorf("%s: %v", name, err)
		}
		if err == nil {
			if err := body.Close(); err != nil {
				t.Error(err)
			}
		}
	}
	// Another part counts anew where parts are asked for one by one.
	p, err := OpenPackage(bytes.NewReader(data), int64(len(data)), Options{Limits: Limits{Unzipped: 1 << 20}})
	if err != nil {
		t.Fatal(err)
	}
	for range 3 {
		body, err := p.Part("fewer")
		if err != nil {
			t.Fatal(err)
		}
		if n, err := io.Copy(io.Discard, body); err != nil || n != 1<<20 {
			t.Errorf("%d bytes are read: %v", n, err)
		}
	}
}
