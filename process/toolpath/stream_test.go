package toolpath_test

import (
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"reflect"
	"strings"
	"testing"
	"testing/iotest"

	"hopperful/process"
	"hopperful/process/toolpath"
)

// long is G-code over several buffers, with the given line end.
func long(lines int, end string) string {
	var b strings.Builder
	b.WriteString("M83" + end + "G1 F1200" + end)
	for i := range lines {
		fmt.Fprintf(&b, "G1 X%d.%03d Y%d E0.05 ; move %d%s", i%97, i%1000, i%89, i, end)
		if i%500 == 0 {
			fmt.Fprintf(&b, "G0 Z%.2f%s", float64(i/500)*0.2, end)
		}
	}
	return b.String()
}

// TestChopping reads the same stream in pieces of every kind.
func TestChopping(t *testing.T) {
	t.Parallel()
	want := read(t, long(30000, "\n"))
	if want.Count.Lines != 30062 {
		t.Fatalf("%d lines", want.Count.Lines)
	}
	for name, r := range map[string]io.Reader{
		"halves":    iotest.HalfReader(strings.NewReader(long(30000, "\n"))),
		"data, err": iotest.DataErrReader(strings.NewReader(long(30000, "\n"))),
		"drops":     &drip{text: long(30000, "\n"), step: 4093},
		"bytes":     &drip{text: long(30000, "\n"), step: 1},
		"CRLF":      strings.NewReader(long(30000, "\r\n")),
		"CRLF drip": &drip{text: long(30000, "\r\n"), step: 4093},
		"CR":        strings.NewReader(long(30000, "\r")),
		"CR drip":   &drip{text: long(30000, "\r"), step: 4093},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			got, err := toolpath.Read(r, toolpath.Options{})
			if err != nil {
				t.Fatal(err)
			}
			got.Count.Bytes = want.Count.Bytes
			if !reflect.DeepEqual(got, want) {
				t.Errorf("got %+v\nwanted %+v", got.Count, want.Count)
			}
		})
	}
}

// drip gives at most step bytes a time.
type drip struct {
	text string
	step int
}

func (d *drip) Read(p []byte) (int, error) {
	if d.text == "" {
		return 0, io.EOF
	}
	n := copy(p, d.text[:min(d.step, len(d.text))])
	d.text = d.text[n:]
	return n, nil
}

func TestRefusesOtherFormats(t *testing.T) {
	t.Parallel()
	for text, looks := range map[string]string{
		"\x1f\x8b\x08\x00": "gzip", "PK\x03\x04rest": "ZIP", "\x89PNG\r\n": "PNG", "\xff\xd8\xff\xe0": "JPEG", "%PDF-1.7": "PDF",
		"\xff\xfeG\x001\x00": "UTF-16", "<html>": "web page", "{\"a\": 1}": "JSON",
		"solid part\n facet normal 0 0 1\n":                    "STL",
		"any header" + strings.Repeat("\x00", 70) + "\x0c\x00": "binary",
		"Dear reader,\nplease find":                            "no command",
	} {
		_, err := toolpath.Read(strings.NewReader(text), toolpath.Options{})
		var other *toolpath.FormatError
		if !errors.As(err, &other) || !strings.Contains(err.Error(), looks) {
			t.Errorf("%q: %v", text, err)
		}
	}
}

