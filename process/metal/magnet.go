package metal

// Which metals a magnet catches, and what stays in.

import "hopperful/process"

// Kind is a metal as a magnet sees it.
type Kind struct {
	Name    string  // in words
	Density float64 // [kg/m³], from memory
	Catch   float64 // share a strong magnet close to a thin layer catches [–]
	Low     float64 // one in ten is below [–]
	High    float64 // one in ten is above [–]
	Source  string  // whose word it is that it is caught or not
	Note    string  // where it comes from in a workshop
}

// The metals. That a magnet catches them or not is published, the shares are
// judgement.
var (
	Ferritic   = Kind{"hardened or mild steel, iron, nickel", 7850, 0.97, 0.90, 0.99, "Bunting2016", "blades, screens of plain steel, hardened nozzles, screws"}
	ColdWorked = Kind{"austenitic stainless steel, cold-worked", 7900, 0.30, 0.10, 0.60, "Bunting2016", "chips torn from stainless screens; weakly, by strong rare-earth magnets"}
	Austenitic = Kind{"austenitic stainless steel, annealed", 7900, 0.02, 0, 0.10, "Bunting2016", "stainless screws and sheet"}
	Brass      = Kind{"brass, copper", 8500, 0, 0, 0, "Bunting2016", "nozzles, threaded inserts, wire; never caught"}
	Aluminium  = Kind{"aluminium", 2700, 0, 0, 0, "Bunting2016", "extrusions, foil; never caught"}
)

// Kinds returns all metals, best caught first.
func Kinds() []Kind { return []Kind{Ferritic, ColdWorked, Austenitic, Brass, Aluminium} }

// Part is one metal among what is in the plastic.
type Part struct {
	Kind  Kind
	Share float64 // of the metal by mass [–], 0 to 1; the shares of all parts together 1
}

// checkParts bounds a mix of metals.
func checkParts(parts []Part) error {
	if err := process.Within("number of metals", float64(len(parts)), 1, 50, "", judged); err != nil {
		return err
	}
	total := 0.0
	for _, p := range parts {
		if err := process.Within("share of "+p.Kind.Name, p.Share, 0, 1, "", derived); err != nil {
			return err
		}
		if err := process.Within("density of "+p.Kind.Name, p.Kind.Density, 1000, 25000, "kg/m³", judged); err != nil {
			return err
		}
		for _, c := range [...]float64{p.Kind.Catch, p.Kind.Low, p.Kind.High} {
			if err := process.Within("share of "+p.Kind.Name+" that is caught", c, 0, 1, "", derived); err != nil {
				return err
			}
		}
		total += p.Share
	}
	return process.Within("sum of the shares of all metals", total, 1-1e-6, 1+1e-6, "", derived)
}

// Staying is the share of the metal that a magnet leaves in.
type Staying struct {
	Share float64 // [–]
	Low   float64 // with every catch at its high end [–]
	High  float64 // with every catch at its low end [–]
	Never float64 // of metals that a magnet never catches [–]
}

// StaysIn returns the share of the metal that stays in the plastic after magnets.
//
//	parts   the metals, see their fields
//	passes  how often the plastic goes past a magnet, 0 to 20
//
// Equation: Σ s_i (1 − c_i)^n.
// Holds for: passes that catch independently, so repeated passes read too good: a chip buried in plastic is missed every time.
// Source: own derivation.
// Errors: RangeError for shares that do not add up to 1, or fields out of range.
// Checks: StaysIn rows of checks.csv (own derivation).
func StaysIn(parts []Part, passes int) (Staying, error) {
	if err := checkParts(parts); err != nil {
		return Staying{}, err
	}
	if err := process.Within("passes by a magnet", float64(passes), 0, 20, "", judged); err != nil {
		return Staying{}, err
	}
	var s Staying
	for _, p := range parts {
		mid, low, high := p.Share, p.Share, p.Share
		for range passes {
			mid *= 1 - p.Kind.Catch
			low *= 1 - p.Kind.High
			high *= 1 - p.Kind.Low
		}
		s.Share += mid
		s.Low += low
		s.High += high
		if p.Kind.High == 0 {
			s.Never += p.Share
		}
	}
	return s, nil
}
