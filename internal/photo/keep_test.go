package photo

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/jpeg"
	"math/rand/v2"
	"testing"
)

// corner is a picture with one red corner, at the top left, as a camera held in one
// of eight ways writes it.
func corner(t testing.TB, w, h, how int, order binary.ByteOrder) []byte {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			// where the corner lies in what is stored: Exif 2.3, table of tag Orientation
			// (the visual top left of row 0 and column 0)
			left, top := x < w/4, y < h/4
			right, bottom := x >= w-w/4, y >= h-h/4
			in := map[int]bool{1: left && top, 2: right && top, 3: right && bottom, 4: left && bottom, 5: left && top, 6: left && bottom, 7: right && bottom, 8: right && top}[how]
			c := color.RGBA{240, 240, 240, 255}
			if in {
				c = color.RGBA{220, 20, 20, 255}
			}
			img.SetRGBA(x, y, c)
		}
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, img, nil); err != nil {
		t.Fatal(err)
	}
	tiff := []byte("MM")
	if order == binary.LittleEndian {
		tiff = []byte("II")
	}
	add := func(v any) {
		var b bytes.Buffer
		if err := binary.Write(&b, order, v); err != nil {
			t.Fatal(err)
		}
		tiff = append(tiff, b.Bytes()...)
	}
	add(uint16(42))
	add(uint32(8))
	add(uint16(1))
	add([]uint16{0x0112, 3})
	add(uint32(1))
	add([]uint16{uint16(how), 0})
	add(uint32(0))
	body := append([]byte("Exif\x00\x00"), tiff...)
	head := append([]byte{0xff, 0xd8, 0xff, 0xe1, byte((len(body) + 2) >> 8), byte(len(body) + 2)}, body...)
	return append(head, out.Bytes()[2:]...)
}

// However the phone was held, the picture that is kept stands upright, and what the
// camera wrote beside it is gone.
func TestKeptStandsUpright(t *testing.T) {
	t.Parallel()
	for how := 1; how <= 8; how++ {
		for _, order := range []binary.ByteOrder{binary.BigEndian, binary.LittleEndian} {
			kept, err := Kept(bytes.NewReader(corner(t, 160, 80, how, order)))
			if err != nil {
				t.Fatal(err)
			}
			img, err := jpeg.Decode(bytes.NewReader(kept))
			if err != nil {
				t.Fatal(err)
			}
			b := img.Bounds()
			if tall := b.Dy() > b.Dx(); tall != (how >= 5) {
				t.Errorf("held the way %d it is %v", how, b)
			}
			red := func(x, y int) bool { r, g, _, _ := img.At(x, y).RGBA(); return r > 2*g }
			if !red(4, 4) || red(b.Dx()-4, 4) || red(4, b.Dy()-4) || red(b.Dx()-4, b.Dy()-4) {
				t.Errorf("held the way %d it does not stand upright", how)
			}
			if bytes.Contains(kept, []byte("Exif")) {
				t.Error("what the camera wrote is kept")
			}
		}
	}
}

// A photograph of noise, the hardest to make small, fits its bound.
func TestKeptFits(t *testing.T) {
	t.Parallel()
	img := image.NewRGBA(image.Rect(0, 0, 2000, 1500))
	chance := rand.New(rand.NewPCG(1, 2))
	for i := range img.Pix {
		img.Pix[i] = uint8(chance.UintN(256))
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, img, nil); err != nil {
		t.Fatal(err)
	}
	kept, err := Kept(&out)
	if err != nil || len(kept) > MostKept {
		t.Errorf("%d bytes, %v", len(kept), err)
	}
	if _, err := Kept(bytes.NewReader([]byte("no picture"))); err == nil {
		t.Error("a text is kept")
	}
}

func FuzzOrientation(f *testing.F) {
	f.Add(corner(f, 16, 8, 6, binary.LittleEndian)[:60])
	f.Add([]byte("\xff\xd8\xff\xe1\x00\x10Exif\x00\x00MM\x00\x2a\xff\xff\xff\xff"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if how := orientation(data); how < 1 || how > 8 {
			t.Fatal(how)
		}
	})
}
