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
	place             string // why this range; the source is judgement throughout
}

// PowerSpread is the factor to the 10 and 90 % ends of the power scale's prior.
const PowerSpread = 1.4

// books are the ranges a mill starts with before its own runs have spoken. No
// published value was found for small impact mills on thermoplastic prints, so
// every line is judgement: wide, open to the user, and the first thing the
// shop's records narrow down. What depends on the machine as described (hole,
// wall, power …) replaces its line in [Prior].
var books = []book{
	{BreakRate, "break_rate", "breakage rate at 10 mm", quantity.RatePerEnergy, LogNormal, 1e-4, 0.5e-4, 2.5e-4, "100 to 500 kJ/kg through a 2 mm screen"},
	{Toughness, "toughness", "toughness against the reference polymer", quantity.Number, LogNormal, 1.6, 0.8, 3.5, "unknown polymer"},
	{SizeExponent, "size_exponent", "size exponent of breakage", quantity.Number, LogNormal, 1.1, 0.8, 1.4, "between Rittinger's and Kick's laws"},
	{FineShare, "fine_share", "share of fine debris", quantity.Share, Logit, 0.2, 0.1, 0.35, "impact breakage of brittle plastics"},
	{FineSlope, "fine_slope", "exponent of fine debris", quantity.Number, LogNormal, 0.9, 0.7, 1.1, "impact breakage of brittle plastics"},
	{CoarseSlope, "coarse_slope", "exponent of coarse debris", quantity.Number, LogNormal, 3.5, 2.7, 4.3, "impact breakage of brittle plastics"},
	{RotorReach, "rotor_reach", "piece size the rotor still grips", quantity.Length, LogNormal, 0.035, 0.02, 0.06, "a quarter of a 140 mm rotor"},
	{RotorSharpness, "rotor_sharpness", "how sharply larger pieces escape it", quantity.Number, LogNormal, 3, 2, 4, "larger pieces ride on the rotor"},
	{Discharge, "discharge", "discharge rate of powder through an open sheet", quantity.Rate, LogNormal, 3, 1.2, 7.5, "powder leaves a sheet 20 % open in 1 to 4 s, half a hole large ones 16 times slower; slower forecasts far more dust than mills make"},
	{Hole, "hole", "screen hole", quantity.Length, LogNormal, 0.003, 0.002, 0.005, "usual for granule printers"},
	{OpenShare, "open_share", "open share of the screen", quantity.Share, Logit, 0.2, 0.1, 0.35, "drilled or punched sheet"},
	{HoldMass, "hold_mass", "charge below which the rotor finds little", quantity.Mass, LogNormal, 0.05, 0.02, 0.11, "a handful in a litre"},
	{PowerScale, "power_scale", "power against the nominal, all levels together", quantity.Number, LogNormal, 1, 1 / PowerSpread, PowerSpread, "load and mains vary"},
	{IdleShare, "idle_share", "share of the power the empty mill draws", quantity.Share, Logit, 0.55, 0.4, 0.7, "small high-speed motors"},
	{HeatShare, "heat_share", "share of the grinding power that warms the charge", quantity.Share, Logit, 0.75, 0.55, 0.88, "nearly all of it is heat, most of it where the plastic is hit"},
	{Film, "film", "heat transfer from charge to wall", quantity.HeatTransfer, LogNormal, heat.Tumbling, heat.TumblingLow, heat.TumblingHigh, "stirred and fluidised beds of millimetre grains"},
	{WallCapacity, "wall_capacity", "heat capacity of pot, plate and lid", quantity.HeatCapacity, LogNormal, 1500, 700, 3000, "3 kg of metal (1.5 to 6)"},
	{WallLoss, "wall_loss", "heat loss of the pot to the room", quantity.Conductance, LogNormal, 0.6, 0.3, 1.2, "a one-litre pot in still air"},
	{LidFactor, "lid_factor", "heat loss with the lid open against closed", quantity.Number, LogNormal, 1.6, 1.2, 2.2, "the inside joins the outside"},
	{SolidDensity, "solid_density", "density of the plastic", quantity.Density, Normal, 1200, 1050, 1280, "unknown polymer"},
	{SpecificHeat, "specific_heat", "specific heat of the plastic", quantity.SpecificHeat, LogNormal, 1500, 1200, 1900, "unknown polymer"},
	{Softening, "softening", "softening temperature", quantity.Temperature, Normal, 331.15, 328.15, 333.15, "unknown polymer: the lowest of the common ones"},
	{ScrapPacking, "scrap_packing", "bulk density of scrap over solid density", quantity.Share, Logit, 0.26, 0.19, 0.35, "hollow prints thrown loosely"},
	{GrainBulk, "grain_bulk", "bulk density of the regrind", quantity.Density, LogNormal, 480, 380, 600, "irregular granules, poured"},
	{PieceShare, "piece_share", "typical piece against the largest", quantity.Share, Logit, 0.45, 0.25, 0.7, "broken prints of mixed size"},
	{Dust, "dust", "lost as dust and spill", quantity.Share, Logit, 0.012, 0.004, 0.035, "of a charge"},
	{StallShift, "stall_shift", "how readily this mill stalls", quantity.Number, Normal, 0, -1, 1, "log odds against the book's"},
	{Purge, "purge", "purged at the printer", quantity.Share, Logit, 0.04, 0.015, 0.09, "of the print's mass"},
	{StartUp, "start_up", "spent on starting up", quantity.Share, Logit, 0.02, 0.01, 0.04, "of the print's mass"},
	{Handling, "handling", "lost in cleaning and pouring", quantity.Share, Logit, 0.015, 0.005, 0.04, "of the print's mass"},
	{PrintScale, "print_scale", "plastic printed against what the file says", quantity.Number, LogNormal, 1, 0.98, 1.03, "flow setting and screw slip"},
	{Hindrance, "hindrance", "how much more the sheet hinders large grains", quantity.Number, LogNormal, 4, 3, 5.3, "16 measured curves of two knife mills want about 4 (Lu2024), a grain that falls straight 2"},
	{Noise, "noise", "noise at the operator's ear", quantity.SoundLevel, Normal, 95, 90, 100, "assumed for a bench mill"},
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
