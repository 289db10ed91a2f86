package identify

import (
	"fmt"
	"sort"
	"strings"
	"sync"

	"gonum.org/v1/gonum/interp"

	"hopperful/polymer"
	"hopperful/process"
)

// Liquid is something a chip floats or sinks in.
type Liquid string

// The liquids. Strength is always the mass share of what is in the water.
const (
	Water    Liquid = "water"
	Brine    Liquid = "brine"            // table salt in water
	Ethanol  Liquid = "ethanol"          // ethanol in water
	Propanol Liquid = "2-propanol"       // 2-propanol (isopropyl alcohol) in water
	Chloride Liquid = "calcium-chloride" // calcium chloride, weighed dry, in water
	Sugar    Liquid = "sugar"            // table sugar in water
)

// Liquids returns every liquid, lightest first.
func Liquids() []Liquid { return []Liquid{Propanol, Ethanol, Water, Brine, Sugar, Chloride} }

// FindLiquid looks a liquid up by name.
func FindLiquid(name string) (Liquid, error) {
	var names []string
	for _, l := range Liquids() {
		if strings.EqualFold(strings.TrimSpace(name), string(l)) {
			return l, nil
		}
		names = append(names, string(l))
	}
	return "", fmt.Errorf("there is no liquid %q; there are %s", clip(name), strings.Join(names, ", "))
}

// clip bounds what a message repeats.
func clip(text string) string {
	if len(text) > 40 {
		return strings.ToValidUTF8(text[:40], "") + "…"
	}
	return text
}

// solution is one liquid's published densities at one temperature.
type solution struct {
	at              float64 // temperature of the points [K]
	strong, dense   []float64
	slopeAt, slopes []float64 // kg/(m³ K), fall of the density as it warms
	curve           interp.NotAKnotCubic
	fall            interp.PiecewiseLinear
	keys            []string // whose numbers these are
}

// solutions reads the two tables once; they are part of the program and held by
// tests.
var solutions = sync.OnceValue(func() map[Liquid]*solution {
	all, err := readSolutions()
	if err != nil {
		panic("identify: the embedded tables of liquids do not load: " + err.Error())
	}
	return all
})

func readSolutions() (map[Liquid]*solution, error) {
	all := map[Liquid]*solution{}
	of := func(name string) *solution {
		if all[Liquid(name)] == nil {
			all[Liquid(name)] = &solution{}
		}
		return all[Liquid(name)]
	}
	err := table("points.csv", "liquid,strength,density,at,source,place,mark", func(f []string) error {
		s := of(f[0])
		at, err := between("at", f[3], 0, 40)
		if err != nil {
			return err
		}
		s.at = zero + at
		s.cite(f[4])
		return fill(&s.strong, &s.dense, f[1], f[2], [2]float64{700, 1500}, f[4], f[6])
	})
	if err != nil {
		return nil, err
	}
	err = table("slopes.csv", "liquid,strength,slope,source,place,mark", func(f []string) error {
		s := of(f[0])
		s.cite(f[3])
		return fill(&s.slopeAt, &s.slopes, f[1], f[2], [2]float64{0.1, 1.5}, f[3], f[5])
	})
	if err != nil {
		return nil, err
	}
	for name, s := range all {
		if err := s.curve.Fit(s.strong, s.dense); err != nil {
			return nil, fmt.Errorf("points of %s: %w", name, err)
		}
		if err := s.fall.Fit(s.slopeAt, s.slopes); err != nil {
			return nil, fmt.Errorf("slopes of %s: %w", name, err)
		}
	}
	return all, nil
}

// fill appends one point of a table, strengths rising.
func fill(x, y *[]float64, strength, value string, band [2]float64, key, mark string) error {
	w, err := between("strength", strength, 0, 100)
	if err != nil {
		return err
	}
	v, err := between("value", value, band[0], band[1])
	if err != nil {
		return err
	}
	if n := len(*x); n > 0 && w/100 <= (*x)[n-1] {
		return fmt.Errorf("the strengths of a liquid must rise")
	}
	*x, *y = append(*x, w/100), append(*y, v)
	return polymer.Mark(mark).Fit(key)
}

func (s *solution) cite(key string) {
	if i := sort.SearchStrings(s.keys, key); i == len(s.keys) || s.keys[i] != key {
		s.keys = append(s.keys, key)
		sort.Strings(s.keys)
	}
}

// Sources returns the keys whose numbers stand behind the liquid's density.
func (l Liquid) Sources() []string {
	switch s := solutions()[l]; {
	case l == Ethanol:
		return []string{"OIML1973"}
	case s != nil:
		return append([]string(nil), s.keys...)
	}
	return []string{"Tanaka2001"}
}

// Span returns the weakest and the strongest the liquid is known for [1].
func (l Liquid) Span() (weakest, strongest float64) {
	switch s := solutions()[l]; {
	case l == Ethanol:
		return 0, 1
	case s != nil:
		return s.strong[0], s.strong[len(s.strong)-1]
	}
	return 0, 0
}

// Density returns how dense a liquid is [kg/m³].
//
//	l  one of [Liquids]
//	w  strength, mass share of what is in the water [1], within the liquid's Span; 0 for water
//	T  temperature [K], 283.15 to 308.15
//
// Equation: ρ = ρ_water(T) + ρ(w, T_ref) − ρ_water(T_ref) − (s(w) − s(0)) (T − T_ref); ethanol by its own formula.
// Holds for: pure substances. Between the points of a table a cubic spline, which
// adds less than 0.5 kg/m³; away from the table's temperature a straight slope,
// good to about 1 kg/m³ over 10 K for brine, 2 kg/m³ for the others.
// Source: Tanaka2001, OIML1973, Wnt1974, Chu1962, Toolbox2017, Kfc2026; some slopes from memory
// Errors: RangeError for a strength or temperature outside; an error for no liquid.
// Checks: Density rows of checks.csv.
func Density(l Liquid, w, T float64) (float64, error) {
	if err := process.Within("liquid temperature", T, coldest, warmest, "K", "judgement"); err != nil {
		return 0, err
	}
	if _, err := FindLiquid(string(l)); err != nil {
		return 0, err
	}
	lo, hi := l.Span()
	if err := process.Within("strength of "+string(l), w, lo, hi, "", l.Sources()[0]); err != nil {
		return 0, err
	}
	if l == Ethanol {
		return EthanolDensity(w, T)
	}
	water, err := WaterDensity(T)
	if err != nil || l == Water {
		return water, err
	}
	s := solutions()[l]
	reference, err := WaterDensity(s.at)
	if err != nil {
		return 0, err
	}
	pure := waterSlope(s.at)
	return water + s.curve.Predict(w) - reference - (s.fall.Predict(w)-pure)*(T-s.at), nil
}

// waterSlope is how fast water gets lighter as it warms [kg/(m³ K)], by a
// difference small enough for the six digits of its formula.
func waterSlope(T float64) float64 {
	below, _ := WaterDensity(T - 0.01) // both lie inside the formula's range
	above, _ := WaterDensity(T + 0.01)
	return (below - above) / 0.02
}
