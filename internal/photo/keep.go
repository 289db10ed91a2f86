package photo

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"math"
)

// Kept is a photograph small enough to be kept with a record: upright, and without
// anything the camera wrote beside it, such as the place it was taken at.
//
// Errors: as Read.
func Kept(r io.Reader) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(r, MostBytes+1))
	if err != nil {
		return nil, err
	}
	oneAtATime.Lock()
	defer oneAtATime.Unlock()
	img, err := Decode(data)
	if err != nil {
		return nil, err
	}
	turn := orientation(data)
	var out bytes.Buffer
	for side, quality := keptSide, 80; ; side, quality = side*4/5, max(quality-10, 30) {
		out.Reset()
		if err := jpeg.Encode(&out, turned(smaller(img, side), turn), &jpeg.Options{Quality: quality}); err != nil {
			return nil, err
		}
		if out.Len() <= MostKept {
			return out.Bytes(), nil
		}
	}
}

// mostAveraged is how many pixels of the original make one of the smaller at the
// most, in each direction: more are not told apart.
const mostAveraged = 4

// smaller brings the longer side to most pixels, averaging where pixels fall
// together.
func smaller(img image.Image, most int) *image.RGBA {
	b := img.Bounds()
	f := math.Min(1, float64(most)/float64(max(b.Dx(), b.Dy())))
	w, h := max(1, int(float64(b.Dx())*f)), max(1, int(float64(b.Dy())*f))
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	span := func(i, n, of int) (int, int, int) {
		from, to := i*of/n, max((i+1)*of/n, i*of/n+1)
		return from, to, max(1, (to-from)/mostAveraged)
	}
	for y := range h {
		y0, y1, dy := span(y, h, b.Dy())
		for x := range w {
			x0, x1, dx := span(x, w, b.Dx())
			var red, green, blue, n uint32
			for v := y0; v < y1; v += dy {
				for u := x0; u < x1; u += dx {
					r, g, bl, _ := img.At(b.Min.X+u, b.Min.Y+v).RGBA()
					red, green, blue, n = red+r>>8, green+g>>8, blue+bl>>8, n+1
				}
			}
			out.SetRGBA(x, y, color.RGBA{uint8(red / n), uint8(green / n), uint8(blue / n), 255})
		}
	}
	return out
}

// turned sets a picture upright: how is the number a camera writes (Exif 2.3, tag
// Orientation), 1 for one that is.
func turned(img *image.RGBA, how int) *image.RGBA {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	if how < 2 || how > 8 {
		return img
	}
	if how >= 5 {
		w, h = h, w
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			u, v := x, y
			switch how {
			case 2:
				u = w - 1 - x
			case 3:
				u, v = w-1-x, h-1-y
			case 4:
				v = h - 1 - y
			case 5:
				u, v = y, x
			case 6:
				u, v = y, w-1-x
			case 7:
				u, v = h-1-y, w-1-x
			case 8:
				u, v = h-1-y, x
			}
			out.SetRGBA(x, y, img.RGBAAt(u, v))
		}
	}
	return out
}
