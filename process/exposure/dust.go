package exposure

// Facts about dust that compute. They help to see when a layer is too much;
// whether a dust can explode only a test of that dust says. Keep layers away, keep
// sparks away, ask the local authority.

import (
	"hopperful/process"
)

// Sizes that count as dust [m].
const (
	DustSize    = 500e-6 // GtEngineering2026 quoting ISO/IEC 80079-20-2: nominal size at or below
	OldDustSize = 420e-6 // TamuDust2026: older North American rules, passes sieve No. 40
)

const (
	inch           = 0.0254     // [m], exact
	pound          = 0.45359237 // [kg], exact
	foot           = 12 * inch
	layerReference = inch / 32                         // layer that counts at the reference density [m]
	layerDensity   = 75 * pound / (foot * foot * foot) // reference bulk density, 75 lb/ft³ [kg/m³]
)

// Cloud is how readily a fine powder ignites as a cloud, as published for one
// sample; another sample of the same polymer can be worse.
type Cloud struct {
	Material string
	Least    float64 // minimum explosible concentration [kg/m³]
	Ignition float64 // minimum ignition energy [J]; 0 where not given
	Pressure float64 // largest overpressure [Pa]; 0 where not given
	Kst      float64 // [Pa m/s]; 0 where not given
	Source   string  // key of the bibliography
}

const (
	bar = 1e5
	psi = 6894.757
)

// Clouds are the values found. None is for filament regrind of PLA, PETG or
// ABS: treat those as combustible until tested.
var Clouds = []Cloud{
	{"PA 12", 0.030, 0, 6.76 * bar, 116.6 * bar, "Kuracina2023"},
	{"UHMW-PE", 0.060, 0, 6.47 * bar, 97.1 * bar, "Kuracina2023"},
	{"PMMA", 0.030, 0.020, 84 * psi, 0, "Ludwig1995"},
	{"MMA-styrene-butadiene-acrylonitrile (like ABS)", 0.025, 0.020, 87 * psi, 0, "Ludwig1995"},
	{"acetal", 0.035, 0.020, 113 * psi, 0, "Ludwig1995"},
	{"acrylonitrile polymer", 0.025, 0.020, 89 * psi, 0, "Ludwig1995"},
	{"polystyrene", 0.020, 0, 0, 0, "Dustwatch2026"},
}

// LayerDepth returns the depth of settled dust that counts as a hazard [m].
//
//	bulk  bulk density of the settled dust [kg/m³], 1 to 10000
//
// Equation: LD = (1/32 in)(75 lb/ft³)/ρ_b below 75 lb/ft³ (1201 kg/m³), 1/32 in above; an area mass of 0.954 kg/m².
// Holds for: layers over more than 5 % of the floor or 92.9 m² (1000 ft²); cleaning comes long before.
// Source: OSHAMemo2015 for the figures; the form from memory.
// Errors: RangeError for bulk out of range.
// Checks: LayerDepth rows of checks.csv (7 from memory).
func LayerDepth(bulk float64) (float64, error) {
	if err := process.Within("bulk density of the dust", bulk, 1, 1e4, "kg/m³", "judgement"); err != nil {
		return 0, err
	}
	return layerReference * max(1, layerDensity/bulk), nil
}

// LayerHazard reports whether settled dust is too much by the layer rule, by its
// bulk density [kg/m³], depth [m], the area it covers and that of the floor [m²].
//
//	bulk   bulk density of the settled dust [kg/m³], 1 to 10000
//	depth  depth of the layer [m], 0 to 10
//	area   area of the layer [m²], 0 or above
//	floor  area of the floor [m²], above 0
//
// Equation: hazard when depth > LD over more than 5 % of the floor or 92.9 m², or depth × area > LD × 5 % of the floor or LD × 92.9 m².
// Holds for: a first look; a false answer says nothing about safety.
// Source: OSHAMemo2015.
// Errors: RangeError for an argument out of range.
// Checks: LayerHazard rows of checks.csv (4 own derivation).
func LayerHazard(bulk, depth, area, floor float64) (bool, error) {
	limit, err := LayerDepth(bulk)
	if err != nil {
		return false, err
	}
	if err := process.Within("depth of the layer", depth, 0, 10, "m", "judgement"); err != nil {
		return false, err
	}
	if err := process.Within("area of the layer", area, 0, 1e6, "m²", "judgement"); err != nil {
		return false, err
	}
	if err := process.Above("area of the floor", floor, 0, "m²", "own derivation"); err != nil {
		return false, err
	}
	most := min(0.05*floor, 1000*foot*foot)
	return depth*area > limit*most, nil // deeper over more than that is more as well
}

// LayerCloud returns the concentration of a layer whirled up into a room [kg/m³].
//
//	bulk    bulk density of the layer [kg/m³], above 0
//	depth   depth of the layer [m], 0 or above
//	share   share of the floor it covers [–], 0 to 1
//	height  height of the room [m], above 0
//
// Equation: C = ρ_b h · share/H.
// Holds for: an even cloud; local clouds are richer.
// Source: own derivation.
// Errors: RangeError for an argument out of range.
// Checks: LayerCloud rows of checks.csv (2 own derivation).
func LayerCloud(bulk, depth, share, height float64) (float64, error) {
	if err := process.Above("bulk density of the dust", bulk, 0, "kg/m³", "own derivation"); err != nil {
		return 0, err
	}
	if err := process.Within("depth of the layer", depth, 0, 10, "m", "judgement"); err != nil {
		return 0, err
	}
	if err := process.Within("share of the floor", share, 0, 1, "", "own derivation"); err != nil {
		return 0, err
	}
	if err := process.Above("height of the room", height, 0, "m", "own derivation"); err != nil {
		return 0, err
	}
	return bulk * depth * share / height, nil
}

// DustClass returns the class of a dust by its K_St: 1 up to 200 bar m/s, 2 up
// to 300, 3 above; 0 for none.
//
//	kst  K_St of the dust [Pa m/s], 0 or above
//
// Equation: St 1: 0 < K_St ≤ 200 bar m/s; St 2: ≤ 300; St 3: above.
// Holds for: values from 20 L or 1 m³ tests.
// Source: Guttridge2026.
// Errors: RangeError for kst out of range.
// Checks: DustClass rows of checks.csv (4 published).
func DustClass(kst float64) (int, error) {
	if err := process.Within("K_St", kst, 0, 1e9, "Pa m/s", "judgement"); err != nil {
		return 0, err
	}
	switch {
	case kst == 0:
		return 0, nil
	case kst <= 200*bar:
		return 1, nil
	case kst <= 300*bar:
		return 2, nil
	}
	return 3, nil
}