func TestRefusals(t *testing.T) {
	t.Parallel()
	good := "G1 X1 E1 F600\n"
	boom := errors.New("cable pulled")
	for name, c := range map[string]struct {
		r    io.Reader
		opt  toolpath.Options
		want any
	}{
		"empty":          {strings.NewReader(""), toolpath.Options{}, toolpath.ErrEmpty},
		"no extrusion":   {strings.NewReader("G1 X1 F600\n"), toolpath.Options{}, toolpath.ErrNoExtrusion},
		"long line":      {strings.NewReader(good + ";" + strings.Repeat("x", 1<<20)), toolpath.Options{}, new(*toolpath.SyntaxError)},
		"too many bytes": {strings.NewReader(long(1000, "\n")), toolpath.Options{MaxBytes: 100}, new(*toolpath.LimitError)},
		"bad lines":      {strings.NewReader(good + strings.Repeat("G1 X=\n", 99)), toolpath.Options{}, new(*toolpath.BadLinesError)},
		"mostly bad":     {strings.NewReader(good + "G1 X=\nG1 Y=\n"), toolpath.Options{}, new(*toolpath.BadLinesError)},
		"broken reader":  {io.MultiReader(strings.NewReader(good), iotest.ErrReader(boom)), toolpath.Options{}, boom},
		"idle reader":    {idle{}, toolpath.Options{}, io.ErrNoProgress},
		"lying reader":   {liar{}, toolpath.Options{}, nil},
		"window":         {strings.NewReader(good), toolpath.Options{Window: math.NaN()}, new(*process.RangeError)},
		"acceleration":   {strings.NewReader(good), toolpath.Options{Acceleration: -1}, new(*process.RangeError)},
		"meaning":        {strings.NewReader(good), toolpath.Options{E: toolpath.EMixed}, new(*process.RangeError)},
		"layers":         {strings.NewReader(good), toolpath.Options{MaxLayers: 1}, new(*process.RangeError)},
	} {
		_, err := toolpath.Read(c.r, c.opt)
		switch want := c.want.(type) {
		case nil:
			if err == nil {
				t.Errorf("%s: no complaint", name)
			}
		case error:
			if !errors.Is(err, want) {
				t.Errorf("%s: %v", name, err)
			}
		default:
			if !errors.As(err, want) || err.Error() == "" {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
}

// TestBadLinesAreShown asks for the first lines, with their places.
func TestBadLinesAreShown(t *testing.T) {
	t.Parallel()
	_, err := toolpath.Read(strings.NewReader("G28\n"+strings.Repeat("G1 X=\n", 99)), toolpath.Options{})
	var bad *toolpath.SyntaxError
	if !errors.As(err, &bad) || bad.Line != 2 || bad.Column != 5 || !strings.Contains(err.Error(), "21 of 22") {
		t.Errorf("got %v", err)
	}
}

type idle struct{}

func (idle) Read([]byte) (int, error) { return 0, nil }

type liar struct{}

func (liar) Read(p []byte) (int, error) { return len(p) + 1, nil }

// TestPanickingReader checks that a panic of the reader reaches the caller and
// leaves no goroutine waiting for it.
func TestPanickingReader(t *testing.T) {
	t.Parallel()
	defer func() {
		if recover() == nil {
			t.Error("the panic got lost")
		}
	}()
	_, _ = toolpath.Read(io.MultiReader(strings.NewReader(long(20000, "\n")), nil), toolpath.Options{})
}

func TestProgress(t *testing.T) {
	t.Parallel()
	text := long(30000, "\n")
	var seen []int64
	_, err := toolpath.Read(strings.NewReader(text), toolpath.Options{Progress: func(n int64) { seen = append(seen, n) }})
	if err != nil {
		t.Fatal(err)
	}
	if len(seen) < 3 || seen[len(seen)-1] != int64(len(text)) {
		t.Errorf("progress %v of %d bytes", seen, len(text))
	}
}

// TestLayersStayBounded merges a spiral of many heights and loses nothing.
func TestLayersStayBounded(t *testing.T) {
	t.Parallel()
	var b strings.Builder
	b.WriteString("M83\nG1 F600\n")
	for i := range 10001 {
		fmt.Fprintf(&b, "G1 X%d Z%.3f E1\n", (i+1)%2*10, float64(i+1)*0.01)
	}
	for _, most := range []int{2, 3, 7, 100, 5000, 10000, 10001} {
		s, err := toolpath.Read(strings.NewReader(b.String()), toolpath.Options{MaxLayers: most})
		if err != nil {
			t.Fatal(err)
		}
		merged, moves, volume, time := 0, int64(0), 0.0, s.StartTime
		for i, l := range s.Layers {
			merged += l.Merged
			moves += l.Moves
			volume += l.Volume
			time += l.Time
			if i > 0 && l.Z <= s.Layers[i-1].Top {
				t.Errorf("%d rows: row %d begins at %g below the top of the one before", most, i, l.Z)
			}
		}
		if len(s.Layers) > most || merged != 10001 || moves != 10001 ||
			math.Abs(volume-s.Volume) > 1e-9*s.Volume || math.Abs(time-s.TimeLimited) > 1e-9*time {
			t.Errorf("%d rows: %d rows hold %d layers, %d moves, %g of %g m³, %g of %g s",
				most, len(s.Layers), merged, moves, volume, s.Volume, time, s.TimeLimited)
		}
		if warned := len(s.Warnings) == 1 && s.Warnings[0].Kind == toolpath.LayersMerged; warned != (most < 10001) {
			t.Errorf("%d rows: warnings %v", most, s.Warnings)
		}
	}
}

func TestOpen(t *testing.T) {
	t.Parallel()
	file, err := os.ReadFile("testdata/box.gcode")
	if err != nil {
		t.Fatal(err)
	}
	want := read(t, string(file))
	for name, text := range map[string][]byte{"plain": file, "gzip": pack(t, file)} {
		r, err := toolpath.Open(bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		got, err := toolpath.Read(r, toolpath.Options{})
		if err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %v, %+v", name, err, got)
		}
	}
	if _, err := toolpath.Open(strings.NewReader("\x1f\x8bxx")); err == nil {
		t.Error("a damaged gzip head passes")
	}
	if r, err := toolpath.Open(strings.NewReader("")); err != nil {
		t.Error(err)
	} else if _, err := toolpath.Read(r, toolpath.Options{}); !errors.Is(err, toolpath.ErrEmpty) {
		t.Errorf("nothing opens as %v", err)
	}
	if _, err := toolpath.Open(iotest.ErrReader(io.ErrClosedPipe)); !errors.Is(err, io.ErrClosedPipe) {
		t.Errorf("a broken reader opens with %v", err)
	}
	r, err := toolpath.Open(bytes.NewReader(pack(t, bytes.Repeat([]byte(";\n"), 9<<20))))
	if err != nil {
		t.Fatal(err)
	}
	var limit *toolpath.LimitError
	if _, err := toolpath.Read(r, toolpath.Options{}); !errors.As(err, &limit) {
		t.Errorf("a bomb reads with %v", err)
	}
}

func pack(t *testing.T, text []byte) []byte {
	t.Helper()
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	if _, err := z.Write(text); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
