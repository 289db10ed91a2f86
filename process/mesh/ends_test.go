package mesh

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"
	"testing/iotest"
)

// A binary STL whose every byte is a letter is told from a text without facets by its
// length: 84 bytes and more are no text that says nothing. By hand: three vertices of
// floats that spell letters, the count spells blanks.
func TestLettersAreNoText(t *testing.T) {
	t.Parallel()
	head := "solid" + strings.Repeat(" ", 79) // and a count of blanks
	one := strings.Repeat("A", 12) + "AAAABBBBCCCC" + "BBBBAAAACCCC" + "CCCCAAAABBBB" + "  "
	for _, n := range []int{1, 2, 40} {
		s, err := ReadSTL(strings.NewReader(head+strings.Repeat(one, n)), Options{})
		if err != nil || s.Facets != n || !cautions(s)[WrongCount] {
			t.Errorf("%d facets of letters: %d, %v, %v", n, s.Facets, s.Warnings, err)
		}
	}
	for _, text := range []string{"solid x", "solid", "SOLID a b c\n" + strings.Repeat("\n", 60)} { // shorter than a head: a text, cut off
		if _, err := ReadSTL(strings.NewReader(text), Options{}); refused(err) != Truncated || !strings.Contains(err.Error(), "line") {
			t.Errorf("%q: %v", text, err)
		}
	}
	if !isText([]byte("solid "+strings.Repeat("x", 200)+"\nendsolid")) || isText([]byte("solid "+strings.Repeat("x", 200))) || isText([]byte("solid facet \x01")) || isText([]byte("sold facet")) {
		t.Error("text and binary are mixed up")
	}
}

// The reader of XML gives the same tags when its part comes byte by byte; values may be
// empty; more names than it keeps are read as well; a long value is told by its beginning.
func TestTagsByteByByte(t *testing.T) {
	t.Parallel()
	many := `<a e="" f=''>`
	for i := range 1500 {
		many += fmt.Sprintf(`<n%d/>`, i)
	}
	for _, text := range append(documents, many+"</a>", `<a b=""/>`, "<a>"+strings.Repeat("<b>", maxXMLDepth-1)+strings.Repeat("</b>", maxXMLDepth-1)+"</a>", "<a/>"+strings.Repeat(" ", maxToken-100)+"<!-- -->") {
		var got []string
		err := walkXML(iotest.OneByteReader(strings.NewReader(text)), "x", func(e *element) error {
			tag := fmt.Sprintf("<%q %q", e.Name.Space, e.Name.Local)
			for _, a := range e.Attr {
				tag += fmt.Sprintf(" %q %q=%q", a.Space, a.Local, a.Value)
			}
			got = append(got, tag)
			return nil
		}, func(n name) error {
			got = append(got, fmt.Sprintf(">%q %q", n.Space, n.Local))
			return nil
		})
		want, libErr := tagsByLibrary(text)
		if err != nil || libErr != nil || strings.Join(got, "\n") != strings.Join(want, "\n") {
			t.Errorf("%.60s: %d tags, %v; the library: %d, %v", text, len(got), err, len(want), libErr)
		}
	}
	for length, said := range map[int]string{40: `"` + strings.Repeat("x", 40) + `"`, 41: `"` + strings.Repeat("x", 40) + `"…`} {
		if _, err := tagsOf("</" + strings.Repeat("x", length) + ">"); err == nil || !strings.Contains(err.Error(), said+" closes") {
			t.Errorf("a name of %d letters: %v", length, err)
		}
	}
}

// The unit of an STL from a micrometre to a metre; a vertex up to a kilometre away.
func TestEndsOfLengths(t *testing.T) {
	t.Parallel()
	data := box(1, 2, 3).binary("box")
	for unit, in := range map[float64]bool{1e-6: true, 0.99e-6: false, 1: true, 1.01: false} {
		if _, err := ReadSTL(bytes.NewReader(data), Options{Unit: unit}); (err == nil) != in {
			t.Errorf("a unit of %g m: %v", unit, err)
		}
	}
	for far, in := range map[float64]bool{1e6: true, 1.001e6: false} { // mm
		_, err := ReadSTL(bytes.NewReader(box(far, 1, 1).binary("box")), Options{})
		if (err == nil) != in || !in && refused(err) != NotFinite {
			t.Errorf("a vertex %g mm away: %v", far, err)
		}
	}
	short := bytes.Clone(data)
	binary.LittleEndian.PutUint32(short[80:], 12)
	for cut, fault := range map[int]Fault{0: "", 1: Truncated, 49: Truncated} {
		if _, err := ReadSTL(bytes.NewReader(short[:len(short)-cut]), Options{}); refused(err) != fault {
			t.Errorf("%d bytes short: %v", cut, err)
		}
	}
}

