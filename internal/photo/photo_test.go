package photo

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"hopperful/process/grain"
)

func coded(t testing.TB, w, h int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, w, h))); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// claims makes a PNG say it is larger than it is.
func claims(data []byte, w, h uint32) []byte {
	out := bytes.Clone(data)
	binary.BigEndian.PutUint32(out[16:], w)
	binary.BigEndian.PutUint32(out[20:], h)
	// The checksum is wrong now; the sizes are refused before anything else is read,
	// where the library looks at the checksum first the file is not read at all.
	return out
}

func TestRefused(t *testing.T) {
	t.Parallel()
	small := coded(t, 500, 400)
	for name, c := range map[string]struct {
		data []byte
		code grain.Code
	}{
		"nothing":       {nil, grain.NotRead},
		"text":          {[]byte("no picture at all"), grain.NotRead},
		"cut off":       {small[:len(small)/2], grain.NotRead},
		"HEIC":          {append([]byte{0, 0, 0, 24}, "ftypheic0000mif1"...), grain.NotRead},
		"over 40 MB":    {make([]byte, MostBytes+1), grain.TooLarge},
		"broken header": {claims(small, 1<<20, 1<<20), grain.NotRead},
	} {
		_, err := Decode(c.data)
		var r *grain.Refusal
		if !errors.As(err, &r) || r.Code != c.code {
			t.Errorf("%s: %v, wanted %s", name, err, c.code)
		}
		if got := errors.Is(err, ErrHEIC); got != (name == "HEIC") {
			t.Errorf("%s: HEIC %v", name, got)
		}
	}
	if img, err := Read(bytes.NewReader(small)); err != nil || img.Bounds().Dx() != 500 {
		t.Errorf("a sound picture: %v", err)
	}
}

// A JPEG of the largest size there is: refused by its header, without its pixels.
func TestDimensionsFirst(t *testing.T) {
	t.Parallel()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 64, 64)), nil); err != nil {
		t.Fatal(err)
	}
	data := b.Bytes()
	at := bytes.Index(data, []byte{0xff, 0xc0})
	binary.BigEndian.PutUint16(data[at+5:], 65000)
	binary.BigEndian.PutUint16(data[at+7:], 65000)
	_, err := Decode(data)
	var r *grain.Refusal
	if !errors.As(err, &r) || r.Code != grain.TooLarge || r.Unit != "px" {
		t.Errorf("got %v", err)
	}
	// 50 million pixels in three full planes, progressive, need more than is given.
	colour := new(bytes.Buffer)
	if err := jpeg.Encode(colour, image.NewRGBA(image.Rect(0, 0, 64, 64)), nil); err != nil {
		t.Fatal(err)
	}
	data = colour.Bytes()
	at = bytes.Index(data, []byte{0xff, 0xc0})
	if progressive, n := frame(data); progressive || n != 1.5 {
		t.Errorf("frame: %v, %g samples a pixel, wanted 1.5", progressive, n)
	}
	binary.BigEndian.PutUint16(data[at+5:], 6000)
	binary.BigEndian.PutUint16(data[at+7:], 8000)
	data[at+1] = 0xc2
	_, err = Decode(data)
	if !errors.As(err, &r) || r.Code != grain.TooLarge || r.Unit != "B" {
		t.Errorf("progressive: %v", err)
	}
}

// A PNG of 56 million pixels of sixteen bits unpacks to more than is given.
func TestPNGMemory(t *testing.T) {
	t.Parallel()
	data := claims(coded(t, 500, 400), 8000, 7000)
	binary.BigEndian.PutUint32(data[29:], crc32.ChecksumIEEE(data[12:29]))
	_, err := Decode(data)
	var r *grain.Refusal
	if !errors.As(err, &r) || r.Code != grain.TooLarge || r.Unit != "B" {
		t.Errorf("got %v", err)
	}
}

