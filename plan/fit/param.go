package fit

import (
	"math"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/polymer"
	"hopperful/process/ageing"
	"hopperful/process/screw"
	"hopperful/quantity"
	"hopperful/source"
)

// param names one uncertain number of a fitness check.
type param int

// The parameters, in the order the material travels.
const (
	fSolid param = iota
	fMelt
	fWant
	fSure
	fTop
	fFines
	fBorne
	fMean
	fSticky
	fDustStrength
	fBulk
	fWater
	fSaturation
	fDiffusivity
	fEnergy
	fUneven
	fSpecific
	fHours
	fDryLimit
	fOpen
	fWear
	fChip
	fLuck
	fExit
	fNozzle
	fLand
	fScrew
	fFeedDepth
	fCompression
	fPumpTurns
	fFilling
	fPerTurn
	fMostSpeed
	fMostPressure
	fHeaters
	fEfficiency
	fBarrel
	fHeat
	fRunny
	fLoss
	fFlow
	fPeak
	fWarmth
	fCeiling
	fFloor
	fOlder
	fKeeps
	fRight
	fLife
	fHead
	fBrittle
	fitParams // how many there are
)

// beliefs is what is believed of all of them.
type beliefs [fitParams]estimate.Belief

// book is a line of the table of what to take where nothing is known.
type book struct {
	param             param
	key, name         string
	kind              quantity.Kind
	family            estimate.Family
	median, low, high float64
	source            source.Ref // why
}

