package plan

import (
	"math"

	"hopperful/estimate"
	"hopperful/process/heat"
	"hopperful/shop"
	"hopperful/source"
)

// What is taken of a pot that its owner did not describe closely. Judgement.
const (
	wallShape    = 1.15 // outside over inside width
	wallExcess   = 15.0 // K over the room, where heat loss is worked out
	wallSpread   = 1.15 // factor of a heat capacity from a stated mass
	lossSpread   = 1.6  // factor of the loss: a motor's fan, a bench in a corner
	paintedGives = 0.9  // emissivity of painted or dark walls
	brightGives  = 0.2  // of bright metal
)

// believeWall puts what is known of pot, plate and lid into the beliefs: the
// heat they hold, and the heat they give to the room.
func believeWall(b *estimate.Beliefs, m shop.Mill) error {
	if m.WallMass != nil {
		c, err := heat.WallCapacity(heat.Part{Mass: *m.WallMass, SpecificHeat: metalHeat(m.WallMetal)})
		if err != nil {
			return err
		}
		around(&b[estimate.WallCapacity], c, wallSpread, source.Ref{Key: "own derivation", Place: "plan.from_wall_mass"})
	}
	width := wallShape * chamberWidth(chamberOf(m))
	low, high := brightGives, paintedGives
	switch m.Painted {
	case shop.Yes:
		low = paintedGives
	case shop.No:
		high = brightGives
	}
	var loss [2]float64
	for i, emissivity := range []float64{low, high} {
		var err error
		loss[i], err = heat.LossConductance(heat.Vessel{Diameter: width, Height: width, Emissivity: emissivity}, reference+wallExcess, reference)
		if err != nil {
			return err
		}
	}
	middle := math.Sqrt(loss[0] * loss[1])
	around(&b[estimate.WallLoss], middle, lossSpread*math.Sqrt(loss[1]/loss[0]),
		source.Ref{Key: "ChurchillChu1975", Place: "plan.from_convection"})
	return nil
}

// around states a belief by its median and the factor to either end.
func around(b *estimate.Belief, median, factor float64, ref source.Ref) {
	b.Median, b.Low, b.High, b.Source = median, median/factor, median*factor, ref
}

// metalHeat is the specific heat of a wall of this metal, of steel when nobody
// said [J/(kg K)].
func metalHeat(metal string) float64 {
	if metal == shop.Steel || metal == shop.OtherMetal {
		metal = "carbon steel"
	}
	for _, m := range heat.Metals {
		if m.Name == metal {
			return m.SpecificHeat
		}
	}
	return heat.Metals[0].SpecificHeat
}
