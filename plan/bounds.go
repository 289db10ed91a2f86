package plan

import (
	"math"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/process/breakage"
	"hopperful/process/heat"
)

// bounds are the limits a campaign is held against. The plan says which one
// binds by asking how much shorter the campaign gets when it is eased.
type bounds struct {
	margin     float64 // charge stays this far below softening [K]
	touch      float64 // the outer wall stays below this [K]
	fill       float64 // loose volume of a charge over the chamber [1]
	jar        float64 // volume of the container at the outlet [m³]; +Inf: not known
	jarShare   float64 // of it that may be used [1]
	controller float64 // continuous rating [W]; +Inf: none, or not known
	motor      float64 // continuous rating [W]; +Inf: not known
	load       float64 // share of a continuous rating that may be used [1]
	stall      float64 // chance of a stall in a run [1]
	noise      float64 // daily exposure behind hearing protection [dB(A)]
}

// The usual bounds and where they come from.
var usual = bounds{
	margin:   10,                   // judgement: the hottest grain is hotter than the mean of the charge
	touch:    273.15 + 55,          // bare metal touched for ten seconds, ISO 13732-1, from memory
	fill:     1.0 / 3,              // common practice: a quarter to a third, loose
	jarShare: 0.9,                  // judgement: room to lift it out without spilling
	load:     heat.ContinuousShare, // common practice: at or below 80 % of the weakest continuous rating
	stall:    0.02,                 // judgement
	noise:    85,                   // 2003/10/EC upper action value, here behind the protector
}

// protection is what hearing protection is assumed to take off at the ear [dB].
// Judgement: half of what labels promise.
const protection = 15.0

// cellLimits are the limits that depend on level and charge mass alone; each is
// the share of draws that keep it, stall the mean chance over the draws.
type cellLimits struct {
	fill, controller, stall float64
	borne                   float64 // chance of a stall that is borne
}

// holds reports whether all are kept.
func (c cellLimits) holds() bool { return c.broken() == 0 }

// broken is which are not.
func (c cellLimits) broken() (all limits) {
	all.add(limitOfFill, !(c.fill >= answer.SureShare))
	all.add(limitOfController, !(c.controller >= answer.SureShare))
	all.add(limitOfStall, !(c.stall <= c.borne))
	return all
}

// check works the limits of a level and a charge mass out over the first n draws.
func (b *bench) check(d draw, mass float64, n int) cellLimits {
	var c cellLimits
	most := b.fillFor(mass)
	for _, row := range b.rows[:n] {
		fill := b.fillOf(row, mass, 0)
		if fill <= most {
			c.fill++
		}
		if math.IsInf(b.bounds.controller, 1) || estimate.Electric(row, d.Load) <= b.bounds.load*b.bounds.controller {
			c.controller++
		}
		c.stall += b.stallChance(row, d, fill)
	}
	all := float64(n)
	c.fill /= all
	c.controller /= all
	c.stall /= all
	c.borne = b.stallFor(d, mass)
	return c
}

// seldom is the chance of a stall that is borne of a charge no heavier a load than this
// plastic was ground at time and again: who did that goes on so, and one stall in many
// such runs forbids no campaign. Judgement.
const seldom = 0.05

// stallFor is the chance of a stall that is borne of a charge.
func (b *bench) stallFor(d draw, mass float64) float64 {
	if p := &b.practice; p.press(mass, d.Level) <= 1.001*p.oftenPress(b.plastic) {
		return seldom
	}
	return b.bounds.stall
}

// volume is the chamber's [m³].
func (b *bench) volume() float64 { return math.Max(chamberOf(b.mill), b.chamber) }

// usualFill is the share of a chamber that a usual charge fills, loose. Common
// practice, no source: a quarter to a third.
const usualFill = 0.25

// tellChamber takes an unknown chamber for one that the largest charge on record
// fills as far as usual.
func (b *bench) tellChamber(row []float64) {
	if b.mill.Chamber != nil {
		return
	}
	for _, d := range b.practice.deeds {
		b.chamber = math.Max(b.chamber, d.charge/(row[estimate.SolidDensity]*row[estimate.ScrapPacking]*usualFill))
	}
}

// seenToFit is how much further than the usual limit the draws may think a charge
// fills the chamber that is no larger than one that was run without a stall: who
// filled it saw that it fits, and how loosely scrap lies is known badly. Judgement.
const seenToFit = 1.4

// fillFor is how far a charge may fill the chamber.
func (b *bench) fillFor(mass float64) float64 {
	for _, d := range b.practice.deeds {
		if mass <= d.charge*1.001 {
			return seenToFit * b.bounds.fill
		}
	}
	return b.bounds.fill
}

// fillOf is the loose volume of a charge, and of what earlier ones left behind,
// over the chamber's.
func (b *bench) fillOf(row []float64, mass, residue float64) float64 {
	charge, err := breakage.FillShare(mass, row[estimate.SolidDensity]*row[estimate.ScrapPacking], b.volume())
	lies, worse := breakage.FillShare(residue, row[estimate.GrainBulk], b.volume())
	if err != nil || worse != nil {
		return math.Inf(1) // no such charge: it fits nowhere
	}
	return charge + lies
}

// stallChance is the chance that a run on such a charge stalls.
func (b *bench) stallChance(row []float64, d draw, fill float64) float64 {
	s := breakage.DefaultStall
	s.Base += estimate.StallSpread * row[estimate.StallShift]
	p, err := breakage.StallChance(s, math.Min(fill, 2), b.energyRatio(), voltageShare(b.mill, d))
	if err != nil {
		return 1 // out of the range anyone has judged: as good as certain
	}
	return p
}

// energyRatio is the energy to break the thickest section of the scrap over the
// energy of the turning rotor.
func (b *bench) energyRatio() float64 {
	area := b.thickness * math.Min(b.largest, 10*b.thickness)
	ratio := b.impact * area / b.rotorEnergy()
	return math.Min(math.Max(ratio, 1e-9), 1e6)
}

// rotorEnergy is ½Iω² of the rotor taken as a disc; what the owner does not know
// is filled in with an ordinary bench mill's.
func (b *bench) rotorEnergy() float64 {
	mass, diameter, speed := 0.3, usualRotor, 2094.0 // 20 000 rpm
	if b.mill.RotorMass != nil {
		mass = *b.mill.RotorMass
	}
	if b.mill.RotorDiameter != nil {
		diameter = *b.mill.RotorDiameter
	}
	if b.mill.RotorSpeed != nil {
		speed = *b.mill.RotorSpeed
	}
	inertia, err := breakage.DiscInertia(mass, diameter/2)
	if err != nil {
		return 0 // nothing to break with: a stall is as good as certain
	}
	energy, err := breakage.RotorEnergy(inertia, speed)
	if err != nil {
		return 0 // nothing to break with: a stall is as good as certain
	}
	return energy
}