// books is what a check starts with before the shop, the material's table
// and the records have spoken. Judgement throughout, and wide.
var books = []book{
	{fSolid, "solid_density", "belief.solid_density", quantity.Density, estimate.Normal, 1200, 1050, 1280, source.Cite("judgement", "unknown polymer")},
	{fMelt, "melt_ratio", "belief.melt_ratio", quantity.Share, estimate.Logit, 0.9, 0.85, 0.94, source.Cite("judgement", "melts are 5 to 15 % lighter")},
	{fWant, "want_score", "belief.want_score", quantity.Number, estimate.Normal, 0, -answer.Ninety, answer.Ninety, source.Cite("judgement", "a standard normal score: how much of what a print may take this one takes")},
	{fSure, "sure", "belief.sure", quantity.Share, estimate.Exact, 0.7, 0.7, 0.7, source.Cite("judgement", "nobody said how sure")},
	{fTop, "d95", "belief.d95", quantity.Length, estimate.LogNormal, 2.2e-3, 1.2e-3, 3.8e-3, source.Cite("judgement", "granulate nobody has sieved, of an unknown screen")},
	{fFines, "fines", "belief.fines", quantity.Share, estimate.Logit, 0.08, 0.02, 0.22, source.Cite("judgement", "granulate nobody has sieved")},
	{fBorne, "dust_borne", "belief.dust_borne", quantity.Share, estimate.LogNormal, 0.1, 0.0625, 0.16, source.Cite("judgement", "no book gives it; the shop's own limit")},
	{fMean, "mean_ratio", "belief.mean_ratio", quantity.Share, estimate.Logit, 0.55, 0.4, 0.7, source.Cite("judgement", "ground prints")},
	{fSticky, "sticky", "belief.sticky", quantity.Share, estimate.Logit, 0.4, 0.2, 0.65, source.Cite("judgement", "finer than 0.2 mm")},
	{fDustStrength, "dust_strength", "belief.dust_strength", quantity.Pressure, estimate.LogNormal, 500, 200, 1500, source.Cite("judgement", "plastic dust under small stress; static makes it worse")},
	{fBulk, "bulk_density", "belief.bulk_density", quantity.Density, estimate.LogNormal, 480, 380, 600, source.Cite("judgement", "irregular granules")},
	{fWater, "water", "belief.water", quantity.Share, estimate.Logit, 0.0025, 0.0003, 0.0075, source.Cite("judgement", "unknown polymer")},
	{fSaturation, "saturation", "belief.saturation", quantity.Number, estimate.LogNormal, 2.8, 2.1, 4, source.Cite("judgement", "unknown polymer: HIPS to PA6")},
	{fDiffusivity, "water_diffusivity", "belief.water_diffusivity", quantity.Diffusivity, estimate.LogNormal, 5e-12, 1.25e-12, 2e-11, source.Cite("judgement", "no value found for this polymer")},
	{fEnergy, "activation", "belief.activation", quantity.Number, estimate.Normal, 45e3, 30e3, 60e3, source.Cite("judgement", "J/mol; PET has 36 kJ/mol")},
	{fUneven, "uneven", "belief.uneven", quantity.Number, estimate.LogNormal, 1, 0.6, 1.4, source.Cite("judgement", "1.0 fits the one measured curve of pellets")},
	{fSpecific, "specific_heat", "belief.specific_heat", quantity.SpecificHeat, estimate.LogNormal, 1500, 1200, 1900, source.Cite("judgement", "unknown polymer")},
	{fHours, "hours_score", "belief.hours_score", quantity.Number, estimate.Normal, 0, -answer.Ninety, answer.Ninety, source.Cite("judgement", "a standard normal score: where in the range of the books' hours this drying lies")},
	{fDryLimit, "moisture_limit", "belief.moisture_limit", quantity.Share, estimate.Logit, 200e-6, 100e-6, 400e-6, source.Cite("judgement", "as the most easily spoiled plastics")},
	{fOpen, "open_share", "belief.open_share", quantity.Share, estimate.Logit, 0.01, 0.001, 0.1, source.Cite("judgement", "a jar that is opened now and then")},
	{fWear, "wear", "belief.wear", quantity.Share, estimate.LogNormal, 10e-6, 1.5e-6, 70e-6, source.Cite("judgement", "1 to 100 mg/kg by state of the blade")},
	{fChip, "chip_size", "belief.chip_size", quantity.Length, estimate.LogNormal, 0.2e-3, 0.1e-3, 0.4e-3, source.Cite("judgement", "known to a factor of two")},
	{fLuck, "luck", "belief.luck", quantity.Number, estimate.Normal, 0, -1.2815515655446004, 1.2815515655446004, source.Cite("judgement", "a standard normal score: whether this print meets a chip")},
	{fExit, "hopper_exit", "belief.hopper_exit", quantity.Length, estimate.LogNormal, 0.025, 0.015, 0.04, source.Cite("judgement", "ordinary granule printer")},
	{fNozzle, "nozzle", "belief.nozzle", quantity.Length, estimate.LogNormal, 1.2e-3, 0.8e-3, 2e-3, source.Cite("judgement", "ordinary granule printer")},
	{fLand, "land", "belief.land", quantity.Number, estimate.LogNormal, 2, 1, 4, source.Cite("judgement", "ordinary nozzles")},
	{fScrew, "screw_bore", "belief.screw_bore", quantity.Length, estimate.LogNormal, 0.016, 0.012, 0.022, source.Cite("judgement", "ordinary granule printer")},
	{fFeedDepth, "feed_depth", "belief.feed_depth", quantity.Share, estimate.Logit, 0.2, 0.15, 0.26, source.Cite("judgement", "small screws")},
	{fCompression, "compression", "belief.compression", quantity.Number, estimate.LogNormal, 2, 1.4, 2.8, source.Cite("judgement", "small screws")},
	{fPumpTurns, "pump_turns", "belief.pump_turns", quantity.Number, estimate.LogNormal, 4, 2.5, 6, source.Cite("judgement", "small screws")},
	{fFilling, "filling", "belief.filling", quantity.Share, estimate.Logit, 0.22, 0.1, 0.45, source.Cite("judgement", "outputs of a 20 mm screw fit 0.15 to 0.2")},
	{fPerTurn, "per_turn", "belief.per_turn", quantity.Volume, estimate.Exact, 0, 0, 0, source.Cite("judgement", "not measured: reckoned from screw and bulk density")},
	{fMostSpeed, "most_speed", "belief.most_speed", quantity.Rotation, estimate.LogNormal, 9.4, 6.3, 15.7, source.Cite("judgement", "60 to 150 rpm")},
	{fMostPressure, "most_pressure", "belief.most_pressure", quantity.Pressure, estimate.LogNormal, 12e6, 7e6, 20e6, source.Cite("judgement", "small heads; the maker's figure counts")},
	{fHeaters, "heaters", "belief.heaters", quantity.Power, estimate.LogNormal, 200, 110, 350, source.Cite("judgement", "ordinary granule printer")},
	{fEfficiency, "efficiency", "belief.efficiency", quantity.Share, estimate.Logit, 0.95, 0.88, 0.99, source.Cite("judgement", "bands that sit well")},
	{fBarrel, "barrel_loss", "belief.barrel_loss", quantity.Power, estimate.LogNormal, screw.UsualBarrelLoss, screw.LeastBarrelLoss, screw.MostBarrelLoss, source.Cite("own derivation", "surface of a bare barrel at 200 °C")},
	{fHeat, "heat", "belief.heat", quantity.SpecificEnergy, estimate.LogNormal, 450e3, 330e3, 620e3, source.Cite("judgement", "unknown polymer")},
	{fRunny, "runny", "belief.runny", quantity.Number, estimate.LogNormal, 1, 0.5, 2, source.Cite("judgement", "grades differ by that")},
	{fLoss, "entrance_loss", "belief.entrance_loss", quantity.Number, estimate.LogNormal, 2.19, 0.9, 5.3, source.Cite("judgement", "within 0.6 to 8 for polymer melts")},
	{fFlow, "flow", "belief.flow", quantity.VolumeFlow, estimate.LogNormal, 15e-9, 7e-9, 35e-9, source.Cite("judgement", "a line 1.2 nozzles wide and half as high at 20 to 60 mm/s")},
	{fPeak, "peak", "belief.peak", quantity.Number, estimate.LogNormal, pressurePeak, 1.2, 2.2, source.Cite("judgement", "fills against outlines")},
	{fWarmth, "melt_error", "belief.melt_error", quantity.TemperatureDifference, estimate.Normal, 0, -5, 5, source.Cite("judgement", "sensors sit in the wall")},
	{fCeiling, "ceiling", "belief.ceiling", quantity.Temperature, estimate.Normal, 513.15, 508.15, 523.15, source.Cite("judgement", "unknown polymer")},
	{fFloor, "floor", "belief.floor", quantity.Temperature, estimate.Normal, 473.15, 453.15, 503.15, source.Cite("judgement", "unknown polymer")},
	{fOlder, "older", "belief.older", quantity.Number, estimate.Normal, 0, -1.2815515655446004, 1.2815515655446004, source.Cite("judgement", "a standard normal score: how old the lot is within the range of its age")},
	{fKeeps, "keeps", "belief.keeps", quantity.Number, estimate.LogNormal, 0.97, 0.92, 1.01, source.Cite("judgement", "published studies disagree even in sign")},
	{fRight, "right", "belief.right", quantity.Number, estimate.Normal, 0, -1.2815515655446004, 1.2815515655446004, source.Cite("judgement", "a standard normal score: whether the polymer is what its owner thinks")},
	{fLife, "life", "belief.life", quantity.Duration, estimate.LogNormal, 1200, 500, 2700, source.Cite("judgement", "10 to 45 min")},
	{fHead, "head_volume", "belief.head_volume", quantity.Volume, estimate.LogNormal, 3e-6, 1.2e-6, 8e-6, source.Cite("judgement", "small heads")},
	{fBrittle, "brittle", "belief.brittle", quantity.Share, estimate.Logit, ageing.BrittleMedian, ageing.BrittleLow, ageing.BrittleHigh, source.Cite("judgement", "makers sell chains a few times as long as strength needs")},
}

