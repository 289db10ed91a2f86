package grain

import (
	"image"
	"math"
	"slices"
)

const (
	// finestPixel is as fine as a field is laid out; more pixels a grain than this
	// tell nothing more.
	finestPixel = 1e-3 / 30
	leastSide   = 400        // px, the shorter side of a picture
	MostPixels  = 60_000_000 // pixels of a picture that is still read
	unruled     = 0.005      // what printers are off by when nobody measured the line; judgement
	// LineLength is that of the line on the sheet, to be measured with a ruler [m].
	LineLength  = 0.1
	lumaIsFine  = 1.3 // times the contrast another channel must have: JPEG keeps colours coarser
	probePixels = 700 // px, width at which channels are compared
)

// Stage is how far the measuring of a picture is.
type Stage string

// The stages, in their order.
const (
	Reading   Stage = "reading"
	Looking   Stage = "looking for the marks"
	Flatten   Stage = "laying it flat"
	Parting   Stage = "telling grains apart"
	Measuring Stage = "measuring"
)

// Options are what a picture is measured with; the zero value is ready.
type Options struct {
	Line  float64     // the printed line of 100 mm as measured with a ruler [m]; 0: not measured
	Watch func(Stage) // told what is being done; nil: nobody
}

// Measured is a picture with what was found in it.
type Measured struct {
	Spread
	Standing Standing
	Channel  Channel
	PerGrain float64 // pixels across the grain at half the mass
	// Flat is the field as measured, one code a pixel, for showing.
	Flat Gray
}

// Measure finds and measures the grains of one picture.
//
//	img  the picture
//	opt  see Options
//
// Equation: see FindMarks, Rectify and Find; lengths times line/100 mm; the channel with the
// largest difference of grain and ground, luma unless another has 1.3 times as much.
// Holds for: see FindMarks and Find; a card when there are no marks.
// Source: own derivation.
// Errors: *Refusal with every code but NotRead.
// Checks: own derivation; TestRendered, TestRefusals.
func Measure(img image.Image, opt Options) (*Measured, error) {
	say := func(s Stage) {
		if opt.Watch != nil {
			opt.Watch(s)
		}
	}
	b := img.Bounds()
	if n := min(b.Dx(), b.Dy()); n < leastSide {
		return nil, refuse(TooSmall, float64(n), leastSide, "px")
	}
	if n := b.Dx() * b.Dy(); n > MostPixels {
		return nil, refuse(TooLarge, float64(n), MostPixels, "px")
	}
	ruler := 1.0
	if opt.Line > 0 {
		ruler = opt.Line / LineLength
		if !(ruler > 0.9 && ruler < 1.1) {
			return nil, refuse(OtherScale, opt.Line, LineLength, "m")
		}
	}
	say(Looking)
	luma := Plane(img, Luma, 1)
	stand, mask, err := standingOf(luma)
	if err != nil {
		return nil, err
	}
	if stand.Card {
		ruler = 1
	} else if opt.Line == 0 {
		stand.Error = math.Hypot(stand.Error, unruled)
	}
	say(Flatten)
	c := best(img, stand, mask)
	plane := luma
	if c != Luma {
		plane = Plane(img, c, 1)
	}
	f := Rectify(plane, stand, 0)
	f.Mask = both(f, mask, stand)
	f.Pixel *= ruler
	out := &Measured{Standing: stand, Channel: c, Flat: coded(f.Raster)}
	say(Parting)
	s, err := Find(f)
	if err != nil {
		return nil, err
	}
	say(Measuring)
	out.Spread = *s
	out.PerGrain = massMedian(s.Grains) / f.Pixel
	return out, nil
}

// standingOf looks for marks, then for a card.
func standingOf(luma Gray) (Standing, *card, error) {
	s, err := FindMarks(luma)
	if err == nil {
		return s, nil, nil
	}
	if r, ok := err.(*Refusal); !ok || r.Code != Unscaled {
		return s, nil, err
	}
	c, cardErr := FindCard(luma)
	if cardErr != nil {
		return s, nil, cardErr
	}
	return c.Standing, &c, nil
}

