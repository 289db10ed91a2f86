package plan

import (
	"hopperful/estimate"
	"hopperful/shop"
)

// usualWallMass is the pot the prior of the wall was judged for [kg].
const usualWallMass = 3.0

// believeWall puts what is known of pot, plate and lid into the beliefs.
func believeWall(b *estimate.Beliefs, m shop.Mill) error {
	if m.WallMass != nil {
		one := &b[estimate.WallCapacity]
		one.Median = *m.WallMass * 500
		one.Low, one.High = one.Median*0.85, one.Median*1.15
	}
	return nil
}
