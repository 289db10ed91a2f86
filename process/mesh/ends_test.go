package mesh

import (
	"bytes"
	"encoding/binary"
	"fmt"
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