// However rough the picture, what is kept with a record is no larger than it may be.
func TestKeptIsSmall(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(1, 2))
	m := &grain.Measured{Flat: grain.Gray{W: 2000, H: 1500, V: make([]uint8, 2000*1500)}}
	m.W, m.H = 0.08, 0.06
	for i := range m.Flat.V {
		m.Flat.V[i] = uint8(rng.IntN(256))
	}
	kept, err := Overlaid(m, nil)
	if err != nil || len(kept) > MostKept || len(kept) < MostKept/10 {
		t.Errorf("%d bytes kept, %v", len(kept), err)
	}
}

// On paper a line of 100 mm is 100 mm, in the drawing and in the document.
func TestSheetMeasures(t *testing.T) {
	t.Parallel()
	for _, s := range []grain.Sheet{grain.WholeSheet(), grain.HalfSheet()} {
		for _, g := range Grounds {
			p := Layout(s, g, "100 mm", []string{"Spread (a) spoonful – thinly.", "Tom & Ada < all"})
			svg := p.SVG()
			if !strings.Contains(svg, `width="210mm" height="297mm" viewBox="0 0 210 297"`) || !strings.Contains(svg, `width="100.000" height="0.500"`) {
				t.Errorf("%s, %s: the drawing has no line of 100 mm", s.Name, g)
			}
			for _, ink := range []string{`fill="#30a0d0"`, `fill="#333333"`} { // the patch: a colour, a grey
				if !strings.Contains(svg, ink) {
					t.Errorf("%s, %s: no patch of %s", s.Name, g, ink)
				}
			}
			if !strings.Contains(svg, "Tom &amp; Ada &lt; all") {
				t.Error("text is not escaped")
			}
			pdf := string(p.PDF())
			if !strings.Contains(pdf, "0.188 0.627 0.816 rg") {
				t.Errorf("%s, %s: the document has no patch of colour", s.Name, g)
			}
			if !strings.Contains(pdf, "155.906 313.937 283.465 1.417 re") || !strings.Contains(pdf, "[0 0 595.276 841.890]") || !strings.Contains(pdf, `Spread \(a\) spoonful`) {
				t.Errorf("%s, %s: the document has no line of 100 mm", s.Name, g)
			}
			// (its left end 55 mm from the left, its foot 110.75 mm from the bottom)
			// Every offset of the table leads to its object.
			for i, m := range regexp.MustCompile(`(?m)^(\d{10}) 00000 n`).FindAllStringSubmatch(pdf, -1) {
				var at int
				for _, d := range m[1] {
					at = 10*at + int(d-'0')
				}
				if !strings.HasPrefix(pdf[at:], string(rune('1'+i))+" 0 obj") {
					t.Errorf("object %d is not at %d", i+1, at)
				}
			}
		}
	}
}

// drawn rasters a page as a camera from above would see it, with grains as discs.
func drawn(p Page, perMM float64, discs []float64) *image.Gray {
	img := image.NewGray(image.Rect(0, 0, int(pageW*perMM), int(175*perMM)))
	for i := range img.Pix {
		img.Pix[i] = 235
	}
	for _, b := range p.boxes {
		if b.outline {
			continue
		}
		for y := int(b.y * perMM); y < int((b.y+b.h)*perMM); y++ {
			for x := int(b.x * perMM); x < int((b.x+b.w)*perMM); x++ {
				img.SetGray(x, y, color.Gray{Y: uint8(20 + b.shade*215)})
			}
		}
	}
	for i, d := range discs {
		dot(img, (70+8*float64(i%10))*perMM, (70+8*float64(i/10))*perMM, d*perMM)
	}
	return img
}

// dot draws one disc, in pixels.
func dot(img *image.Gray, cx, cy, d float64) {
	for y := int(cy - d); y <= int(cy+d); y++ {
		for x := int(cx - d); x <= int(cx+d); x++ {
			if math.Hypot(float64(x)+0.5-cx, float64(y)+0.5-cy) <= d/2 {
				img.SetGray(x, y, color.Gray{Y: 60})
			}
		}
	}
}

