package print

import (
	"bufio"
	"fmt"
	"io"
	"math"
)

// Machine is how the invented granule printer prints. Lengths in metres, speeds
// in m/s, temperatures in kelvin.
type Machine struct {
	Layer, Line   float64 // height of a layer, width of a line [m]
	Speed, Travel float64 // while extruding and not [m/s]
	Nozzle, Bed   float64 // [K]
	Retract       float64 // melt drawn back before a long travel [m³]; 0 for none

	Volumetric bool    // E counts mm³ and the file says so; else filament length
	Diameter   float64 // of the filament E stands for [m]
}

// Granule is the machine of the demo shop: invented.
func Granule() Machine {
	return Machine{
		Layer: 0.5e-3, Line: 1.2e-3, Speed: 0.04, Travel: 0.12,
		Nozzle: 488.15, Bed: 333.15, Retract: 6e-9, Volumetric: true, Diameter: 1.75e-3,
	}
}

// Made is what a generator has put into its file.
type Made struct {
	Volume float64    // melt of all tools [m³]
	Tool   [2]float64 // the same for each tool [m³]
	Length float64    // path while extruding [m]
	Layers int
}

// check says which setting no machine could print with.
func (m Machine) check() error {
	for _, c := range []struct {
		name string
		v    float64
	}{
		{"layer height", m.Layer}, {"line width", m.Line}, {"speed", m.Speed}, {"travel speed", m.Travel},
		{"nozzle temperature", m.Nozzle}, {"bed temperature", m.Bed}, {"filament diameter", m.Diameter},
	} {
		if !(c.v > 0) || math.IsInf(c.v, 0) {
			return fmt.Errorf("demo print: %s must be above zero, not %g", c.name, c.v)
		}
	}
	return nil
}

// pen writes moves and keeps account.
type pen struct {
	m    Machine
	w    *bufio.Writer
	x, y float64 // [m]
	tool int
	e    [2]float64 // counter of each tool [file units]
	made Made
	owed [2]bool // retracted, each tool
}

func newPen(w io.Writer, m Machine) *pen { return &pen{m: m, w: bufio.NewWriter(w)} }

func (p *pen) say(format string, args ...any) { fmt.Fprintf(p.w, format+"\n", args...) }

// perE is the melt behind one unit of E [m³].
func (p *pen) perE() float64 {
	if p.m.Volumetric {
		return 1e-9
	}
	return math.Pi / 4 * p.m.Diameter * p.m.Diameter * 1e-3
}

// head writes what stands before the first layer.
func (p *pen) head(title string, tools int) {
	p.say("; %s", title)
	p.say("; layer %.2f mm, line %.2f mm, granule nozzle", p.m.Layer*1e3, p.m.Line*1e3)
	p.say("G21 ; millimetres")
	p.say("G90")
	p.say("M82 ; E counts up")
	if p.m.Volumetric {
		p.say("M200 D%.3f ; E is cubic millimetres", p.m.Diameter*1e3)
	}
	p.say("M190 S%.0f", p.m.Bed-273.15)
	for t := range tools {
		p.say("M109 T%d S%.0f", t, p.m.Nozzle-273.15)
	}
	p.say("G28")
	p.say("G92 E0")
}

// foot ends the file.
func (p *pen) foot() error {
	p.retract()
	p.say("G91")
	p.say("G0 Z10 F%.0f", p.m.Travel*6e4)
	p.say("G90")
	p.say("M104 S0")
	p.say("M140 S0")
	p.say("M84")
	return p.w.Flush()
}

// layer rises to layer n, from 0.
func (p *pen) layer(n int) {
	p.made.Layers = n + 1
	p.say("; layer %d", n+1)
	p.say("G0 Z%.3f F%.0f", float64(n+1)*p.m.Layer*1e3, p.m.Travel*6e4)
}

// extruded books melt and writes nothing.
func (p *pen) extruded(length float64) float64 {
	v := length * p.m.Line * p.m.Layer
	p.e[p.tool] += v / p.perE()
	p.made.Volume += v
	p.made.Tool[p.tool] += v
	p.made.Length += length
	return p.e[p.tool]
}

// retract draws melt back once.
func (p *pen) retract() {
	if p.m.Retract == 0 || p.owed[p.tool] {
		return
	}
	p.owed[p.tool] = true
	p.say("G1 E%.5f F1800", p.e[p.tool]-p.m.Retract/p.perE())
}

// travel goes to x, y without extruding.
func (p *pen) travel(x, y float64) {
	if math.Hypot(x-p.x, y-p.y) > 10*p.m.Line {
		p.retract()
	}
	p.say("G0 X%.3f Y%.3f F%.0f", x*1e3, y*1e3, p.m.Travel*6e4)
	p.x, p.y = x, y
	if p.owed[p.tool] {
		p.owed[p.tool] = false
		p.say("G1 E%.5f F1800", p.e[p.tool])
	}
	p.say("G1 F%.0f", p.m.Speed*6e4)
}

// ring extrudes a full circle about a centre from where the pen stands.
func (p *pen) ring(cx, cy float64) {
	r := math.Hypot(p.x-cx, p.y-cy)
	e := p.extruded(2 * math.Pi * r)
	p.say("G3 X%.3f Y%.3f I%.3f J%.3f E%.5f", p.x*1e3, p.y*1e3, (cx-p.x)*1e3, (cy-p.y)*1e3, e)
}
