package quantity

import "math"

// rung is one unit a kind is shown in, from the size on at which it reads well.
type rung struct {
	symbol string
	from   float64 // smallest shown number that still uses this unit
}

// ladders lists the units to show a kind in, largest first. A kind without a
// line is shown in its SI unit or, where it has one, in its form unit. The
// steps are a matter of taste: what scales, data sheets and machine plates say.
var ladders = map[Kind][]rung{
	Mass:           {{"t", 10}, {"kg", 1}, {"g", 1}, {"mg", 0}},
	Length:         {{"km", 1}, {"m", 1}, {"mm", 0.1}, {"µm", 0}},
	Area:           {{"m²", 0.1}, {"cm²", 1}, {"mm²", 0}},
	Volume:         {{"m³", 1}, {"L", 1}, {"ml", 1}, {"mm³", 0}},
	Power:          {{"MW", 1}, {"kW", 1}, {"W", 1}, {"mW", 0}},
	Energy:         {{"kWh", 1}, {"Wh", 0.01}, {"J", 0}}, // one family: what the meter counts
	SpecificEnergy: {{"kWh/kg", 1}, {"Wh/kg", 0}},
	Density:        {{"g/cm³", 0.1}, {"kg/m³", 0.1}, {"mg/m³", 0}},
	Speed:          {{"m/s", 1}, {"mm/s", 0}},
	Rotation:       {{"rpm", 0}},
	MassFlow:       {{"kg/h", 1}, {"g/h", 0}},
	VolumeFlow:     {{"m³/h", 1}, {"cm³/s", 1}, {"mm³/s", 0}},
	Pressure:       {{"GPa", 1}, {"MPa", 1}, {"kPa", 1}, {"Pa", 0}},
	HeatCapacity:   {{"kJ/K", 1}, {"J/K", 0}},
	ImpactStrength: {{"kJ/m²", 1}, {"J/m²", 0}},
	Viscosity:      {{"Pa s", 1}, {"mPa s", 0}},
	Rate:           {{"1/s", 1}, {"1/min", 1}, {"1/h", 1}, {"1/d", 0}},
	Temperature:    {{"°C", 0}},
	Share:          {{"%", 0.01}, {"ppm", 0}},
	Humidity:       {{"%RH", 0}},
	MeltFlow:       {{"g/10 min", 0}},
	RatePerEnergy:  {{"kg/kJ", 0}},
	MoneyPerEnergy: {{"per kWh", 0}},
	MoneyPerMass:   {{"per kg", 0}},
}

// suit picks the unit for a value shown with the given significant digits. It
// decides on the number as it will be printed, so that 999.95 g is 1.00 kg and
// never "1000 g" beside it.
func (k Kind) suit(si float64, digits int) *entry {
	steps, ok := ladders[k]
	if !ok {
		e, _ := units.find(k, k.SI())
		return e
	}
	if si == 0 {
		e, _ := units.find(k, k.Default())
		return e
	}
	for _, step := range steps {
		e, _ := units.find(k, step.symbol)
		if math.Abs(roundTo(e.from(si), digits)) >= step.from {
			return e
		}
	}
	e, _ := units.find(k, steps[len(steps)-1].symbol)
	return e
}

// from converts SI into the unit in plain floating point, which is exact enough
// for the few digits shown.
func (e *entry) from(si float64) float64 {
	factor, _ := e.factor.Float64()
	shift, _ := e.shift.Float64()
	return si/factor - shift
}

// decade is the power of ten of the first digit of v once rounded.
func decade(v float64, digits int) int {
	r := math.Abs(roundTo(v, digits))
	if r == 0 {
		return 0
	}
	d := int(math.Floor(math.Log10(r)))
	if r >= math.Pow(10, float64(d+1)) { // the logarithm fell short
		d++
	}
	return d
}
