package consumption

// Whether a mesh has the size of a thing one prints; STL names no unit.

import (
	"slices"

	"hopperful/fact"
	"hopperful/process/mesh"
	"hopperful/quantity"
	"hopperful/shop"
)

// Sizes a part is asked about beyond: no printer of a small workshop is larger, and
// nothing smaller is printed from granulate. Judgement.
const (
	longestPart  = 2.0    // [m]
	largestPart  = 0.1    // [m³]
	shortestPart = 0.5e-3 // [m], the longest edge
	mostCopies   = 10_000
)

// Units are the words for the unit of an STL file.
var Units = map[string]float64{"mm": 1e-3, "cm": 1e-2, "m": 1, "inch": 0.0254}

// askSize asks for the unit where a part read without one has no likely size, and
// warns where the file or the caller named it.
func askSize(name string, f *Found, s mesh.Solid, how Reading) error {
	size := s.Size()
	longest := slices.Max(size[:])
	if longest <= longestPart && s.Volume <= largestPart && longest >= shortestPart {
		return nil
	}
	box := fact.Name("box", edges(size))
	volume := fact.Measured("volume", quantity.Volume, s.Volume)
	assumed := slices.ContainsFunc(s.Warnings, func(w mesh.Warning) bool { return w.Caution == mesh.UnitAssumed })
	if !assumed || how.Mesh.Unit != 0 {
		f.oddSize = true
		return nil
	}
	return shop.Refuse(shop.Invalid, "unit", fact.Say("need.odd_unit", fact.Name("name", name), box, volume), fact.Say("need.say_unit"))
}

// edges writes the three edges of a box.
func edges(size [3]float64) string {
	return quantity.Length.Plain(size[0]) + " × " + quantity.Length.Plain(size[1]) + " × " + quantity.Length.Plain(size[2])
}
