package photo

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"math"

	"hopperful/process/grain"
)

const (
	// MostKept is the largest picture that is kept with a record, in bytes.
	MostKept   = 110 << 10
	keptSide   = 1280 // px, the longer side to begin with
	overlaying = 2000 // px, of what a page shows
)

// Shown is the field as it was measured, for a page to lay outlines over: a JPEG
// and how many of its pixels a metre has.
func Shown(m *grain.Measured) ([]byte, error) {
	var out bytes.Buffer
	err := jpeg.Encode(&out, shrunk(m.Flat, overlaying), &jpeg.Options{Quality: 80})
	return out.Bytes(), err
}

// Overlaid is the field with the outline of every grain drawn into it, small
// enough to be kept with a record. Grains struck out are drawn without an outline.
func Overlaid(m *grain.Measured, struck func(grain int) bool) ([]byte, error) {
	var out bytes.Buffer
	for side, quality := keptSide, 70; ; side, quality = side*4/5, max(quality-10, 30) {
		gray := shrunk(m.Flat, side)
		img := image.NewRGBA(gray.Bounds())
		for i, v := range gray.Pix {
			img.Pix[4*i], img.Pix[4*i+1], img.Pix[4*i+2], img.Pix[4*i+3] = v, v, v, 255
		}
		scale := float64(gray.Rect.Dx()) / m.W
		for i, g := range m.Grains {
			if struck != nil && struck(i) {
				continue
			}
			for k, p := range g.Outline {
				line(img, p, g.Outline[(k+1)%len(g.Outline)], scale)
			}
		}
		out.Reset()
		if err := jpeg.Encode(&out, img, &jpeg.Options{Quality: quality}); err != nil {
			return nil, err
		}
		if out.Len() <= MostKept || side < 200 {
			return out.Bytes(), nil
		}
	}
}

// ink stands out from both light and dark grains.
var ink = color.RGBA{0xd1, 0x2f, 0x8a, 255}

func line(img *image.RGBA, a, b grain.Point, scale float64) {
	steps := int(math.Ceil(math.Max(math.Abs(b.X-a.X), math.Abs(b.Y-a.Y))*scale)) + 1
	for i := range steps {
		t := float64(i) / float64(steps)
		img.SetRGBA(int((a.X+t*(b.X-a.X))*scale), int((a.Y+t*(b.Y-a.Y))*scale), ink)
	}
}

// shrunk brings the longer side to most pixels by averaging.
func shrunk(g grain.Gray, most int) *image.Gray {
	f := math.Min(1, float64(most)/float64(max(g.W, g.H)))
	w, h := max(1, int(float64(g.W)*f)), max(1, int(float64(g.H)*f))
	out := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		y0, y1 := y*g.H/h, max((y+1)*g.H/h, y*g.H/h+1)
		for x := range w {
			x0, x1 := x*g.W/w, max((x+1)*g.W/w, x*g.W/w+1)
			sum := 0
			for v := y0; v < y1; v++ {
				for u := x0; u < x1; u++ {
					sum += int(g.V[v*g.W+u])
				}
			}
			out.Pix[y*w+x] = uint8(sum / ((y1 - y0) * (x1 - x0)))
		}
	}
	return out
}

// Small drops what is not needed to show the field again: its raster is brought to
// the size that pages show, its outlines stay as they are.
func Small(m *grain.Measured) {
	g := shrunk(m.Flat, overlaying)
	m.Flat = grain.Gray{W: g.Rect.Dx(), H: g.Rect.Dy(), V: g.Pix}
}
