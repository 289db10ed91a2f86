package fit

import (
	"math"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/polymer"
	"hopperful/process/ageing"
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
	place             string // why; the source is judgement
}

// books is what a check starts with before the shop, the material's table
// and the records have spoken. Judgement throughout, and wide.
var books = []book{
	{fSolid, "solid_density", "density of the solid", quantity.Density, estimate.Normal, 1200, 1050, 1280, "unknown polymer"},
	{fMelt, "melt_ratio", "density of the melt over that of the solid", quantity.Share, estimate.Logit, 0.9, 0.85, 0.94, "melts are 5 to 15 % lighter"},
	{fWant, "want_score", "luck of what the print takes", quantity.Number, estimate.Normal, 0, -answer.Ninety, answer.Ninety, "a standard normal score: how much of what a print may take this one takes"},
	{fSure, "sure", "chance that all of it is this polymer", quantity.Share, estimate.Exact, 0.7, 0.7, 0.7, "nobody said how sure"},
	{fTop, "d95", "size that 95 % are finer than", quantity.Length, estimate.LogNormal, 2.2e-3, 1.2e-3, 3.8e-3, "granulate nobody has sieved, of an unknown screen"},
	{fFines, "fines", "fines below 0.5 mm", quantity.Share, estimate.Logit, 0.08, 0.02, 0.22, "granulate nobody has sieved"},
	{fMean, "mean_ratio", "mean size over the size that 95 % are finer than", quantity.Share, estimate.Logit, 0.55, 0.4, 0.7, "ground prints"},
	{fSticky, "sticky", "share of the fines that clings", quantity.Share, estimate.Logit, 0.4, 0.2, 0.65, "finer than 0.2 mm"},
	{fDustStrength, "dust_strength", "strength of the dust alone", quantity.Pressure, estimate.LogNormal, 500, 200, 1500, "plastic dust under small stress; static makes it worse"},
	{fBulk, "bulk_density", "bulk density, poured", quantity.Density, estimate.LogNormal, 480, 380, 600, "irregular granules"},
	{fWater, "water", "water taken up at 50 %RH", quantity.Share, estimate.Logit, 0.0025, 0.0003, 0.0075, "unknown polymer"},
	{fSaturation, "saturation", "water taken up from saturated air over that at 50 %RH", quantity.Number, estimate.LogNormal, 2.8, 2.1, 4, "unknown polymer: HIPS to PA6"},
	{fDiffusivity, "water_diffusivity", "diffusivity of water at 50 °C", quantity.Diffusivity, estimate.LogNormal, 5e-12, 1.25e-12, 2e-11, "no value found for this polymer"},
	{fEnergy, "activation", "activation energy of that diffusion", quantity.Number, estimate.Normal, 45e3, 30e3, 60e3, "J/mol; PET has 36 kJ/mol"},
	{fUneven, "uneven", "spread of the rates from grain to grain, as a standard deviation of the logarithm", quantity.Number, estimate.LogNormal, 1, 0.6, 1.4, "1.0 fits the one measured curve of pellets"},
	{fSpecific, "specific_heat", "specific heat of the solid", quantity.SpecificHeat, estimate.LogNormal, 1500, 1200, 1900, "unknown polymer"},
	{fHours, "hours_score", "luck of the books' drying hours", quantity.Number, estimate.Normal, 0, -answer.Ninety, answer.Ninety, "a standard normal score: where in the range of the books' hours this drying lies"},
	{fDryLimit, "moisture_limit", "highest moisture for the melt", quantity.Share, estimate.Logit, 200e-6, 100e-6, 400e-6, "as the most easily spoiled plastics"},
	{fOpen, "open_share", "share of the time since drying it stood open", quantity.Share, estimate.Logit, 0.01, 0.001, 0.1, "a jar that is opened now and then"},
	{fWear, "wear", "wear metal in the plastic as ground", quantity.Share, estimate.LogNormal, 10e-6, 1.5e-6, 70e-6, "1 to 100 mg/kg by state of the blade"},
	{fChip, "chip_size", "median size of the chips", quantity.Length, estimate.LogNormal, 0.2e-3, 0.1e-3, 0.4e-3, "known to a factor of two"},
	{fLuck, "luck", "luck of this print", quantity.Number, estimate.Normal, 0, -1.2815515655446004, 1.2815515655446004, "a standard normal score: whether this print meets a chip"},
	{fExit, "hopper_exit", "smallest opening of the hopper", quantity.Length, estimate.LogNormal, 0.025, 0.015, 0.04, "ordinary granule printer"},
	{fNozzle, "nozzle", "nozzle bore", quantity.Length, estimate.LogNormal, 1.2e-3, 0.8e-3, 2e-3, "ordinary granule printer"},
	{fLand, "land", "length of the nozzle's straight part over its bore", quantity.Number, estimate.LogNormal, 2, 1, 4, "ordinary nozzles"},
	{fScrew, "screw_bore", "bore of the barrel", quantity.Length, estimate.LogNormal, 0.016, 0.012, 0.022, "ordinary granule printer"},
	{fFeedDepth, "feed_depth", "depth of the feed channel over the bore", quantity.Share, estimate.Logit, 0.2, 0.15, 0.26, "small screws"},
	{fCompression, "compression", "depth under the hopper over depth at the tip", quantity.Number, estimate.LogNormal, 2, 1.4, 2.8, "small screws"},
	{fPumpTurns, "pump_turns", "turns of the screw that pump", quantity.Number, estimate.LogNormal, 4, 2.5, 6, "small screws"},
	{fFilling, "filling", "share of a turn's room that moves on in a turn", quantity.Share, estimate.Logit, 0.22, 0.1, 0.45, "outputs of a 20 mm screw fit 0.15 to 0.2"},
	{fPerTurn, "per_turn", "melt a turn of the screw gives", quantity.Volume, estimate.Exact, 0, 0, 0, "not measured: reckoned from screw and bulk density"},
	{fMostSpeed, "most_speed", "fastest the screw turns", quantity.Rotation, estimate.LogNormal, 9.4, 6.3, 15.7, "60 to 150 rpm"},
	{fMostPressure, "most_pressure", "pressure the head bears", quantity.Pressure, estimate.LogNormal, 12e6, 7e6, 20e6, "small heads; the maker's figure counts"},
	{fHeaters, "heaters", "rated power of the barrel heaters", quantity.Power, estimate.LogNormal, 200, 110, 350, "ordinary granule printer"},
	{fEfficiency, "efficiency", "share of it that reaches the plastic", quantity.Share, estimate.Logit, 0.6, 0.45, 0.75, "a lagged barrel"},
	{fHeat, "heat", "heat to melt a kilogram", quantity.SpecificEnergy, estimate.LogNormal, 450e3, 330e3, 620e3, "unknown polymer"},
	{fRunny, "runny", "how many times as fast as the books' melt it flows", quantity.Number, estimate.LogNormal, 1, 0.5, 2, "grades differ by that"},
	{fLoss, "entrance_loss", "loss at the nozzle's mouth, in radii of its land", quantity.Number, estimate.LogNormal, 2.19, 0.9, 5.3, "within 0.6 to 8 for polymer melts"},
	{fFlow, "flow", "flow while printing", quantity.VolumeFlow, estimate.LogNormal, 15e-9, 7e-9, 35e-9, "a line 1.2 nozzles wide and half as high at 20 to 60 mm/s"},
	{fPeak, "peak", "peak flow over mean flow", quantity.Number, estimate.LogNormal, pressurePeak, 1.2, 2.2, "fills against outlines"},
	{fWarmth, "melt_error", "melt against the temperature set", quantity.TemperatureDifference, estimate.Normal, 0, -5, 5, "sensors sit in the wall"},
	{fCeiling, "ceiling", "temperature not to exceed", quantity.Temperature, estimate.Normal, 513.15, 508.15, 523.15, "unknown polymer"},
	{fFloor, "floor", "lowest melt temperature", quantity.Temperature, estimate.Normal, 473.15, 453.15, 503.15, "unknown polymer"},
	{fOlder, "older", "luck of the age", quantity.Number, estimate.Normal, 0, -1.2815515655446004, 1.2815515655446004, "a standard normal score: how old the lot is within the range of its age"},
	{fKeeps, "keeps", "strength kept per pass", quantity.Number, estimate.LogNormal, 0.97, 0.92, 1.01, "published studies disagree even in sign"},
	{fRight, "right", "luck of the sorting", quantity.Number, estimate.Normal, 0, -1.2815515655446004, 1.2815515655446004, "a standard normal score: whether the polymer is what its owner thinks"},
	{fLife, "life", "time the melt bears at its usual temperature", quantity.Duration, estimate.LogNormal, 1200, 500, 2700, "10 to 45 min"},
	{fHead, "head_volume", "room in adapter and nozzle", quantity.Volume, estimate.LogNormal, 3e-6, 1.2e-6, 8e-6, "small heads"},
	{fBrittle, "brittle", "share of a fresh chain's length at which no strength is left", quantity.Share, estimate.Logit, ageing.BrittleMedian, ageing.BrittleLow, ageing.BrittleHigh, "makers sell chains a few times as long as strength needs"},
}

// prior is the table as beliefs.
func prior() beliefs {
	var all beliefs
	for _, b := range books {
		all[b.param] = estimate.Belief{Key: b.key, Name: b.name, Kind: b.kind, Family: b.family,
			Median: b.median, Low: b.low, High: b.high, Assumed: true, Source: source.Ref{Key: "judgement", Place: b.place}}
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

// fromTable puts a material's value in and reports whether there is one.
func (b *beliefs) fromTable(p polymer.Polymer, property polymer.Property, into param) bool {
	v, err := p.Value(property)
	if err != nil {
		return false
	}
	one := &b[into]
	one.Median, one.Low, one.High, one.Source = v.Value, v.Low, v.High, v.Source
	basis := v.Figure().Basis
	one.FromUser, one.Assumed = basis == "you entered" || basis == "measured", basis == "assumed"
	if v.Low == v.High {
		one.Family = estimate.Exact
	}
	return true
}
