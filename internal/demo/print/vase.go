package print

import (
	"fmt"
	"io"
	"math"
)

// Round is a round vessel to print about X, Y [m].
type Round struct {
	X, Y           float64
	Radius, Height float64 // outer [m]
	Walls          int     // rings in each layer
	Floor          int     // layers filled to the middle
}

// Vase writes a round vessel of full circles: arcs, no straight extrusion.
//
// Errors: a vessel or a machine that cannot be, and what w returns.
func Vase(w io.Writer, m Machine, r Round) (Made, error) {
	if err := m.check(); err != nil {
		return Made{}, err
	}
	if !(r.Radius > 0 && r.Radius <= largest && r.Height > 0 && r.Height <= largest) {
		return Made{}, fmt.Errorf("demo print: radius %g m and height %g m must lie between 0 and %g", r.Radius, r.Height, largest)
	}
	most := int(r.Radius / m.Line)
	if r.Walls < 1 || r.Walls > most || r.Floor < 0 {
		return Made{}, fmt.Errorf("demo print: %d rings do not fit into a radius of %g m, 1 to %d do", r.Walls, r.Radius, most)
	}
	p := newPen(w, m)
	p.head("round vase of arcs", 1)
	for n := range layersOf(r.Height, m) {
		p.layer(n)
		rings := r.Walls
		if n < r.Floor {
			rings = most
		}
		for i := range rings {
			p.travel(r.X+r.Radius-(float64(i)+0.5)*m.Line, r.Y)
			p.ring(r.X, r.Y)
		}
	}
	return p.made, p.foot()
}

// layersOf is the number of layers in a height, at least one.
func layersOf(height float64, m Machine) int {
	return max(1, int(math.Round(height/m.Layer)))
}

// largest [m] bounds what the generators write.
const largest = 2.0
