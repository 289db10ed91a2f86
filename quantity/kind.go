// Package quantity turns what people write in a workshop ("240 g", "3 min 20 s",
// "18 °C", "60 %RH") into SI numbers and back. Inside the program a number is
// always SI; its Kind says of what.
package quantity

// Kind is what a number measures. It fixes the SI unit the number is in and
// the workshop units it may be written and shown in.
type Kind int

// The kinds, each with the SI unit of its numbers.
const (
	Number                Kind = iota // 1
	Share                             // 1, shown in %
	Humidity                          // 1, relative humidity, shown in %RH
	Mass                              // kg
	Length                            // m
	Area                              // m²
	Volume                            // m³
	Duration                          // s
	Temperature                       // K, shown in °C
	TemperatureDifference             // K
	Power                             // W
	Energy                            // J
	SpecificEnergy                    // J/kg
	Density                           // kg/m³
	Speed                             // m/s
	Rotation                          // rad/s, shown in rpm
	MassFlow                          // kg/s
	VolumeFlow                        // m³/s
	Pressure                          // Pa, also stress
	SoundLevel                        // dB(A)
	SpecificHeat                      // J/(kg K)
	HeatCapacity                      // J/K
	Conductance                       // W/K
	Conductivity                      // W/(m K)
	HeatTransfer                      // W/(m² K)
	ImpactStrength                    // J/m²
	Diffusivity                       // m²/s
	Viscosity                         // Pa s
	MeltFlow                          // kg/s, shown in g/10 min
	RatePerEnergy                     // kg/J, breakage rate per specific power
	Rate                              // 1/s
	Money                             // the shop's currency
	MoneyPerEnergy                    // currency per J, shown per kWh
	MoneyPerMass                      // currency per kg
	Count                             // 1, whole pieces, shown without decimals
)
