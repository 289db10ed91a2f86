package exchange

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
)

func readCurve(text string) (Curve, error) {
	return ReadCurve("curve.csv", strings.NewReader(text), int64(len(text)))
}

// rows writes a curve of 400 to 700 nm in steps of 20, 0.1 + (nm − 400)/1000.
func rows(form string) string {
	var b strings.Builder
	for nm := 400.0; nm <= 700; nm += 20 {
		fmt.Fprintf(&b, form+"\n", nm, 0.1+(nm-400)/1000)
	}
	return b.String()
}

// One curve, written in the ways people write tables, is read alike.
func TestSameCurveHoweverWritten(t *testing.T) {
	t.Parallel()
	for name, text := range map[string]string{
		"plain":            rows("%g,%.3f"),
		"heading":          "wavelength (nm),reflectance\n" + rows("%g,%.3f"),
		"heading, title":   "tile 7\nwavelength,reflectance\n" + rows("%g,%.3f"),
		"tabs":             "nm\tR\n" + rows("%g\t%.3f"),
		"decimal commas":   "nm;R\n" + strings.ReplaceAll(rows("%g;%.3f"), ".", ","),
		"another column":   "band,wavelength,reflectance\n" + rows("1,%g,%.3f"),
		"percent heading":  "nm,R (%)\n" + hundredfold(rows("%g,%.3f")),
		"percent cells":    hundredfold(rows("%g,%.3f%%")),
		"percent unsaid":   hundredfold(rows("%g,%.3f")),
		"micrometres":      "wavelength (µm),reflectance\n" + thousandth(rows("%g,%.3f")),
		"longest first":    turned(rows("%g,%.3f")),
		"old line ends":    strings.ReplaceAll("nm,R\n"+rows("%g,%.3f"), "\n", "\r"),
		"byte order mark":  "\ufeffnm,R\r\n" + rows("%g,%.3f"),
		"remarks and air":  "# white tile\n\nnm,R\n" + rows("%g,%.3f") + "\n",
		"blanks, no comma": rows("%g %.3f"),
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			got, err := readCurve(text)
			if err != nil {
				t.Fatal(err)
			}
			if len(got.Wavelengths) != 16 || len(got.Light) != 16 {
				t.Fatalf("got %+v", got)
			}
			for i, w := range got.Wavelengths {
				nm := 400 + 20*float64(i)
				if math.Abs(w*1e9-nm) > 1e-6 || math.Abs(got.Light[i]-(0.1+(nm-400)/1000)) > 1e-9 {
					t.Errorf("row %d: got %g m, %g", i, w, got.Light[i])
				}
			}
		})
	}
}

func change(text string, first, second float64) string {
	var b strings.Builder
	for l := range strings.Lines(text) {
		var nm, v float64
		fmt.Sscanf(l, "%g,%g", &nm, &v)
		tail := ""
		if strings.Contains(l, "%") {
			tail = "%"
		}
		fmt.Fprintf(&b, "%.6g,%.6g%s\n", nm*first, v*second, tail)
	}
	return b.String()
}

func hundredfold(text string) string { return change(text, 1, 100) }
func thousandth(text string) string  { return change(text, 1e-3, 1) }

func turned(text string) string {
	lines := strings.Split(strings.TrimSpace(text), "\n")
	for i, k := 0, len(lines)-1; i < k; i, k = i+1, k-1 {
		lines[i], lines[k] = lines[k], lines[i]
	}
	return strings.Join(lines, "\n")
}

// A curve in steps of 1 nm fits a record, and keeps its light.
func TestFineCurveIsAveraged(t *testing.T) {
	t.Parallel()
	var b strings.Builder
	for nm := 350; nm <= 1100; nm++ {
		fmt.Fprintf(&b, "%d,%.6f\n", nm, 0.2+float64(nm)/2000)
	}
	got, err := readCurve(b.String())
	if err != nil {
		t.Fatal(err)
	}
	if n := len(got.Wavelengths); n > MostBands || n < 80 || len(got.Notes) != 1 {
		t.Errorf("%d bands, %v", n, got.Notes)
	}
	for i, w := range got.Wavelengths {
		if math.Abs(got.Light[i]-(0.2+w*1e9/2000)) > 1e-3 {
			t.Errorf("at %g m: got %g", w, got.Light[i])
		}
	}
}

func TestBadCurves(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct{ text, say string }{
		"nothing":       {"", "no wavelength stands in it"},
		"words":         {"hello\nworld", "no wavelength stands in it"},
		"twice":         {"400,0.1\n400,0.2\n", "line 2, column 1 (wavelength): 400 nm stands beside 400 nm."},
		"disorder":      {"400,0.1\n450,0.2\n420,0.2\n500,0.1", "line 3, column 1 (wavelength): 420 nm stands beside 450 nm."},
		"no light":      {"400,0.1\n420\n", "line 2, column 2 (reflectance): there is no number."},
		"a word":        {"400,0.1\n420,x\n", `line 2, column 2 (reflectance): "x" is no number.`},
		"glows":         {"400,0.1\n420,1.4\n", "line 2, column 2 (reflectance): 1.4 is not between 0 and 1."},
		"glows percent": {"nm,R%\n400,10\n420,140\n", "line 3, column 2 (reflectance): 140 is not between 0 and 100."},
		"negative":      {"400,-0.1\n420,0.4\n", "-0.1 is not between 0 and 1."},
		"not a number":  {"400,NaN\n420,0.4\n", `"NaN" is no number.`},
		"infinite":      {"400,0.1\n1e99,0.4\n", `"1e99" is no number.`},
		"not seen":      {manyFrom(900), "none of its wavelengths, 900 to 1049 nm, is seen by an eye."},
		"both signs":    {"400;0,1\n420;0.2\n", "is the decimal sign a comma or a point?"},
		"too long":      {strings.Repeat("x", MostBytes+1), "it is longer than 4 MB"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			_, err := readCurve(c.text)
			var e *Error
			if !errors.As(err, &e) || !strings.Contains(worded(e), c.say) || e.Advice.Empty() {
				t.Errorf("got %v, want %q", err, c.say)
			}
		})
	}
}

func manyFrom(nm int) string {
	var b strings.Builder
	for i := range 150 {
		fmt.Fprintf(&b, "%d,0.5\n", nm+i)
	}
	return b.String()
}

// Whatever comes in, ReadCurve either refuses with an *Error or returns rising
// wavelengths that fit a record, with shares of light.
func FuzzReadCurve(f *testing.F) {
	f.Add([]byte(rows("%g,%.3f")))
	f.Add([]byte("wavelength (µm);R (%)\n0,4;10,5\n0,42;11\n"))
	f.Add([]byte(manyFrom(400)))
	f.Add([]byte("400,0.1\n\"420\",0.2%"))
	f.Fuzz(func(t *testing.T, raw []byte) {
		c, err := ReadCurve("fuzz", bytes.NewReader(raw), int64(len(raw)))
		if err != nil {
			if _, ok := err.(*Error); !ok {
				t.Fatalf("%T: %v", err, err)
			}
			return
		}
		if len(c.Wavelengths) == 0 || len(c.Wavelengths) > MostBands || len(c.Light) != len(c.Wavelengths) {
			t.Fatalf("%+v", c)
		}
		for i, v := range c.Light {
			if !(v >= 0 && v <= 1) || i > 0 && !(c.Wavelengths[i] > c.Wavelengths[i-1]) {
				t.Fatalf("%+v", c)
			}
		}
	})
}
