package mesh

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"hopperful/internal/checkrow"
)

func TestChecks(t *testing.T) {
	t.Parallel()
	checkrow.Run(t, "checks.csv", map[string]checkrow.Func{
		"ReadSTL":      checkSTL,
		"MeasuredFile": checkFile,
		"Read3MF":      func(in checkrow.Inputs) ([]float64, error) { return check3MF(t, in) },
		"Plastic":      checkPlastic,
	})
}

// checkSTL writes the named solid and reads it back. Sizes come in metres,
// numbers of faces as they are.
func checkSTL(in checkrow.Inputs) ([]float64, error) {
	s := in.List("size")
	var f facets
	switch in.Word("solid") {
	case "box":
		f = box(1000*s[0], 1000*s[1], 1000*s[2])
	case "tetrahedron":
		f = tetrahedron(1000 * s[0])
	case "globe":
		f = globe(1000*s[0], int(s[1]), int(s[2]))
	case "ring":
		f = ring(1000*s[0], 1000*s[1], int(s[2]), int(s[3]))
	default:
		return nil, fmt.Errorf("no solid %q", in.Word("solid"))
	}
	data := f.text("check")
	if in.Word("form") == "binary" {
		data = f.binary("solid check facet")
	}
	got, err := ReadSTL(bytes.NewReader(data), Options{})
	if err == nil && !got.Closed {
		err = fmt.Errorf("not closed: %+v", got)
	}
	return []float64{got.Volume, got.Area}, err
}

// checkFile reads a file of testdata.
func checkFile(in checkrow.Inputs) ([]float64, error) {
	data, err := os.ReadFile(filepath.Join("testdata", in.Word("file")))
	if err != nil {
		return nil, err
	}
	s, err := ReadSTL(bytes.NewReader(data), Options{})
	all := []float64{s.Volume, float64(s.Facets), float64(s.OpenEdges), float64(s.Shells)}
	if in.Word("only") == "edges" {
		all = all[1:]
	}
	return all, err
}

func check3MF(t *testing.T, in checkrow.Inputs) ([]float64, error) {
	s := in.List("size")
	at := ""
	if m := in.Word("transform"); m != "none" {
		at = ` transform="` + m + `"`
	}
	model := model3MF(`unit="`+in.Word("unit")+`"`,
		`<object id="7">`+box(s[0], s[1], s[2]).mesh()+`</object>`, `<item objectid="7"`+at+`/>`)
	got, err := build3MF(pack(t, model), Options{})
	if err == nil && (!got.Closed || got.Inverted) {
		err = fmt.Errorf("not a closed solid: %+v", got)
	}
	return []float64{got.Volume, got.Area}, err
}

func checkPlastic(in checkrow.Inputs) ([]float64, error) {
	m, err := Plastic(Part{Volume: in.Num("volume"), Area: in.Num("area"), Wall: in.Num("wall"),
		Infill: in.Num("infill"), Density: in.Num("density")})
	switch in.Word("pick") {
	case "low":
		return []float64{m.Low}, err
	case "high":
		return []float64{m.High}, err
	}
	return []float64{m.Value}, err
}
