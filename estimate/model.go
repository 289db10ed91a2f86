package estimate

import (
	"math"

	"hopperful/process/breakage"
	"hopperful/process/heat"
)

// The models' inputs for one joint draw of the parameters, a row by [Param].

// Load is what a mill draws from the socket at one setting, before a draw
// scatters it.
type Load struct {
	Watts     float64 // electrical, grinding [W]
	Spread    float64 // factor to its 10 and 90 % ends [1], above 1
	IdleShare float64 // measured share drawn by the empty mill [1]; 0: not measured
	Level     int     // of the controller; 0: none
	Share     float64 // of its scale that the level is [1]; 0: no controller
	Phase     float64 // of the full draw that the phase law gives the level [1]; 0: metered here or beside
}

// Kernel is how the polymer breaks in the mill.
func Kernel(row []float64) breakage.Kernel {
	return breakage.Kernel{
		Rate:          row[BreakRate] / row[Toughness],
		SizeExponent:  row[SizeExponent],
		RotorSize:     row[RotorReach],
		RotorExponent: row[RotorSharpness],
		Phi:           row[FineShare],
		Gamma:         row[FineSlope],
		Beta:          row[CoarseSlope],
	}
}

// mostHindered is the exponent beyond which the screen's law is not held to be one: a
// draw far out in the range is no reason to refuse a mill.
const mostHindered = 10

// Screen is how product leaves.
func Screen(row []float64) breakage.Screen {
	return breakage.Screen{Hole: row[Hole], OpenShare: row[OpenShare], Rate: row[Discharge], Hindrance: math.Min(math.Max(row[Hindrance], 1), mostHindered)}
}

// Power is what reaches the charge.
func Power(row []float64, l Load) breakage.Power {
	electric := Electric(row, l)
	return breakage.Power{Net: electric - Idle(row, l), MinHeld: row[HoldMass]}
}

// Electric is what the mill takes from the socket under load [W].
func Electric(row []float64, l Load) float64 { return l.scaled(scaleAt(row, l.Level)) }

// scaled is the draw at a power scale [W]. The scale is a factor to the ends of
// its prior; the better the draw is known, the closer its own ends lie.
func (l Load) scaled(scale float64) float64 {
	return l.Watts * math.Pow(scale, math.Log(l.Spread)/math.Log(PowerSpread))
}

// Idle is what it takes empty [W].
func Idle(row []float64, l Load) float64 {
	share := row[IdleShare]
	if l.IdleShare > 0 {
		share = l.IdleShare
	}
	return share * Electric(row, l)
}

// Pot is what the mill's heat is like; area is the inner wall that a charge
// touches [m²].
func Pot(row []float64, area float64) heat.Pot {
	return heat.Pot{
		Wall:         row[WallCapacity],
		Exchange:     row[Film] * area,
		Layer:        layer * area,
		Loss:         row[WallLoss],
		ToCharge:     row[HeatShare],
		SpecificHeat: row[SpecificHeat],
	}
}

// layer is what one layer of grains weighs on a wall [kg/m²]: 3 mm grains as they
// lie, 480 kg/m³. Judgement.
const layer = 1.4

// TypicalPiece is the size half of the scrap is finer than [m], for scrap whose
// largest piece and wall thickness are given [m]. It stays between the two.
func TypicalPiece(row []float64, largest, thickness float64) float64 {
	size := largest * row[PieceShare]
	return math.Min(math.Max(size, 1.05*thickness), 0.95*largest)
}

// only are the levels up to this one, of which only this is known.
func (l Load) only() []Load {
	if l.Level < 1 {
		return nil
	}
	all := make([]Load, min(l.Level, mostLevels))
	all[len(all)-1] = l
	return all
}
