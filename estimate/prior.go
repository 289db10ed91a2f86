package estimate

import (
	"hopperful/process/heat"
	"hopperful/quantity"
	"hopperful/source"
)

// book is a line of the table of priors.
type book struct {
	param             Param
	key, name         string
	kind              quantity.Kind
	family            Family
	median, low, high float64
	place             string // code of why this range; the source is judgement throughout
}

// PowerSpread is the factor to the 10 and 90 % ends of the power scale's prior.
const PowerSpread = 1.4

// books are the ranges a mill starts with before its own runs have spoken. No
// published value was found for small impact mills on thermoplastic prints, so
// every line is judgement: wide, open to the user, and the first thing the
// shop's records narrow down. What depends on the machine as described (hole,
// wall, power …) replaces its line in [Prior].
var books = []book{
	{BreakRate, "break_rate", "mill.break_rate", quantity.RatePerEnergy, LogNormal, 1e-4, 0.5e-4, 2.5e-4, "mill.break_rate_why"},
	{Toughness, "toughness", "mill.toughness", quantity.Number, LogNormal, 1.6, 0.8, 3.5, "mill.toughness_why"},
	{SizeExponent, "size_exponent", "mill.size_exponent", quantity.Number, LogNormal, 1.1, 0.8, 1.4, "mill.size_exponent_why"},
	{FineShare, "fine_share", "mill.fine_share", quantity.Share, Logit, 0.2, 0.1, 0.35, "mill.fine_share_why"},
	{FineSlope, "fine_slope", "mill.fine_slope", quantity.Number, LogNormal, 0.9, 0.7, 1.1, "mill.fine_slope_why"},
	{CoarseSlope, "coarse_slope", "mill.coarse_slope", quantity.Number, LogNormal, 3.5, 2.7, 4.3, "mill.coarse_slope_why"},
	{RotorReach, "rotor_reach", "mill.rotor_reach", quantity.Length, LogNormal, 0.035, 0.02, 0.06, "mill.rotor_reach_why"},
	{RotorSharpness, "rotor_sharpness", "mill.rotor_sharpness", quantity.Number, LogNormal, 3, 2, 4, "mill.rotor_sharpness_why"},
	{Discharge, "discharge", "mill.discharge", quantity.Rate, LogNormal, 3, 1.2, 7.5, "mill.discharge_why"},
	{Hole, "hole", "mill.hole", quantity.Length, LogNormal, 0.003, 0.002, 0.005, "mill.hole_why"},
	{OpenShare, "open_share", "mill.open_share", quantity.Share, Logit, 0.2, 0.1, 0.35, "mill.open_share_why"},
	{HoldMass, "hold_mass", "mill.hold_mass", quantity.Mass, LogNormal, 0.05, 0.02, 0.11, "mill.hold_mass_why"},
	{PowerScale, "power_scale", "mill.power_scale", quantity.Number, LogNormal, 1, 1 / PowerSpread, PowerSpread, "mill.power_scale_why"},
	{IdleShare, "idle_share", "mill.idle_share", quantity.Share, Logit, 0.55, 0.4, 0.7, "mill.idle_share_why"},
	{HeatShare, "heat_share", "mill.heat_share", quantity.Share, Logit, 0.75, 0.55, 0.88, "mill.heat_share_why"},
	{Film, "film", "mill.film", quantity.HeatTransfer, LogNormal, heat.Tumbling, heat.TumblingLow, heat.TumblingHigh, "mill.film_why"},
	{WallCapacity, "wall_capacity", "mill.wall_capacity", quantity.HeatCapacity, LogNormal, 1500, 700, 3000, "mill.wall_capacity_why"},
	{WallLoss, "wall_loss", "mill.wall_loss", quantity.Conductance, LogNormal, 0.6, 0.3, 1.2, "mill.wall_loss_why"},
	{LidFactor, "lid_factor", "mill.lid_factor", quantity.Number, LogNormal, 1.6, 1.2, 2.2, "mill.lid_factor_why"},
	{SolidDensity, "solid_density", "mill.solid_density", quantity.Density, Normal, 1200, 1050, 1280, "mill.solid_density_why"},
	{SpecificHeat, "specific_heat", "mill.specific_heat", quantity.SpecificHeat, LogNormal, 1500, 1200, 1900, "mill.specific_heat_why"},
	{Softening, "softening", "mill.softening", quantity.Temperature, Normal, 331.15, 328.15, 333.15, "mill.softening_why"},
	{ScrapPacking, "scrap_packing", "mill.scrap_packing", quantity.Share, Logit, 0.26, 0.19, 0.35, "mill.scrap_packing_why"},
	{GrainBulk, "grain_bulk", "mill.grain_bulk", quantity.Density, LogNormal, 480, 380, 600, "mill.grain_bulk_why"},
	{PieceShare, "piece_share", "mill.piece_share", quantity.Share, Logit, 0.45, 0.25, 0.7, "mill.piece_share_why"},
	{Dust, "dust", "mill.dust", quantity.Share, Logit, 0.012, 0.004, 0.035, "mill.dust_why"},
	{StallShift, "stall_shift", "mill.stall_shift", quantity.Number, Normal, 0, -1, 1, "mill.stall_shift_why"},
	{Purge, "purge", "mill.purge", quantity.Share, Logit, 0.04, 0.015, 0.09, "mill.purge_why"},
	{StartUp, "start_up", "mill.start_up", quantity.Share, Logit, 0.02, 0.01, 0.04, "mill.start_up_why"},
	{Handling, "handling", "mill.handling", quantity.Share, Logit, 0.015, 0.005, 0.04, "mill.handling_why"},
	{PrintScale, "print_scale", "mill.print_scale", quantity.Number, LogNormal, 1, 0.98, 1.03, "mill.print_scale_why"},
	{Hindrance, "hindrance", "mill.hindrance", quantity.Number, LogNormal, 4, 3, 5.3, "mill.hindrance_why"},
	{Noise, "noise", "mill.noise", quantity.SoundLevel, Normal, 95, 90, 100, "mill.noise_why"},
}

// Prior returns the beliefs about a mill of which nothing is known, from
// judgement throughout. Callers replace what the owner, a data sheet or the
// shop's records say better.
func Prior() Beliefs {
	var all Beliefs
	for _, b := range books {
		all[b.param] = Belief{
			Key: b.key, Name: b.name, Kind: b.kind, Family: b.family,
			Median: b.median, Low: b.low, High: b.high,
			Source: source.Ref{Key: "judgement", Place: b.place},
		}
	}
	return all
}

// Known replaces the belief about a parameter by a value somebody knows, with
// a spread given as a share of it either way (0: exact).
func (b *Beliefs) Known(p Param, value, spread float64, ref source.Ref) {
	one := &b[p]
	one.Median, one.Low, one.High = value, value*(1-spread), value*(1+spread)
	one.Source, one.FromUser = ref, true
	if spread == 0 {
		one.Family = Exact
	}
}
