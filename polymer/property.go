package polymer

import "hopperful/quantity"

// Property names one thing that is known about a material. The text is the
// stable name used in files and answers.
type Property string

// The properties.
const (
	Density            Property = "density"
	GlassTransition    Property = "glass_transition"
	MeltingPoint       Property = "melting_point"
	Crystallinity      Property = "crystallinity"
	HeatDeflection     Property = "heat_deflection"
	Softening          Property = "softening"
	SpecificHeatSolid  Property = "specific_heat_solid"
	SpecificHeatMelt   Property = "specific_heat_melt"
	Conductivity       Property = "conductivity"
	HeatOfFusion       Property = "heat_of_fusion"
	WaterRoom          Property = "water_room"
	WaterSaturated     Property = "water_saturated"
	WaterDiffusivity   Property = "water_diffusivity"
	WaterActivation    Property = "water_activation"
	DryingTemperature  Property = "drying_temperature"
	DryingTime         Property = "drying_time"
	MoistureLimit      Property = "moisture_limit"
	MeltLow            Property = "melt_low"
	MeltHigh           Property = "melt_high"
	MeltCeiling        Property = "melt_ceiling"
	PrintTemperature   Property = "print_temperature"
	TensileStrength    Property = "tensile_strength"
	ImpactNotched      Property = "impact_notched"
	ImpactUnnotched    Property = "impact_unnotched"
	GrindDifficulty    Property = "grind_difficulty"
	BreakageResistance Property = "breakage_resistance"
	MeltFlowRate       Property = "melt_flow_rate"
	BulkChips          Property = "bulk_chips"
	BulkThin           Property = "bulk_thin"
	BulkPellets        Property = "bulk_pellets"
	RefractiveIndex    Property = "refractive_index"
	CrossN             Property = "cross_n"
	CrossD1            Property = "cross_d1"
	CrossD2            Property = "cross_d2"
	CrossA1            Property = "cross_a1"
	CrossA2            Property = "cross_a2"
	CrossTau           Property = "cross_tau"
	PowerM             Property = "power_m"
	PowerN             Property = "power_n"
	PowerFold          Property = "power_fold"
	PowerT0            Property = "power_t0"
	Greenhouse         Property = "greenhouse"
	CradleEnergy       Property = "cradle_energy"
)

// Shape is the family of distribution a value's range is drawn from.
type Shape string

// The shapes. Low and High are always the 10 % and 90 % points.
const (
	Normal    Shape = "normal"     // temperatures
	LogNormal Shape = "log-normal" // positive scales
	Logit     Shape = "logit"      // shares of a whole
	Exact     Shape = "exact"      // a parameter of a set; its scatter sits elsewhere
)

// Description is what is fixed about a property: how it is written, in what
// unit, what is plausible and what it is for.
type Description struct {
	Property Property
	Symbol   string        // "ρ"
	Kind     quantity.Kind // of every value of it
	Lo, Hi   float64       // SI; a value or range outside is a slip, and does not load
	Band     string        // where the band comes from
	Shape    Shape         // what a range is drawn from
	Scatter  float64       // the usual spread where a source gives one number, see below
}

// Scatter is a half-width in K for the normal shape (low = value − Scatter) and
// a factor for the other two (low = value/Scatter, high = value·Scatter). All of
// them are judgement: what these properties differ by between grades and makers.

// Description returns what is fixed about p; ok is false for an unknown name.
func (p Property) Description() (Description, bool) {
	for _, d := range descriptions {
		if d.Property == p {
			return d, true
		}
	}
	return Description{}, false
}

// Name is the code of the property's name.
func (p Property) Name() string { return "property." + string(p) }

// Use is the code of what it is for.
func (p Property) Use() string { return "use." + string(p) }

// Name is the code of the property's name.
func (d Description) Name() string { return d.Property.Name() }

// Use is the code of what it is for.
func (d Description) Use() string { return d.Property.Use() }

// Properties returns what is fixed about every property, in the order of the
// table.
func Properties() []Description { return append([]Description(nil), descriptions...) }

// span returns the range that stands for a source's single value.
func (d Description) span(value float64) (low, high float64) {
	switch d.Shape {
	case Normal:
		return value - d.Scatter, value + d.Scatter
	case Exact:
		return value, value
	}
	low, high = value/d.Scatter, value*d.Scatter
	if d.Shape == Logit && high > 1 {
		high = 1 // a share cannot be more than the whole
	}
	return low, high
}
