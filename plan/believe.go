package plan

import (
	"math"

	"hopperful/estimate"
	"hopperful/polymer"
	"hopperful/shop"
	"hopperful/source"
)

// entered is the source of what the owner typed: nobody but the owner.
var entered = source.Ref{}

// believe gathers what is believed about a mill grinding a polymer: the priors,
// what the owner said of the machine, and the material's book values.
func believe(m shop.Mill, p polymer.Polymer, need shop.Need) (estimate.Beliefs, error) {
	b := estimate.Prior()
	if err := learnMaterial(&b, p); err != nil {
		return b, err
	}
	if m.Screen.Hole != nil {
		b.Known(estimate.Hole, *m.Screen.Hole, 0, entered)
	}
	if m.Screen.OpenShare != nil {
		b.Known(estimate.OpenShare, *m.Screen.OpenShare, 0, entered)
	}
	if m.Noise != nil {
		one := &b[estimate.Noise]
		one.Median, one.Low, one.High = *m.Noise, *m.Noise-noiseSpread, *m.Noise+noiseSpread
		one.FromUser, one.Source = true, entered
	}
	if m.RotorDiameter != nil {
		scale(&b[estimate.RotorReach], *m.RotorDiameter/usualRotor)
	}
	if m.Chamber != nil {
		scale(&b[estimate.HoldMass], *m.Chamber/usualChamber)
	}
	if err := believeWall(&b, m); err != nil {
		return b, err
	}
	if need.VolumeLo != nil && need.VolumeHi != nil && need.Volume != nil && *need.Volume > 0 {
		one := &b[estimate.PrintScale]
		one.Low = math.Min(one.Low, *need.VolumeLo / *need.Volume)
		one.High = math.Max(one.High, *need.VolumeHi / *need.Volume)
	}
	if need.Mass != nil {
		b.Known(estimate.PrintScale, 1, 0, entered)
	}
	return b, nil
}

// The machine the priors of package estimate were judged for.
const (
	usualRotor   = 0.14  // m, tip to tip
	usualChamber = 0.001 // m³
	noiseSpread  = 2     // dB, of a reading with a phone or simple meter
)

// scale multiplies a belief and its range.
func scale(b *estimate.Belief, factor float64) {
	b.Median *= factor
	b.Low *= factor
	b.High *= factor
}

// chamberOf is the mill's chamber volume, or the usual one when not known.
func chamberOf(m shop.Mill) float64 {
	if m.Chamber != nil {
		return *m.Chamber
	}
	return usualChamber
}

// wallArea is the inner face a charge touches: floor and side of a cylinder as
// tall as it is wide.
func wallArea(chamber float64) float64 {
	d := chamberWidth(chamber)
	return math.Pi*d*d + math.Pi*d*d/4
}
