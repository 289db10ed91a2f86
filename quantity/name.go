package quantity

import "fmt"

// naming is what a kind is called: in words, and by the symbol of its SI unit.
type naming struct {
	words string // "mass"
	si    string // "kg"; the first argument of a unit with factor 1
	form  string // the unit printed beside a form field
}

var namings = map[Kind]naming{
	Number:                {"number", "", ""},
	Share:                 {"share", "1", "%"},
	Humidity:              {"relative humidity", "1", "%RH"},
	Mass:                  {"mass", "kg", "g"},
	Length:                {"length", "m", "mm"},
	Area:                  {"area", "m²", "cm²"},
	Volume:                {"volume", "m³", "L"},
	Duration:              {"duration", "s", "min"},
	Temperature:           {"temperature", "K", "°C"},
	TemperatureDifference: {"temperature difference", "K", "K"},
	Power:                 {"power", "W", "W"},
	Energy:                {"energy", "J", "kWh"},
	SpecificEnergy:        {"energy per mass", "J/kg", "kJ/kg"},
	Density:               {"density", "kg/m³", "g/cm³"},
	Speed:                 {"speed", "m/s", "mm/s"},
	Rotation:              {"rotation", "rad/s", "rpm"},
	MassFlow:              {"mass flow", "kg/s", "kg/h"},
	VolumeFlow:            {"volume flow", "m³/s", "mm³/s"},
	Pressure:              {"pressure or stress", "Pa", "MPa"},
	SoundLevel:            {"sound level", "dB(A)", "dB(A)"},
	SpecificHeat:          {"specific heat", "J/(kg K)", "J/(kg K)"},
	HeatCapacity:          {"heat capacity", "J/K", "J/K"},
	Conductance:           {"heat conductance", "W/K", "W/K"},
	Conductivity:          {"heat conductivity", "W/(m K)", "W/(m K)"},
	HeatTransfer:          {"heat transfer coefficient", "W/(m² K)", "W/(m² K)"},
	ImpactStrength:        {"impact strength", "J/m²", "kJ/m²"},
	Diffusivity:           {"diffusivity", "m²/s", "m²/s"},
	Viscosity:             {"viscosity", "Pa s", "Pa s"},
	MeltFlow:              {"melt flow rate", "kg/s", "g/10 min"},
	RatePerEnergy:         {"rate per power and mass", "kg/J", "kg/kJ"},
	Rate:                  {"rate", "1/s", "1/min"},
	Money:                 {"sum of money", "", ""},
	MoneyPerEnergy:        {"price of energy", "per J", "per kWh"},
	MoneyPerMass:          {"price per mass", "per kg", "per kg"},
	Count:                 {"count", "", ""},
}

// String names the kind in words: "mass", "temperature difference".
func (k Kind) String() string {
	if n, ok := namings[k]; ok {
		return n.words
	}
	return fmt.Sprintf("unknown kind %d", int(k))
}

// SI returns the symbol of the unit the kind's numbers are in: "kg"; "1" for
// shares, "" for plain numbers, counts and sums of money, and "per kg" for a
// price, to which the currency is added by package figure.
func (k Kind) SI() string { return namings[k].si }

// Default returns the unit that a form prints beside a field of this kind and
// assumes for a bare number: "g" for a mass. It is "" for plain numbers.
func (k Kind) Default() string { return namings[k].form }

// Kinds returns every kind in the order of the list.
func Kinds() []Kind {
	all := make([]Kind, 0, len(namings))
	for k := Number; int(k) < len(namings); k++ {
		all = append(all, k)
	}
	return all
}