// best is the channel in which grains differ most from the ground.
func best(img image.Image, s Standing, m *card) Channel {
	step := s.sparse()
	chosen, most := Luma, 0.0
	luma := Plane(img, Luma, step)
	for _, c := range channels {
		plane := luma
		if c != Luma {
			if plane = Plane(img, c, step); slices.Equal(plane.V, luma.V) {
				continue // of a grey picture all are alike
			}
		}
		small := s
		small.Homography = Homography{1 / float64(step), 0, 0, 0, 1 / float64(step), 0, 0, 0, 1}.after(s.Homography)
		f := Rectify(plane, small, 0)
		f.Mask = both(f, m, small)
		g := newFinder(f)
		g.ground()
		_ = g.levels() // a faint channel has a small contrast; that is all that counts here
		v := g.out.Contrast
		if c == Luma {
			v *= lumaIsFine
		}
		if v > most*1.02 { // the first of equals
			chosen, most = c, v
		}
	}
	return chosen
}

// sparse is at every how many pixels channels are compared.
func (s Standing) sparse() int {
	return max(1, int(s.pixels()*(s.Field[2]-s.Field[0]))/probePixels)
}

// pixels are the pixels a metre has in the middle of the field.
func (s Standing) pixels() float64 {
	a, b := s.scales(Point{(s.Field[0] + s.Field[2]) / 2, (s.Field[1] + s.Field[3]) / 2})
	return math.Sqrt(a * b)
}

// Rectify lays the field out flat, in linear light, with the scale of the picture's
// middle but no finer than 30 pixels a millimetre.
//
//	g      one channel of the picture
//	s      how the sheet stands in it
//	pixel  side of a pixel of the field [m]; 0: that of the picture
//
// Equation: brightness at H(x), between the four pixels around it; of squares of pixels
// where the picture is finer than the field.
// Holds for: flat sheets.
// Source: own derivation.
// Errors: none; what lies outside the picture is masked.
// Checks: own derivation; TestRendered.
func Rectify(g Gray, s Standing, pixel float64) Field {
	if pixel == 0 {
		pixel = max(1/s.pixels(), finestPixel)
	}
	w, h := int((s.Field[2]-s.Field[0])/pixel), int((s.Field[3]-s.Field[1])/pixel)
	f := Field{Raster: NewRaster(w, h), Pixel: pixel}
	out := make([]bool, h) // rows with something outside the picture
	mask := make([]bool, 0)
	k := max(1, int(pixel*s.pixels()+0.01))
	probe := func(x, y int) (float32, bool) {
		sum := 0.0
		for j := range k {
			for i := range k {
				p := s.To(Point{s.Field[0] + (float64(x)+(float64(i)+0.5)/float64(k))*pixel, s.Field[1] + (float64(y)+(float64(j)+0.5)/float64(k))*pixel})
				v, ok := g.light(p.X, p.Y)
				if !ok {
					return 0, false
				}
				sum += v
			}
		}
		return float32(sum / float64(k*k)), true
	}
	bands(h, func(from, to int) {
		for y := from; y < to; y++ {
			row := f.row(y)
			for x := range row {
				v, ok := probe(x, y)
				row[x] = v
				out[y] = out[y] || !ok
			}
		}
	})
	for y := range h {
		if !out[y] {
			continue
		}
		if len(mask) == 0 {
			mask = make([]bool, w*h)
			for i := range mask {
				mask[i] = true
			}
		}
		for x := range w {
			_, mask[y*w+x] = probe(x, y)
		}
	}
	if len(mask) > 0 {
		f.Mask = mask
	}
	return f
}

// coded makes a raster ready to be shown.
func coded(r Raster) Gray {
	var codes [4096]uint8
	for i := range codes {
		v := float64(i) / 4095
		if v <= 0.0031308 {
			v *= 12.92
		} else {
			v = 1.055*math.Pow(v, 1/2.4) - 0.055
		}
		codes[i] = uint8(v*255 + 0.5)
	}
	out := Gray{r.W, r.H, make([]uint8, len(r.V))}
	bands(r.H, func(from, to int) {
		for i := from * r.W; i < to*r.W; i++ {
			out.V[i] = codes[int(min(max(r.V[i], 0), 1)*4095)]
		}
	})
	return out
}
