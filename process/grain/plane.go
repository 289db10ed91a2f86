package grain

import (
	"image"
	"image/color"
)

// Gray is one channel of a picture, as coded (sRGB), row by row.
type Gray struct {
	W, H int
	V    []uint8
}

// Channel is what is taken of a colour.
type Channel string

// The channels. The lightest and darkest of the three tell coloured grains from
// white and from black paper.
const (
	Luma     Channel = "luma"
	Red      Channel = "red"
	Green    Channel = "green"
	Blue     Channel = "blue"
	Lightest Channel = "lightest"
	Darkest  Channel = "darkest"
)

// channels are those tried for the best contrast.
var channels = []Channel{Luma, Red, Green, Blue, Lightest, Darkest}

func (c Channel) of(r, g, b uint8) uint8 {
	switch c {
	case Red:
		return r
	case Green:
		return g
	case Blue:
		return b
	case Lightest:
		return max(r, g, b)
	case Darkest:
		return min(r, g, b)
	}
	return uint8((299*uint32(r) + 587*uint32(g) + 114*uint32(b) + 500) / 1000)
}

// Plane takes one channel of a picture, every step-th pixel of every step-th row.
//
//	img   any picture; those the standard library decodes are read fast
//	c     the channel
//	step  1 for every pixel
//
// The whole luma of a JPEG is the picture's own, not a copy: it is only read.
func Plane(img image.Image, c Channel, step int) Gray {
	b := img.Bounds()
	if p, ok := img.(*image.YCbCr); ok && c == Luma && step == 1 && p.YStride == b.Dx() {
		at := p.YOffset(b.Min.X, b.Min.Y)
		return Gray{W: b.Dx(), H: b.Dy(), V: p.Y[at : at+b.Dx()*b.Dy()]}
	}
	out := Gray{W: (b.Dx() + step - 1) / step, H: (b.Dy() + step - 1) / step}
	out.V = make([]uint8, out.W*out.H)
	bands(out.H, func(from, to int) {
		for y := from; y < to; y++ {
			lineOf(img, c, step, y*step, out.V[y*out.W:(y+1)*out.W])
		}
	})
	return out
}

// lineOf reads one row.
func lineOf(img image.Image, c Channel, step, y int, out []uint8) {
	b := img.Bounds()
	y += b.Min.Y
	switch p := img.(type) {
	case *image.YCbCr:
		for i := range out {
			x := b.Min.X + i*step
			at := p.YOffset(x, y)
			if c == Luma {
				out[i] = p.Y[at]
				continue
			}
			k := p.COffset(x, y)
			out[i] = c.of(color.YCbCrToRGB(p.Y[at], p.Cb[k], p.Cr[k]))
		}
	case *image.Gray:
		for i := range out {
			out[i] = p.Pix[p.PixOffset(b.Min.X+i*step, y)]
		}
	case *image.RGBA:
		for i := range out {
			at := p.PixOffset(b.Min.X+i*step, y)
			out[i] = c.of(p.Pix[at], p.Pix[at+1], p.Pix[at+2])
		}
	case *image.NRGBA:
		for i := range out {
			at := p.PixOffset(b.Min.X+i*step, y)
			out[i] = c.of(p.Pix[at], p.Pix[at+1], p.Pix[at+2])
		}
	default:
		for i := range out {
			r, g, bl, _ := img.At(b.Min.X+i*step, y).RGBA()
			out[i] = c.of(uint8(r>>8), uint8(g>>8), uint8(bl>>8))
		}
	}
}

// shrink averages squares of k by k pixels.
func shrink(g Gray, k int) Gray {
	if k <= 1 {
		return g
	}
	out := Gray{W: g.W / k, H: g.H / k}
	out.V = make([]uint8, out.W*out.H)
	bands(out.H, func(from, to int) {
		sum := make([]uint32, out.W)
		for y := from; y < to; y++ {
			clear(sum)
			for dy := range k {
				row := g.V[(y*k+dy)*g.W:]
				for x := range sum {
					for _, v := range row[x*k : x*k+k] {
						sum[x] += uint32(v)
					}
				}
			}
			n := uint32(k * k)
			for x, s := range sum {
				out.V[y*out.W+x] = uint8((s + n/2) / n)
			}
		}
	})
	return out
}

// light is the linear brightness between pixels; false outside the picture.
func (g Gray) light(x, y float64) (float64, bool) {
	x, y = x-0.5, y-0.5
	ix, iy := int(x), int(y)
	if x < 0 || y < 0 || ix >= g.W-1 || iy >= g.H-1 {
		return 0, false
	}
	fx, fy := x-float64(ix), y-float64(iy)
	at := iy*g.W + ix
	a, b := float64(linear[g.V[at]]), float64(linear[g.V[at+1]])
	c, d := float64(linear[g.V[at+g.W]]), float64(linear[g.V[at+g.W+1]])
	return (1-fy)*((1-fx)*a+fx*b) + fy*((1-fx)*c+fx*d), true
}
