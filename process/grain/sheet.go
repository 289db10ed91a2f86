package grain

// Sheet is a sheet to spread grains on: four marks, each a dark square with a light
// square hole in it, in the corners of a rectangle. The marks stand outside the
// field, so that no grain hides them. In some holes stands a dark square: they tell
// which way is up, and which sheet it is.
type Sheet struct {
	Name         string
	Across, Down float64 // from the middle of one mark to the next [m]
	Mark         float64 // side of a mark [m]
	Dotted       [4]bool // from the top left clockwise
	W, H         float64 // of the field, in the middle between the marks [m]
}

// The parts of a mark, of its side.
const (
	HoleShare = 0.5
	DotShare  = 0.22
)

// WholeSheet takes a field of 160 by 120 mm, for grains from about 0.7 mm.
func WholeSheet() Sheet {
	return Sheet{"whole", 0.176, 0.124, 0.012, [4]bool{true, false, false, false}, 0.160, 0.120}
}

// HalfSheet is half as wide and high, for finer grains: the camera comes closer.
func HalfSheet() Sheet {
	return Sheet{"half", 0.088, 0.062, 0.006, [4]bool{true, true, false, false}, 0.080, 0.060}
}

// Middles are the middles of the marks from the top left clockwise, from the
// middle of the sheet [m].
func (s Sheet) Middles() [4]Point {
	x, y := s.Across/2, s.Down/2
	return [4]Point{{-x, -y}, {x, -y}, {x, y}, {-x, y}}
}

// corners are the sixteen corners of the marks' outer squares, mark by mark from
// the top left clockwise, the squares so many times as large as drawn.
func (s Sheet) corners(swell float64) []Point {
	var all []Point
	d := s.Mark / 2 * swell
	for _, m := range s.Middles() {
		all = append(all, m.plus(Point{-d, -d}), m.plus(Point{d, -d}), m.plus(Point{d, d}), m.plus(Point{-d, d}))
	}
	return all
}

// The card of ISO/IEC 7810, size ID-1, as bank cards have it.
const (
	CardW = 85.60e-3
	CardH = 53.98e-3
)

// Standing is how a sheet or card lies in a picture.
type Standing struct {
	Homography
	Sheet Sheet   // the zero value for a card
	Off   float64 // how far the marks' corners lie from their places, root of the mean square [m]
	Tilt  float64 // fewest over most pixels a metre in the field [1]: 1 seen from above
	Error float64 // one standard deviation of lengths measured with it [1]
	Card  bool
	Field [4]float64 // left, top, right, bottom of what is measured, on the sheet [m]
}
