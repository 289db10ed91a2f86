package print

import "io"

// Tray writes a box in two colours: tool 0 prints walls and infill, tool 1 a
// smaller block beside it, with a retraction at every change.
//
// Errors: a box or a machine that cannot be, and what w returns.
func Tray(w io.Writer, m Machine, body, inlay Solid) (Made, error) {
	for _, b := range []Solid{body, inlay} {
		if err := b.check(m); err != nil {
			return Made{}, err
		}
	}
	p := newPen(w, m)
	p.head("tray in two colours", 2)
	inlaid := layersOf(inlay.Height, m)
	for n := range layersOf(body.Height, m) {
		p.layer(n)
		p.use(0)
		p.walls(body)
		p.fill(body, n%2 == 1)
		if n < inlaid {
			p.use(1)
			p.walls(inlay)
			p.fill(inlay, n%2 == 0)
		}
	}
	return p.made, p.foot()
}