// The limits of a package and of what it builds: exactly as much is taken, one more is not.
func TestEndsOfABuild(t *testing.T) {
	t.Parallel()
	one, item := cube("1", ""), `<item objectid="1"/>`
	chain := func(deep int) string { // object n holds n − 1
		var b strings.Builder
		b.WriteString(one)
		for i := 2; i <= deep+1; i++ {
			fmt.Fprintf(&b, `<object id="%d"><components><component objectid="%d"/></components></object>`, i, i-1)
		}
		return b.String()
	}
	five := strings.Repeat(item, 5)
	model := func(resources, build string) []byte { return pack(t, model3MF(plain, resources, build)) }
	size := int64(len(model(one, item)))
	for name, c := range map[string]struct {
		data    []byte
		in, out Limits
	}{
		"facets read":       {model(one, item), Limits{Facets: 12}, Limits{Facets: 11}},
		"facets placed":     {model(one, five), Limits{Facets: 60}, Limits{Facets: 59}},
		"vertices":          {model(strings.Replace(one, "</vertices>", strings.Repeat(`<vertex x="0" y="0" z="0"/>`, 12)+"</vertices>", 1), item), Limits{Facets: 20}, Limits{Facets: 19}},
		"items":             {model(one, five), Limits{Placed: 5}, Limits{Placed: 4}},
		"objects":           {model(one+cube("2", "")+cube("3", ""), item), Limits{Placed: 3}, Limits{Placed: 2}},
		"nesting":           {model(chain(3), `<item objectid="4"/>`), Limits{Nesting: 3}, Limits{Nesting: 2}},
		"usual nesting":     {model(chain(16), `<item objectid="17"/>`), Limits{}, Limits{Nesting: 15}},
		"bytes":             {model(one, item), Limits{Bytes: size}, Limits{Bytes: size - 1}},
		"other elements":    {model(one+strings.Repeat(`<a/>`, 20), item), Limits{Others: 28}, Limits{Others: 27}}, // and model, resources, object, mesh, vertices, triangles, build, item
		"copies of an item": {model(chain(1), strings.Repeat(`<item objectid="2"/>`, 3)), Limits{Placed: 6}, Limits{Placed: 5}},
	} {
		if _, err := build3MF(c.data, Options{Limits: c.in}); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if _, err := build3MF(c.data, Options{Limits: c.out}); refused(err) != TooLarge {
			t.Errorf("%s, one more: %v", name, err)
		}
	}
	// What all parts unpack to, to the byte.
	parts := int64(len(relations) + len(model3MF(plain, one, item)))
	for unzipped, in := range map[int64]bool{parts: true, parts - 1: false} {
		if _, err := build3MF(model(one, item), Options{Limits: Limits{Unzipped: unzipped}}); (err == nil) != in {
			t.Errorf("%d bytes unpacked of %d: %v", unzipped, parts, err)
		}
	}
	// A part of less than 1 MiB may well be one text again and again; a longer one may not, past the ratio.
	for more, in := range map[int]bool{1<<20 - 3000: true, 1<<20 + 3000: false} {
		if _, err := build3MF(model(one+strings.Repeat("<!---->", more/7), item), Options{}); (err == nil) != in {
			t.Errorf("%d bytes of comments: %v", more, err)
		}
	}
	// A place a kilometre away is taken, beyond it is not, also where a transform leads there.
	for far, in := range map[string]bool{"999998": true, "1000001": false} {
		_, err := build3MF(model(one, `<item objectid="1" transform="1 0 0 0 1 0 0 0 1 `+far+` 0 0"/>`), Options{})
		_, also := build3MF(model(strings.ReplaceAll(one, `x="1"`, `x="`+far+`"`), item), Options{})
		if (err == nil) != in || (also == nil) != in {
			t.Errorf("%s mm away: %v, %v", far, err, also)
		}
	}
	// What is drawn a kilometre and a half away is none either where it is placed half as large.
	half := `<item objectid="1" transform="0.5 0 0 0 0.5 0 0 0 0.5 0 0 0"/>`
	for far, in := range map[string]bool{"999999": true, "1500000": false} {
		if _, err := build3MF(model(strings.ReplaceAll(one, `x="1"`, `x="`+far+`"`), half), Options{}); (err == nil) != in {
			t.Errorf("drawn %s mm away: %v", far, err)
		}
	}
	// The units of the core specification, a cube of one each.
	for unit, side := range map[string]float64{"micron": 1e-6, "millimeter": 1e-3, "centimeter": 1e-2, "inch": 0.0254, "foot": 0.3048, "meter": 1} {
		b, err := build3MF(pack(t, model3MF(`unit="`+unit+`"`, one, item)), Options{})
		if err != nil || b.Volume < 0.999999*side*side*side || b.Volume > 1.000001*side*side*side {
			t.Errorf("a cubic %s is %g m³, %v", unit, b.Volume, err)
		}
	}
	if b, err := build3MF(pack(t, model3MF("", one, item)), Options{}); err != nil || b.Volume < 0.99e-9 || b.Volume > 1.01e-9 {
		t.Errorf("without a unit: %+v, %v", b, err)
	}
}

