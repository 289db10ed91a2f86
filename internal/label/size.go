// Package label draws stickers for lots: the label, what it is, and a QR code that
// opens the lot's page. It lays them out for sheets of labels and for the small
// printers that print one after the other, as a document (PDF) or a picture (SVG).
package label

import "fmt"

// Size is a sheet of labels, or the roll of a small printer: one label a page. All
// in millimetres. The sizes are those of common sheets and rolls: common practice,
// no source.
type Size struct {
	Key          string
	PageW, PageH float64
	Across, Down int
	W, H         float64 // of one label
	Left, Top    float64 // of the first
	StepX, StepY float64 // from one to the next
}

// sheet is a page of A4 with so many labels, in the middle of it.
func sheet(across, down int, w, h, gapX float64) Size {
	const pageW, pageH = 210, 297
	s := Size{Key: fmt.Sprintf("a4-%d", across*down), PageW: pageW, PageH: pageH, Across: across, Down: down, W: w, H: h, StepX: w + gapX, StepY: h}
	s.Left, s.Top = (pageW-float64(across-1)*s.StepX-w)/2, (pageH-float64(down)*h)/2
	return s
}

// roll is one label a page.
func roll(w, h float64) Size {
	return Size{Key: fmt.Sprintf("%gx%g", w, h), PageW: w, PageH: h, Across: 1, Down: 1, W: w, H: h, StepX: w, StepY: h}
}

// Sizes are the sheets and rolls there are, the usual first.
var Sizes = []Size{
	sheet(3, 8, 70, 37, 0), sheet(3, 7, 63.5, 38.1, 2.5), sheet(2, 7, 99.1, 38.1, 2.5), sheet(5, 13, 38.1, 21.2, 2.5),
	roll(62, 29), roll(57, 32), roll(50, 30), roll(40, 30),
}

// SizeOf is the size of that key.
func SizeOf(key string) (Size, bool) {
	for _, s := range Sizes {
		if s.Key == key {
			return s, true
		}
	}
	return Size{}, false
}

// PerPage is how many labels a page holds.
func (s Size) PerPage() int { return s.Across * s.Down }

// String is the size as people read it off the package.
func (s Size) String() string {
	if s.PerPage() == 1 {
		return fmt.Sprintf("%g × %g mm", s.W, s.H)
	}
	return fmt.Sprintf("A4, %d × %g × %g mm", s.PerPage(), s.W, s.H)
}
