// From areas and widths to masses.

package grain

import (
	"errors"
	"math"

	"hopperful/process"
)

// Sample is what was spread on the sheets together, or one class of it.
type Sample struct {
	Spreads []*Spread
	Mass    float64 // of the whole sample, weighed [kg]; 0: not weighed
	Of      float64 // mass this class stands for [kg]; 0: there are no classes
}

// Plastic is what is known of the material.
type Plastic struct {
	Density float64 // of the solid [kg/m³]
	Wall    float64 // thickness of the print's walls [m]; 0: not known
}

// Weighed is one grain with its mass.
type Weighed struct {
	Width float64 // [m]
	Mass  float64 // with that of the grains the edge hid [kg]
	Tile  int     // where it lay, for drawing the sample anew
	Flat  bool    // lies flat: at least twice as wide as the walls it came from
	Of    Place   // which grain it is
}

// Place names a grain: its sample, picture and number in it.
type Place struct{ Sample, Picture, Grain int }

// Heap is what all samples hold together.
type Heap struct {
	Grains    []Weighed
	Mass      float64 // of all grains, as reckoned from areas [kg]
	Thickness float64 // mean thickness over mean width by weighing [1]; 0: not weighed
	Tiles     int
}

const (
	tilesAcross = 6 // the field is drawn anew by so many by so many tiles
	// boxShare is the share of area × width that a grain's volume is before any
	// weighing: 2/3 for an ellipsoid as thick as wide, less for flatter ones.
	// Judgement; it moves no size, only the mass told where none was weighed.
	boxShare = 0.5
)

// Weigh gives each grain the mass its area and width stand for.
//
//	samples  the pictures, by class where the sample was sieved into some; see Sample
//	plastic  see Plastic
//
// Equation: m ∝ A · min(b, t)/((1 − F_x/W)(1 − F_y/H)), b the width, t the wall; scaled so
// that a weighed sample's masses add up to it, and a class's to what it stands for.
// Holds for: grains that lie on their broad side and are alike in shape; grains that touch
// the field's edge are left out, for which the rest of their size stands in.
// Source: Mora1998 (area × breadth); the edges after Miles and Lantuéjoul, from memory, tested
// in TestRendered; the bound by the wall is own derivation.
// Errors: RangeError for the density or wall; *Refusal NoGrains without any.
// Checks: own derivation; TestWeigh, TestRendered.
func Weigh(samples []Sample, plastic Plastic) (Heap, error) {
	if err := errors.Join(process.Within("density", plastic.Density, 100, 20_000, "kg/m³", "judgement"),
		process.Within("wall", plastic.Wall, 0, 0.1, "m", "judgement")); err != nil {
		return Heap{}, err
	}
	var out Heap
	var box, weighed float64
	for si, s := range samples {
		first, seen := len(out.Grains), 0.0
		for pi, p := range s.Spreads {
			for gi, g := range p.Grains {
				thick := g.Width
				if plastic.Wall > 0 {
					thick = min(thick, plastic.Wall)
				}
				m := boxShare * plastic.Density * g.Area * thick
				seen += plastic.Density * g.Area * g.Width
				free := (1 - min(g.Across/p.W, 0.9)) * (1 - min(g.Down/p.H, 0.9))
				tx, ty := min(int(g.X/p.W*tilesAcross), tilesAcross-1), min(int(g.Y/p.H*tilesAcross), tilesAcross-1)
				out.Grains = append(out.Grains, Weighed{Width: g.Width, Mass: m / free, Tile: out.Tiles + max(ty, 0)*tilesAcross + max(tx, 0),
					Flat: plastic.Wall > 0 && g.Width >= 2*plastic.Wall, Of: Place{si, pi, gi}})
			}
			out.Tiles += tilesAcross * tilesAcross
		}
		if s.Mass > 0 && seen > 0 {
			weighed += s.Mass
			box += seen
		}
		out.scale(first, s)
	}
	if len(out.Grains) == 0 {
		return Heap{}, refuse(NoGrains, 0, 1, "")
	}
	for _, g := range out.Grains {
		out.Mass += g.Mass
	}
	if box > 0 {
		out.Thickness = weighed / box
	}
	return out, nil
}

// scale makes the masses of one sample add up to what they stand for.
func (h *Heap) scale(first int, s Sample) {
	to := s.Of
	if to == 0 {
		to = s.Mass
	}
	all := 0.0
	for _, g := range h.Grains[first:] {
		all += g.Mass
	}
	if to == 0 || all == 0 {
		return
	}
	for i := range h.Grains[first:] {
		h.Grains[first+i].Mass *= to / all
	}
}

// Effective returns how many grains of equal mass would tell as much [1].
//
//	masses  of the grains [kg]
//
// Equation: n = (Σ m)²/Σ m².
// Holds for: masses that do not depend on one another.
// Source: Kish1965, the effective size of a weighted sample.
// Errors: none; 0 without masses.
// Checks: Effective rows of checks.csv (3 identity).
func Effective(masses []float64) float64 {
	sum, squares := 0.0, 0.0
	for _, m := range masses {
		sum += m
		squares += m * m
	}
	if squares == 0 {
		return 0
	}
	return sum * sum / squares
}

// largestShare is the share of the mass in one grain.
func (h Heap) largestShare() float64 {
	most := 0.0
	for _, g := range h.Grains {
		most = math.Max(most, g.Mass)
	}
	return most / h.Mass
}
