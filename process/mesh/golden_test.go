package mesh_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/process/mesh"
)

// What the files are read as is as approved, whole: go test ./process/mesh -run AsApproved
// -update keeps it. That volumes are right is held by the solids and identities beside this.
func TestFilesReadAsApproved(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"box-text.stl", "box-turned.stl", "box.stl", "globe.stl", "torus-open.stl", "torus-out.stl", "torus.stl"} {
		text, err := os.ReadFile(filepath.Join("testdata", name))
		if err != nil {
			t.Fatal(err)
		}
		s, err := mesh.ReadSTL(bytes.NewReader(text), mesh.Options{})
		if err != nil {
			t.Fatal(name, err)
		}
		checkrow.Approved(t, name+"-read", s)
	}
	text, err := os.ReadFile(filepath.Join("testdata", "pair.3mf"))
	if err != nil {
		t.Fatal(err)
	}
	b, err := mesh.Read3MF(bytes.NewReader(text), int64(len(text)), mesh.Options{})
	if err != nil {
		t.Fatal(err)
	}
	checkrow.Approved(t, "pair-read", b)
}
