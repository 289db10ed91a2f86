package label

import (
	"errors"
	"fmt"
	"image"
	"image/color"
	"math"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
)

// painted is a page as a printer or a screen shows it, at so many dots a millimetre.
func painted(p page, s Size, dots float64) image.Image {
	img := image.NewGray(image.Rect(0, 0, int(s.PageW*dots), int(s.PageH*dots)))
	for i := range img.Pix {
		img.Pix[i] = 255
	}
	for _, b := range p.boxes {
		for y := int(math.Round(b.y * dots)); y < int(math.Round((b.y+b.h)*dots)); y++ {
			for x := int(math.Round(b.x * dots)); x < int(math.Round((b.x+b.w)*dots)); x++ {
				img.SetGray(x, y, color.Gray{})
			}
		}
	}
	return img
}

// The code on a label of every size is read by a reader that is not ours
// (gozxing), at the 203 dots an inch of small label printers, and at 300, the least
// of what prints sheets, and says the lot's address.
func TestTheCodeIsRead(t *testing.T) {
	t.Parallel()
	for _, s := range Sizes {
		for _, dpi := range []float64{203, 300} {
			if dpi < 300 && s.PerPage() > 1 {
				continue
			}
			t.Run(fmt.Sprintf("%s at %g", s.Key, dpi), func(t *testing.T) {
				t.Parallel()
				link := "http://192.168.100.200:8614/stock/R123456"
				sheets, err := Draw([]Sticker{{Head: "R123456", Lines: []string{"PLA, black"}, Link: link}}, s, 0)
				if err != nil {
					t.Fatal(err)
				}
				bits, err := gozxing.NewBinaryBitmapFromImage(painted(sheets.pages[0], s, dpi/25.4))
				if err != nil {
					t.Fatal(err)
				}
				got, err := qrcode.NewQRCodeReader().Decode(bits, map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_TRY_HARDER: true})
				if err != nil || got.GetText() != link {
					t.Errorf("read %v, %v", got, err)
				}
			})
		}
	}
}

// Labels keep within the paper and apart, whatever stands on them, and go on on the
// next sheet.
func TestLabelsLieOnTheirPaper(t *testing.T) {
	t.Parallel()
	long := Sticker{Head: "R123456", Link: "http://workshop.local:8614/stock/R123456", Lines: []string{"acrylonitrile-butadiene-styrene of the greyest kind", "dry until 3 May 16:40, in the open", strings.Repeat("x", 80), "four", "five", "six", "seven", "eight"}}
	for _, s := range Sizes {
		var all []Sticker
		for range s.PerPage() + 2 {
			all = append(all, long)
		}
		sheets, err := Draw(all, s, 1%s.PerPage())
		if err != nil {
			t.Fatal(err)
		}
		if want := (len(all) + 1%s.PerPage() + s.PerPage() - 1) / s.PerPage(); sheets.Pages() != want {
			t.Errorf("%s: %d pages, wanted %d", s, sheets.Pages(), want)
		}
		if s.Left < 0 || s.Top < -1e-9 || s.Left+float64(s.Across-1)*s.StepX+s.W > s.PageW+1e-9 || s.Top+float64(s.Down-1)*s.StepY+s.H > s.PageH+1e-9 || s.StepX < s.W || s.StepY < s.H {
			t.Errorf("%s does not lie on its paper: %+v", s, s)
		}
		in := func(x, y float64) bool {
			for i := range s.Across {
				for j := range s.Down {
					left, top := s.Left+float64(i)*s.StepX, s.Top+float64(j)*s.StepY
					if x >= left && x <= left+s.W && y >= top && y <= top+s.H {
						return true
					}
				}
			}
			return false
		}
		for _, p := range sheets.pages {
			for _, b := range p.boxes {
				if !in(b.x, b.y) || !in(b.x+b.w, b.y+b.h) {
					t.Fatalf("%s: a dot beside its label: %+v", s, b)
				}
			}
			for _, w := range p.words {
				if end := w.x + 0.5*w.size*float64(len([]rune(w.text))); !in(w.x, w.y) || !in(end, w.y) {
					t.Errorf("%s: %q ends beside its label", s, w.text)
				}
			}
		}
		if pdf := string(sheets.PDF()); strings.Count(pdf, "/Type /Page ") != sheets.Pages() || !strings.HasSuffix(pdf, "%%EOF\n") || !strings.Contains(pdf, fmt.Sprintf("/MediaBox [0 0 %.3f %.3f]", s.PageW*72/25.4, s.PageH*72/25.4)) {
			t.Errorf("%s: the document is not whole", s)
		}
	}
}

// An address that would make the code too fine for a phone is refused.
func TestTooFineACodeIsRefused(t *testing.T) {
	t.Parallel()
	small, _ := SizeOf("a4-65")
	_, err := Draw([]Sticker{{Head: "R1", Link: "http://" + strings.Repeat("long", 80) + ".example/stock/R1"}}, small, 0)
	var fine *TooLong
	if !errors.As(err, &fine) || fine.Module >= leastModule {
		t.Errorf("%v", err)
	}
	for text, want := range map[string]string{"http://a:1": "http://a:1", " https://workshop.local/ ": "https://workshop.local", "workshop.local": "", "ftp://a": "", "http://a/b": "", "http://me@a": "", "http://a?x=1": "", "javascript:alert(1)": ""} {
		if got, ok := Base(text); got != want || ok != (want != "") {
			t.Errorf("%q is taken as %q", text, got)
		}
	}
}
