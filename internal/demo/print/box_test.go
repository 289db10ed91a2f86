package print

// Prints that only the tests of the reader want: a box, and two in two colours.

import (
	"fmt"
	"io"
	"math"
)

// Solid is a box to print, with its near left corner at X, Y [m].
type Solid struct {
	X, Y                 float64
	Width, Depth, Height float64
	Walls                int     // lines around each layer
	Infill               float64 // share of the inside that is filled, 0 to 1
}

func (b Solid) check(m Machine) error {
	if err := m.check(); err != nil {
		return err
	}
	for _, v := range []float64{b.Width, b.Depth, b.Height} {
		if !(v > 0) || v > largest {
			return fmt.Errorf("demo print: a side of the box must lie between 0 and %g m, not %g", largest, v)
		}
	}
	if b.Walls < 1 || float64(b.Walls)*2*m.Line > math.Min(b.Width, b.Depth) {
		return fmt.Errorf("demo print: %d walls of %g m do not fit into the box", b.Walls, m.Line)
	}
	if !(b.Infill >= 0 && b.Infill <= 1) {
		return fmt.Errorf("demo print: infill must lie between 0 and 1, not %g", b.Infill)
	}
	return nil
}

// Box writes a box with walls and a back-and-forth infill whose direction
// changes with every layer.
//
// Errors: a box or a machine that cannot be, and what w returns.
func Box(w io.Writer, m Machine, b Solid) (Made, error) {
	if err := b.check(m); err != nil {
		return Made{}, err
	}
	p := newPen(w, m)
	p.head("box with walls and infill", 1)
	for n := range layersOf(b.Height, m) {
		p.layer(n)
		p.walls(b)
		p.fill(b, n%2 == 1)
	}
	return p.made, p.foot()
}

// walls prints the lines around a layer, from outside in.
func (p *pen) walls(b Solid) {
	for i := range b.Walls {
		in := (float64(i) + 0.5) * p.m.Line
		x0, y0, x1, y1 := b.X+in, b.Y+in, b.X+b.Width-in, b.Y+b.Depth-in
		p.travel(x0, y0)
		p.line(x1, y0)
		p.line(x1, y1)
		p.line(x0, y1)
		p.line(x0, y0)
	}
}

// fill prints the inside of a layer with parallel lines, joined at their ends.
func (p *pen) fill(b Solid, across bool) {
	in := (float64(b.Walls) + 0.5) * p.m.Line
	wide, deep := b.Width-2*in, b.Depth-2*in
	if b.Infill == 0 || wide <= 0 || deep <= 0 {
		return
	}
	at := func(u, v float64) (float64, float64) { return b.X + in + u, b.Y + in + v }
	if across {
		wide, deep = deep, wide
		at = func(u, v float64) (float64, float64) { return b.X + in + v, b.Y + in + u }
	}
	step := p.m.Line / b.Infill
	for i := 0; float64(i)*step <= wide; i++ {
		u := float64(i) * step
		from, to := 0.0, deep
		if i%2 == 1 {
			from, to = to, from
		}
		if i == 0 {
			p.travel(at(u, from))
		} else {
			p.line(at(u, from))
		}
		p.line(at(u, to))
	}
}

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

// use changes the tool and starts its counter anew.
func (p *pen) use(tool int) {
	if tool == p.tool {
		return
	}
	p.retract()
	p.tool = tool
	p.say("T%d", tool)
	p.say("G92 E0")
	p.e[tool] = 0
	if p.owed[tool] {
		// The melt stands drawn back at the new zero.
		p.e[tool] = p.m.Retract / p.perE()
	}
}

// line extrudes to x, y.
func (p *pen) line(x, y float64) {
	e := p.extruded(math.Hypot(x-p.x, y-p.y))
	p.say("G1 X%.3f Y%.3f E%.5f", x*1e3, y*1e3, e)
	p.x, p.y = x, y
}
