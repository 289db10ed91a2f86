package heat

// Setting up a pot from its drawing: loss to the room, heat capacity of the
// metal, exchange between charge and wall.

import (
	"math"

	"hopperful/process"
)

// Vessel is a round pot that stands, loses heat from side and lid, and loses
// none through the bottom it stands on.
type Vessel struct {
	Diameter   float64 // outside [m], 0.01 to 2
	Height     float64 // outside [m], 0.01 to 2
	Emissivity float64 // of side and lid [–], 0 to 1: painted 0.9, bright metal 0.2 (judgement)
}

// LossConductance returns UA of a pot in still air [W/K].
//
//	v        the pot, see its fields
//	surface  temperature of the wall [K], 233.15 to 673.15
//	room     temperature of the room [K], 233.15 to 673.15
//
// Equation: UA = (h_side + h_r) π D L + (h_lid + h_r) π D²/4; h by NusseltPlate and NusseltLid, h_r by RadiationCoefficient.
// Holds for: a pot without fan or insulation; a motor's fan that blows on it multiplies UA by 2 to 4 (judgement). Rules: painted about 10 W/m²K in all, bright about 6.
// Source: ChurchillChu1975 for the side; from memory for the lid.
// Errors: RangeError for an argument or a field out of range.
// Checks: LossConductance rows of checks.csv (2 second library).
func LossConductance(v Vessel, surface, room float64) (float64, error) {
	if err := process.Within("pot diameter", v.Diameter, 0.01, 2, "m", "judgement"); err != nil {
		return 0, err
	}
	if err := process.Within("pot height", v.Height, 0.01, 2, "m", "judgement"); err != nil {
		return 0, err
	}
	radiation, err := RadiationCoefficient(surface, room, v.Emissivity)
	if err != nil {
		return 0, err
	}
	side, err := film(surface, room, v.Height, NusseltPlate)
	if err != nil {
		return 0, err
	}
	lid, err := film(surface, room, v.Diameter/4, func(ra, _ float64) (float64, error) { return NusseltLid(ra) })
	if err != nil {
		return 0, err
	}
	area := math.Pi * v.Diameter * v.Height
	return (side+radiation)*area + (lid+radiation)*math.Pi*v.Diameter*v.Diameter/4, nil
}

// film is the convection coefficient of a surface by one correlation [W/(m² K)].
func film(surface, room, length float64, nusselt func(ra, pr float64) (float64, error)) (float64, error) {
	ra, err := Rayleigh(surface, room, length)
	if err != nil {
		return 0, err
	}
	air, err := Air((surface + room) / 2)
	if err != nil {
		return 0, err
	}
	nu, err := nusselt(ra, air.Prandtl)
	return nu * air.Conductivity / length, err
}

// Metal is what a part of a mill is made of.
type Metal struct {
	Name         string
	SpecificHeat float64 // near room temperature [J/(kg K)]
	Density      float64 // [kg/m³]
}

// Metals are the usual ones, plastics of housings among them; values near room
// temperature, from memory, rounded to what a mill needs.
var Metals = []Metal{
	{"carbon steel", 470, 7850},
	{"stainless steel", 500, 7900},
	{"cast iron", 460, 7200},
	{"aluminium", 900, 2700},
	{"brass", 380, 8500},
	{"copper", 385, 8960},
	{"polycarbonate", 1200, 1200},
}

// Part is one part of a mill that warms with its wall.
type Part struct {
	Mass         float64 // [kg], 0 to 1000
	SpecificHeat float64 // [J/(kg K)], 100 to 5000
}

// WallCapacity returns the heat capacity of the parts that warm with the wall [J/K].
//
//	parts  pot, plate, lid, blade; see their fields
//
// Equation: C_w = Σ m c.
// Holds for: parts in good contact; a housing of plastic counts for its inner third (judgement).
// Source: own derivation.
// Errors: RangeError for a mass or specific heat out of range.
// Checks: WallCapacity row of checks.csv (1 own derivation).
func WallCapacity(parts ...Part) (float64, error) {
	var total float64
	for _, p := range parts {
		if err := process.Within("mass of a part", p.Mass, 0, 1000, "kg", "judgement"); err != nil {
			return 0, err
		}
		if err := process.Within("specific heat of a part", p.SpecificHeat, 100, 5000, "J/(kg K)", "judgement"); err != nil {
			return 0, err
		}
		total += p.Mass * p.SpecificHeat
	}
	return total, nil
}

// Tumbling is the heat-transfer coefficient between a tumbling charge and the
// wall [W/(m² K)], at 10 to 90 %: stirred and fluidised beds of millimetre
// grains, from memory, until temperatures are recorded.
const (
	Tumbling     = 150.0
	TumblingLow  = 60.0
	TumblingHigh = 350.0
)