// prior is the table as beliefs.
func prior() beliefs {
	var all beliefs
	for _, b := range books {
		all[b.param] = estimate.Belief{Key: b.key, Name: b.name, Kind: b.kind, Family: b.family,
			Median: b.median, Low: b.low, High: b.high, Assumed: true, Source: b.source}
	}
	return all
}

// know puts in what the owner said.
func (b *beliefs) know(p param, v *float64) {
	if v == nil {
		return
	}
	one := &b[p]
	one.Family, one.Median, one.Low, one.High = estimate.Exact, *v, *v, *v
	one.Source, one.FromUser, one.Assumed = source.Ref{}, true, false
}

// observe puts in what a record measured, with its own spread.
func (b *beliefs) observe(p param, median, low, high float64, records ...int64) {
	one := &b[p]
	one.Median, one.Low, one.High = median, math.Min(low, median), math.Max(high, median)
	one.Assumed, one.FromUser, one.Source = false, false, source.Ref{}
	one.Records, one.Runs = append(one.Records, records...), 0
	if one.Low == one.High {
		one.Family = estimate.Exact
	} else if one.Family == estimate.Exact {
		one.Family = estimate.LogNormal
	}
}

// narrow joins a belief with a measurement of it, both on the logarithm: the
// posterior of a log-normal prior and a log-normal reading. The spread is the
// standard deviation of the reading's logarithm.
func (b *beliefs) narrow(p param, reading, spread float64, records ...int64) {
	one := &b[p]
	prior := math.Log(one.High/one.Low) / (2 * answer.Ninety)
	if one.Low == one.High { // nothing to learn: it is known
		return
	}
	w, v := 1/(prior*prior), 1/(spread*spread)
	mean := (w*math.Log(one.Median) + v*math.Log(reading)) / (w + v)
	half := answer.Ninety / math.Sqrt(w+v)
	one.Median, one.Low, one.High = math.Exp(mean), math.Exp(mean-half), math.Exp(mean+half)
	one.Records, one.Runs, one.Assumed = append(one.Records, records...), one.Runs+max(1, len(records)), false
	one.Family = estimate.LogNormal
}

// fromTable puts a material's value in where there is one.
func (b *beliefs) fromTable(p polymer.Polymer, property polymer.Property, into param) {
	v, err := p.Value(property)
	if err != nil {
		return
	}
	one := &b[into]
	one.Median, one.Low, one.High, one.Source = v.Value, v.Low, v.High, v.Source
	basis := v.Figure().Basis
	one.FromUser, one.Assumed = basis == "you entered" || basis == "measured", basis == "assumed"
	if v.Low == v.High {
		one.Family = estimate.Exact
	}
}