// Objects put side by side add up to the same as one surface that holds them all: faults,
// shells, area and box among it.
func TestObjectsAddUp(t *testing.T) {
	t.Parallel()
	turned := box(3, 3, 3).moved(0, 1, point{20, 0, 0})
	turned[0][1], turned[0][2] = turned[0][2], turned[0][1]
	flat := append(box(2, 2, 2).moved(0, 1, point{0, 20, 0}), [3]point{{0, 20, 0}, {0, 20, 0}, {2, 20, 0}})
	cavity := append(box(5, 5, 5).moved(0, 1, point{20, 20, 0}), box(1, 1, 1).turnedOut().moved(0, 1, point{22, 22, 2})...)
	all := []facets{box(1, 2, 3)[1:], turned, flat, cavity, box(4, 4, 1)[2:].moved(0, 1, point{0, 40, 0})}
	var whole facets
	resources, build := "", ""
	for i, f := range all {
		whole = append(whole, f...)
		resources += fmt.Sprintf(`<object id="%d">%s</object>`, i+1, f.mesh())
		build += fmt.Sprintf(`<item objectid="%d"/>`, i+1)
	}
	b, err := build3MF(pack(t, model3MF(plain, resources, build)), Options{})
	if err != nil {
		t.Fatal(err)
	}
	s, err := ReadSTL(bytes.NewReader(whole.text("all")), Options{Unit: 1e-3})
	if err != nil {
		t.Fatal(err)
	}
	near := func(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Abs(b) }
	// The volume of what is open depends on where the origin lies, so it is not compared.
	if !near(b.Area, s.Area) || b.Facets != s.Facets || b.Degenerate != s.Degenerate || b.OpenEdges != s.OpenEdges || b.Misoriented != s.Misoriented ||
		b.Shells != s.Shells || b.InsideOut != s.InsideOut || b.Closed != s.Closed {
		t.Errorf("side by side %+v\nin one %+v", b.Solid, s)
	}
	for i := range 3 {
		if !near(b.Min[i], s.Min[i]) || !near(b.Max[i], s.Max[i]) {
			t.Errorf("from %v to %v, in one from %v to %v", b.Min, b.Max, s.Min, s.Max)
		}
	}
	if b.OpenEdges != 7 || b.Misoriented != 3 || b.Degenerate != 1 || b.InsideOut != 1 || b.Shells != 6 || b.Facets != 11+12+13+24+10 { // a facet missing opens 3 edges, a whole side 4
		t.Errorf("%+v", b.Solid)
	}
}

// A stream that breaks where a facet ends is no end of the file.
func TestAStreamBreaksBetweenFacets(t *testing.T) {
	t.Parallel()
	data := box(1, 2, 3).binary("box")
	for _, at := range []int{0, headerBytes, headerBytes + 3*facetBytes, len(data)} {
		in := io.MultiReader(bytes.NewReader(data[:at]), iotest.ErrReader(io.ErrClosedPipe))
		if _, err := ReadSTL(in, Options{}); refused(err) != Unreadable || !errors.Is(err, io.ErrClosedPipe) {
			t.Errorf("after %d bytes: %v", at, err)
		}
	}
}

// The limits where nobody sets any, as the comments of the fields and of Limits tell them;
// what a caller sets stands.
func TestUsualLimits(t *testing.T) {
	t.Parallel()
	usual := Limits{Facets: 2_000_000, Bytes: 1 << 30, Unzipped: 512 << 20, Ratio: 40, Directory: 1 << 20, Placed: 10_000, Others: 2_000_000, Nesting: 16}
	if got := (Limits{}).withDefaults(); got != usual {
		t.Errorf("%+v", got)
	}
	one := Limits{Facets: 1, Bytes: 1, Unzipped: 1, Ratio: 1, Directory: 1, Placed: 1, Others: 1, Nesting: 1}
	if got := one.withDefaults(); got != one {
		t.Errorf("%+v", got)
	}
}

// sleepy gives nothing so often before each byte.
type sleepy struct {
	text string
	naps int
	left int
}

func (r *sleepy) Read(p []byte) (int, error) {
	if r.text == "" {
		return 0, io.EOF
	}
	if r.left < r.naps {
		r.left++
		return 0, nil
	}
	r.left, p[0], r.text = 0, r.text[0], r.text[1:]
	return 1, nil
}

// A reader may give nothing now and then, ninety-nine times on end; a hundred times is no progress.
func TestAReaderThatNaps(t *testing.T) {
	t.Parallel()
	for naps, in := range map[int]bool{0: true, 99: true, 100: false} {
		err := walkXML(&sleepy{text: "<a><b/></a>", naps: naps}, "x", func(*element) error { return nil }, func(name) error { return nil })
		if (err == nil) != in || !in && !errors.Is(err, io.ErrNoProgress) {
			t.Errorf("nothing %d times: %v", naps, err)
		}
	}
}
