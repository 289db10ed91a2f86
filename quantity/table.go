package quantity

// Keys of the bibliography for the factors.
const (
	brochure = "BIPM2019"     // SI Brochure, tables 5, 7 and 8
	guide    = "Thompson2008" // NIST SP 811, appendix B
)

// table is closed: what is not in it is not read. Factors are exact; where a
// definition is a product it stands beside the line. rpm needs π and carries
// thirty digits of it, more than a float64 can tell.
var table = []unit{
	{kind: Share, symbol: "%", factor: "1/100", source: brochure, also: []string{"percent", "per cent"}},
	{kind: Share, symbol: "‰", factor: "1/1000", source: brochure},
	{kind: Share, symbol: "ppm", factor: "1/1000000", source: brochure},
	{kind: Share, symbol: "mg/kg", factor: "1/1000000", source: brochure},
	{kind: Share, symbol: "1", factor: "1", source: brochure},
	{kind: Humidity, symbol: "%RH", factor: "1/100", source: brochure, also: []string{"%", "%r.h.", "percent", "RH"}},
	{kind: Humidity, symbol: "1", factor: "1", source: brochure},

	{kind: Mass, symbol: "g", factor: "1/1000", source: brochure, also: []string{"gram", "grams", "gr"}},
	{kind: Mass, symbol: "kg", factor: "1", source: brochure, also: []string{"kilo", "kilos"}},
	{kind: Mass, symbol: "mg", factor: "1/1000000", source: brochure},
	{kind: Mass, symbol: "t", factor: "1000", source: brochure, also: []string{"tonne", "tonnes"}},
	{kind: Mass, symbol: "oz", factor: "0.028349523125", source: guide, also: []string{"ounce", "ounces"}}, // lb/16
	{kind: Mass, symbol: "lb", factor: "0.45359237", source: guide, also: []string{"lbs", "pound", "pounds"}},

	{kind: Length, symbol: "mm", factor: "1/1000", source: brochure, also: []string{"MM"}},
	{kind: Length, symbol: "cm", factor: "1/100", source: brochure},
	{kind: Length, symbol: "m", factor: "1", source: brochure},
	{kind: Length, symbol: "km", factor: "1000", source: brochure},
	{kind: Length, symbol: "µm", factor: "1/1000000", source: brochure, also: []string{"micron", "microns"}},
	{kind: Length, symbol: "in", factor: "0.0254", source: guide, also: []string{"inch", "inches", `"`, "″"}},
	{kind: Length, symbol: "ft", factor: "0.3048", source: guide, also: []string{"foot", "feet"}},
	{kind: Length, symbol: "mil", factor: "0.0000254", source: guide, also: []string{"thou"}},

	{kind: Area, symbol: "mm²", factor: "1/1000000", source: brochure},
	{kind: Area, symbol: "cm²", factor: "1/10000", source: brochure},
	{kind: Area, symbol: "m²", factor: "1", source: brochure},
	{kind: Area, symbol: "in²", factor: "0.00064516", source: guide, also: []string{"sq in"}},

	{kind: Volume, symbol: "L", factor: "1/1000", source: brochure, also: []string{"l", "litre", "litres", "liter", "liters", "dm³"}},
	{kind: Volume, symbol: "ml", factor: "1/1000000", source: brochure, also: []string{"mL", "ML", "cm³", "cc", "ccm"}},
	{kind: Volume, symbol: "mm³", factor: "1/1000000000", source: brochure},
	{kind: Volume, symbol: "m³", factor: "1", source: brochure},
	{kind: Volume, symbol: "in³", factor: "0.000016387064", source: guide, also: []string{"cu in"}},
	{kind: Volume, symbol: "fl oz (US)", factor: "0.0000295735295625", source: guide, also: []string{"US fl oz"}},             // gal/128
	{kind: Volume, symbol: "gal (US)", factor: "0.003785411784", source: guide, also: []string{"US gal", "gal US", "gal.US"}}, // 231 in³

	{kind: Duration, symbol: "s", factor: "1", source: brochure, also: []string{"sec", "secs", "second", "seconds"}},
	{kind: Duration, symbol: "min", factor: "60", source: brochure, also: []string{"Min", "MIN", "mins", "minute", "minutes"}},
	{kind: Duration, symbol: "h", factor: "3600", source: brochure, also: []string{"hr", "hrs", "hour", "hours"}},
	{kind: Duration, symbol: "d", factor: "86400", source: brochure, also: []string{"day", "days"}},
	{kind: Duration, symbol: "week", factor: "604800", source: brochure, also: []string{"weeks", "wk"}}, // 7 d
	{kind: Duration, symbol: "ms", factor: "1/1000", source: brochure},

	{kind: Temperature, symbol: "°C", factor: "1", shift: "273.15", source: brochure, also: []string{"C", "degC", "deg C", "Celsius"}},
	{kind: Temperature, symbol: "K", factor: "1", source: brochure, also: []string{"Kelvin"}},
	{kind: Temperature, symbol: "°F", factor: "5/9", shift: "459.67", source: guide, also: []string{"F", "degF", "deg F", "Fahrenheit"}},
	{kind: TemperatureDifference, symbol: "K", factor: "1", source: brochure, also: []string{"°C", "C", "degC", "deg C", "Kelvin"}},
	{kind: TemperatureDifference, symbol: "°F", factor: "5/9", source: guide, also: []string{"F", "degF", "deg F"}},

	{kind: Power, symbol: "W", factor: "1", source: brochure, also: []string{"watt", "watts"}},
	{kind: Power, symbol: "kW", factor: "1000", source: brochure},
	{kind: Power, symbol: "mW", factor: "1/1000", source: brochure},
	{kind: Power, symbol: "MW", factor: "1000000", source: brochure},
	// The mechanical horsepower, 550 ft lbf/s = 550·0.3048·0.45359237·9.80665 W,
	// of motors rated in inches and pounds; the metric one is 75 kgf m/s.
	{kind: Power, symbol: "hp", factor: "745.69987158227022", source: guide, also: []string{"HP", "hp (mechanical)"}},
	{kind: Power, symbol: "hp (metric)", factor: "735.49875", source: guide, also: []string{"PS", "metric hp"}},

	{kind: Energy, symbol: "kWh", factor: "3600000", source: brochure, also: []string{"kW h"}},
	{kind: Energy, symbol: "Wh", factor: "3600", source: brochure, also: []string{"W h"}},
	{kind: Energy, symbol: "J", factor: "1", source: brochure, also: []string{"Ws", "W s", "N m", "Nm"}},
	{kind: Energy, symbol: "kJ", factor: "1000", source: brochure},
	{kind: Energy, symbol: "MJ", factor: "1000000", source: brochure},

	{kind: SpecificEnergy, symbol: "kJ/kg", factor: "1000", source: brochure, also: []string{"J/g"}},
	{kind: SpecificEnergy, symbol: "J/kg", factor: "1", source: brochure},
	{kind: SpecificEnergy, symbol: "MJ/kg", factor: "1000000", source: brochure},
	{kind: SpecificEnergy, symbol: "kWh/kg", factor: "3600000", source: brochure},
	{kind: SpecificEnergy, symbol: "Wh/kg", factor: "3600", source: brochure, also: []string{"kWh/t"}},

	{kind: Density, symbol: "g/cm³", factor: "1000", source: brochure, also: []string{"g/ml", "g/mL", "kg/l", "kg/L", "kg/dm³", "g/cc", "t/m³"}},
	{kind: Density, symbol: "kg/m³", factor: "1", source: brochure, also: []string{"g/l", "g/L"}},
	{kind: Density, symbol: "mg/m³", factor: "1/1000000", source: brochure},
	{kind: Density, symbol: "lb/ft³", factor: "453592370000/28316846592", source: guide}, // 0.45359237/0.3048³

	{kind: Speed, symbol: "mm/s", factor: "1/1000", source: brochure},
	{kind: Speed, symbol: "m/s", factor: "1", source: brochure},
	{kind: Speed, symbol: "mm/min", factor: "1/60000", source: brochure},
	{kind: Speed, symbol: "m/min", factor: "1/60", source: brochure},
	{kind: Speed, symbol: "km/h", factor: "1000/3600", source: brochure},
	{kind: Speed, symbol: "in/s", factor: "0.0254", source: guide},
	{kind: Speed, symbol: "ft/min", factor: "0.00508", source: guide},

	{kind: Rotation, symbol: "rpm", factor: "0.104719755119659774615421446109", source: guide, also: []string{"1/min", "/min", "r/min", "min-1", "RPM"}}, // π/30
	{kind: Rotation, symbol: "rad/s", factor: "1", source: brochure},

	{kind: MassFlow, symbol: "kg/h", factor: "1/3600", source: brochure, also: []string{"kg/hr"}},
	{kind: MassFlow, symbol: "g/h", factor: "1/3600000", source: brochure},
	{kind: MassFlow, symbol: "g/min", factor: "1/60000", source: brochure},
	{kind: MassFlow, symbol: "g/s", factor: "1/1000", source: brochure},
	{kind: MassFlow, symbol: "kg/s", factor: "1", source: brochure},
	{kind: MassFlow, symbol: "kg/min", factor: "1/60", source: brochure},
	{kind: MassFlow, symbol: "lb/h", factor: "45359237/360000000000", source: guide, also: []string{"lb/hr", "lbs/hr"}},

	{kind: VolumeFlow, symbol: "mm³/s", factor: "1/1000000000", source: brochure},
	{kind: VolumeFlow, symbol: "cm³/s", factor: "1/1000000", source: brochure, also: []string{"ml/s", "mL/s"}},
	{kind: VolumeFlow, symbol: "ml/min", factor: "1/60000000", source: brochure, also: []string{"mL/min", "cm³/min"}},
	{kind: VolumeFlow, symbol: "L/min", factor: "1/60000", source: brochure, also: []string{"l/min"}},
	{kind: VolumeFlow, symbol: "L/h", factor: "1/3600000", source: brochure, also: []string{"l/h"}},
	{kind: VolumeFlow, symbol: "m³/h", factor: "1/3600", source: brochure},
	{kind: VolumeFlow, symbol: "m³/s", factor: "1", source: brochure},
	{kind: VolumeFlow, symbol: "ft³/min", factor: "28316846592/60000000000000", source: guide, also: []string{"cfm"}},

	{kind: Pressure, symbol: "MPa", factor: "1000000", source: brochure, also: []string{"N/mm²"}},
	{kind: Pressure, symbol: "bar", factor: "100000", source: brochure},
	{kind: Pressure, symbol: "mbar", factor: "100", source: brochure, also: []string{"hPa"}},
	{kind: Pressure, symbol: "Pa", factor: "1", source: brochure, also: []string{"N/m²"}},
	{kind: Pressure, symbol: "kPa", factor: "1000", source: brochure},
	{kind: Pressure, symbol: "GPa", factor: "1000000000", source: brochure},
	{kind: Pressure, symbol: "psi", factor: "44482216152605/6451600000", source: guide}, // lbf/in²

	{kind: SoundLevel, symbol: "dB(A)", factor: "1", source: brochure, also: []string{"dB", "dBA"}},

	{kind: SpecificHeat, symbol: "J/(kg K)", factor: "1", source: brochure, also: []string{"J/kg K", "J/kgK", "J/kg/K", "J/(kgK)", "J/(kg °C)"}},
	{kind: SpecificHeat, symbol: "kJ/(kg K)", factor: "1000", source: brochure, also: []string{"kJ/kg K", "kJ/kgK", "J/(g K)", "J/g K", "J/gK"}},
	{kind: HeatCapacity, symbol: "J/K", factor: "1", source: brochure, also: []string{"J/°C"}},
	{kind: HeatCapacity, symbol: "kJ/K", factor: "1000", source: brochure, also: []string{"kJ/°C"}},
	{kind: Conductance, symbol: "W/K", factor: "1", source: brochure, also: []string{"W/°C"}},
	{kind: Conductivity, symbol: "W/(m K)", factor: "1", source: brochure, also: []string{"W/m K", "W/mK", "W/m/K", "W/(mK)"}},
	{kind: HeatTransfer, symbol: "W/(m² K)", factor: "1", source: brochure, also: []string{"W/m² K", "W/m²K", "W/m²/K", "W/(m²K)"}},
	{kind: ImpactStrength, symbol: "kJ/m²", factor: "1000", source: brochure},
	{kind: ImpactStrength, symbol: "J/m²", factor: "1", source: brochure},
	{kind: Diffusivity, symbol: "m²/s", factor: "1", source: brochure},
	{kind: Diffusivity, symbol: "cm²/s", factor: "1/10000", source: brochure},
	{kind: Diffusivity, symbol: "mm²/s", factor: "1/1000000", source: brochure},
	{kind: Viscosity, symbol: "Pa s", factor: "1", source: brochure, also: []string{"Pas"}},
	{kind: Viscosity, symbol: "mPa s", factor: "1/1000", source: brochure, also: []string{"mPas", "cP"}},

	{kind: MeltFlow, symbol: "g/10 min", factor: "1/600000", source: brochure},
	{kind: MeltFlow, symbol: "kg/s", factor: "1", source: brochure},
	{kind: RatePerEnergy, symbol: "kg/kJ", factor: "1/1000", source: brochure, also: []string{"1/(kJ/kg)"}},
	{kind: RatePerEnergy, symbol: "kg/J", factor: "1", source: brochure, also: []string{"1/(J/kg)"}},
	{kind: Rate, symbol: "1/min", factor: "1/60", source: brochure, also: []string{"/min", "per min", "per minute", "min-1"}},
	{kind: Rate, symbol: "1/h", factor: "1/3600", source: brochure, also: []string{"/h", "per h", "per hour"}},
	{kind: Rate, symbol: "1/s", factor: "1", source: brochure, also: []string{"/s", "per s", "per second", "s-1", "Hz"}},
	{kind: Rate, symbol: "1/d", factor: "1/86400", source: brochure, also: []string{"/d", "per d", "per day"}},

	{kind: MoneyPerEnergy, symbol: "per kWh", factor: "1/3600000", source: brochure, also: []string{"/kWh"}},
	{kind: MoneyPerEnergy, symbol: "per MJ", factor: "1/1000000", source: brochure, also: []string{"/MJ"}},
	{kind: MoneyPerEnergy, symbol: "per J", factor: "1", source: brochure, also: []string{"/J"}},
	{kind: MoneyPerMass, symbol: "per kg", factor: "1", source: brochure, also: []string{"/kg"}},
	{kind: MoneyPerMass, symbol: "per g", factor: "1000", source: brochure, also: []string{"/g"}},
	{kind: MoneyPerMass, symbol: "per t", factor: "1/1000", source: brochure, also: []string{"/t", "per tonne"}},
	{kind: MoneyPerMass, symbol: "per lb", factor: "100000000/45359237", source: guide, also: []string{"/lb"}},
}
