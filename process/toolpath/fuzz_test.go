package toolpath_test

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"testing"

	"hopperful/process/toolpath"
)

// FuzzRead feeds anything: no panic, no NaN or infinity in what comes out, no
// negative amount, and a bounded table.
func FuzzRead(f *testing.F) {
	samples, err := filepath.Glob("testdata/*.[gn]c*")
	if err != nil || len(samples) == 0 {
		f.Fatalf("no sample files: %v", err)
	}
	for _, name := range samples {
		text, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	for _, text := range []string{
		"", "G1 X1 E1 F600", "G1X1E1F600\r\n", "\xef\xbb\xbfg1 x1 e1", "G20\nM83\nG91\nG3 I1 J1 P3 E1 F9", "N1 G1 E1 X5*99\n",
		"M200 D1.75 T3\nT3\nG1 X1 E9\n", "M204 S1e9\nG1 X999999999 E999999999 F.000000001\n", "G18 G2 X1 R-.5 E1 F1\n/x\n(\n;\n%",
		"M221 S1000\nM220 S1\nM203 X1 Y1000\nM201 Z.1\nG92.1\nG28\nG4 P1 S2\nG1 E1\nM2\nG1", "G1 X1E-9 E5 F1\n", "G2 X0 Y0 I1e-7 E1 F5",
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		s, err := toolpath.Read(bytes.NewReader(text), toolpath.Options{MaxLayers: 50})
		if err != nil {
			return
		}
		amounts := []float64{s.Volume, s.Filament, s.Time, s.TimeLimited, s.StartTime, s.StartVolume, s.ExtrudingTime,
			s.MeanFlow, s.Peak.Flow, s.PrintLength, s.TravelLength, s.Bed}
		for _, l := range s.Layers {
			amounts = append(amounts, l.Volume, l.Time, l.Peak)
			whole(t, l.Z, l.Top)
		}
		for _, tool := range s.Tools {
			amounts = append(amounts, tool.Volume, tool.Filament, tool.Diameter, tool.Time, tool.Nozzle)
		}
		whole(t, amounts...)
		whole(t, s.Box.Min[:]...)
		whole(t, s.Box.Max[:]...)
		for i, v := range amounts {
			if v < 0 {
				t.Errorf("amount %d is %g", i, v)
			}
		}
		if len(s.Layers) > 50 || s.Volume == 0 || s.Taken == "" {
			t.Errorf("%d layers, %g m³, taken %q", len(s.Layers), s.Volume, s.Taken)
		}
	})
}

func whole(t *testing.T, all ...float64) {
	t.Helper()
	for i, v := range all {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Errorf("number %d is %g", i, v)
		}
	}
}
