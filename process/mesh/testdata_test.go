// The files of testdata are our own: written by the solids of this test, and
// held equal to them. Run with -write after a change to write them anew.

package mesh

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"
)

var write = flag.Bool("write", false, "write testdata anew")

func ownFiles(t testing.TB) map[string][]byte {
	torus := ring(20, 6, 16, 10)
	turned := append(facets{}, box(10, 20, 30)...)
	turned[0][1], turned[0][2] = turned[0][2], turned[0][1]
	bracket := `<object id="1" name="bracket" type="model">` + box(10, 20, 30).mesh() + `</object>` +
		`<object id="2" name="pair"><components><component objectid="1"/>` +
		`<component objectid="1" transform="2 0 0 0 1 0 0 0 1 40 0 0"/></components></object>`
	return map[string][]byte{
		"box.stl":        box(10, 20, 30).binary("solid by name only"),
		"box-text.stl":   box(10, 20, 30).text("box"),
		"globe.stl":      globe(10, 16, 8).binary("globe"),
		"torus.stl":      torus.binary("torus"),
		"torus-open.stl": torus[:len(torus)-3].binary("torus with a hole"),
		"torus-out.stl":  torus.turnedOut().binary("torus inside out"),
		"box-turned.stl": turned.binary("one facet turned"),
		"pair.3mf":       pack(t, model3MF(`unit="millimeter"`, bracket, `<item objectid="2" transform="0 1 0 -1 0 0 0 0 1 0 0 5"/>`)),
	}
}

func TestTestdataIsOurOwn(t *testing.T) {
	t.Parallel()
	for name, want := range ownFiles(t) {
		path := filepath.Join("testdata", name)
		if *write {
			if err := os.WriteFile(path, want, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		got, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got, want) {
			t.Errorf("%s is not what the solids of this test make; run with -write", name)
		}
	}
}
