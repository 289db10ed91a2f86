package polymer

import (
	"fmt"

	"hopperful/process"
)

// Melting is what warming and melting a kilogram depends on.
type Melting struct {
	From          float64 // start temperature [K], > 0
	To            float64 // end temperature [K], not below From
	Turn          float64 // where solid becomes melt [K]: melting point, or glass transition without crystals; > 0
	SolidHeat     float64 // specific heat below Turn [J/(kg K)], > 0
	MeltHeat      float64 // specific heat above Turn [J/(kg K)], > 0
	Crystallinity float64 // share of crystals [1], 0 to 1
	Fusion        float64 // heat of fusion of a full crystal [J/kg], ≥ 0
}

// HeatToMelt returns the heat that takes a kilogram from one temperature to
// another [J/kg].
//
//	m  see its fields
//
// Equation: h = c_s (min(T, T_turn) − T_0)⁺ + c_m (T − max(T_0, T_turn))⁺ + χ Δh when T_0 < T_turn ≤ T.
// Holds for: constant specific heats on either side; reads a few per cent high
// or low because the true heats rise with temperature, and low by the heat of
// crystals that form on the way up.
// Source: own derivation
// Errors: RangeError for a field outside its range.
// Checks: HeatToMelt rows of checks.csv (2 second library, 1 identity, 3 own derivation, 2 errors).
func HeatToMelt(m Melting) (float64, error) {
	const whose = "own derivation"
	for _, above := range []struct {
		name  string
		value float64
		unit  string
	}{
		{"start temperature", m.From, "K"},
		{"turning temperature", m.Turn, "K"},
		{"heat of solid", m.SolidHeat, "J/(kg K)"},
		{"heat of melt", m.MeltHeat, "J/(kg K)"},
	} {
		if err := process.Above(above.name, above.value, 0, above.unit, whose); err != nil {
			return 0, err
		}
	}
	if err := process.Within("end temperature", m.To, m.From, 1000, "K", whose); err != nil {
		return 0, err
	}
	if err := process.Within("crystallinity", m.Crystallinity, 0, 1, "", whose); err != nil {
		return 0, err
	}
	if err := process.Within("heat of fusion", m.Fusion, 0, 1e6, "J/kg", whose); err != nil {
		return 0, err
	}
	heat := m.SolidHeat*max(0, min(m.To, m.Turn)-m.From) + m.MeltHeat*max(0, m.To-max(m.From, m.Turn))
	if m.From < m.Turn && m.To >= m.Turn {
		heat += m.Crystallinity * m.Fusion
	}
	return heat, nil
}

// Melting collects the default values that [HeatToMelt] needs for the material
// as printed. A material that keeps less than a tenth of crystals turns at its
// glass transition, the others at their melting point.
func (p Polymer) Melting(from, to float64) (Melting, error) {
	m := Melting{From: from, To: to}
	turn := GlassTransition
	if crystals := p.All(Crystallinity); len(crystals) > 0 {
		m.Crystallinity = crystals[0].Value
		fusion, err := p.Value(HeatOfFusion)
		if err != nil {
			return Melting{}, err
		}
		m.Fusion = fusion.Value
		if m.Crystallinity > meltsByCrystals {
			turn = MeltingPoint
		}
	}
	for _, need := range []struct {
		property Property
		into     *float64
	}{{turn, &m.Turn}, {SpecificHeatSolid, &m.SolidHeat}, {SpecificHeatMelt, &m.MeltHeat}} {
		v, err := p.Value(need.property)
		if err != nil {
			return Melting{}, fmt.Errorf("heat to melt: %w", err)
		}
		*need.into = v.Value
	}
	return m, nil
}

// meltsByCrystals is the crystallinity above which the crystals hold a part's
// shape until they melt; judgement, prints of PLA and PET lie at or below it.
const meltsByCrystals = 0.1