// The sheet that is printed is the sheet that is found, and lengths come out as drawn.
func TestPrintedSheetIsFound(t *testing.T) {
	t.Parallel()
	discs := make([]float64, 40)
	for i := range discs {
		discs[i] = 3
	}
	for _, s := range []grain.Sheet{grain.WholeSheet(), grain.HalfSheet()} {
		m, err := grain.Measure(drawn(Layout(s, White, "", nil), 8, discs), grain.Options{Line: grain.LineLength})
		if err != nil {
			t.Fatalf("%s: %v", s.Name, err)
		}
		if m.Standing.Sheet.Name != s.Name || len(m.Grains) != len(discs) {
			t.Errorf("%s: found the %s sheet and %d grains", s.Name, m.Standing.Sheet.Name, len(m.Grains))
		}
		for _, g := range m.Grains {
			// Hard-edged discs of whole pixels: the least width is that of a polygon inside.
			if d := math.Sqrt(4 / math.Pi * g.Area); math.Abs(d-3e-3) > 0.02e-3 || g.Width > 3e-3 || g.Width < 2.9e-3 {
				t.Errorf("%s: a disc of 3 mm is %.3f mm by its area and %.3f mm wide", s.Name, d*1e3, g.Width*1e3)
			}
		}
		kept, err := Overlaid(m, func(i int) bool { return i == 0 })
		if err != nil || len(kept) > MostKept {
			t.Errorf("%s: %d bytes kept, %v", s.Name, len(kept), err)
		}
		if base64.StdEncoding.EncodedLen(len(kept)) > 160_000 {
			t.Error("the kept picture does not fit a record")
		}
		pink := 0
		img, err := jpeg.Decode(bytes.NewReader(kept))
		if err != nil {
			t.Fatal(err)
		}
		for y := range img.Bounds().Dy() {
			for x := range img.Bounds().Dx() {
				if r, g, _, _ := img.At(x, y).RGBA(); r > g+0x3000 {
					pink++
				}
			}
		}
		if pink < 500 {
			t.Errorf("%s: %d pixels of outline", s.Name, pink)
		}
	}
}

// From any bytes to a refusal or a result, never a panic, never NaN.
func FuzzBytes(f *testing.F) {
	for _, name := range []string{"coins.png", "sand-355-crop.jpg"} {
		if data, err := os.ReadFile(filepath.Join("..", "..", "process", "grain", "testdata", name)); err == nil {
			f.Add(data)
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, drawn(Layout(grain.WholeSheet(), White, "", nil), 3, []float64{4, 5, 6, 7}), nil); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes())
	f.Add(coded(f, 450, 420))
	f.Fuzz(func(t *testing.T, data []byte) {
		if facts, _, err := image.DecodeConfig(bytes.NewReader(data)); err == nil && facts.Width*facts.Height > 4_000_000 {
			t.Skip("sound, but slow")
		}
		img, err := Decode(data)
		var r *grain.Refusal
		if err != nil {
			if !errors.As(err, &r) {
				t.Fatalf("no refusal: %v", err)
			}
			return
		}
		m, err := grain.Measure(img, grain.Options{})
		if err != nil {
			if !errors.As(err, &r) || r.Code == "" {
				t.Fatalf("no refusal: %v", err)
			}
			return
		}
		for _, g := range m.Grains {
			for _, v := range []float64{g.X, g.Y, g.Area, g.Width, g.Length, g.Solid} {
				if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
					t.Fatalf("grain %+v", g)
				}
			}
		}
	})
}

// A reader of PDF other than ours, where there is one, sees one page.
func TestPDFIsRead(t *testing.T) {
	t.Parallel()
	tool, err := exec.LookPath("pdfinfo")
	if err != nil {
		t.Skip("no pdfinfo here")
	}
	file := filepath.Join(t.TempDir(), "sheet.pdf")
	if err := os.WriteFile(file, Layout(grain.WholeSheet(), Black, "100 mm", nil).PDF(), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(tool, file).CombinedOutput()
	if err != nil || !strings.Contains(string(out), "595.276 x 841.89") || !regexp.MustCompile(`Pages:\s+1\b`).Match(out) {
		t.Errorf("%v: %s", err, out)
	}
}
