package shop

// YesNo is an answer that may be missing; a missing one never counts as yes.
type YesNo string

// The answers.
const (
	Yes     YesNo = "yes"
	No      YesNo = "no"
	Unknown YesNo = ""
)

// Metal a mill's wall is made of.
const (
	Steel      = "steel"
	Stainless  = "stainless steel"
	Aluminium  = "aluminium"
	CastIron   = "cast iron"
	OtherMetal = ""
)

// Mill is a grinder as its owner knows it. A nil pointer means "don't know",
// which widens ranges and never blocks. All numbers SI.
type Mill struct {
	Name            string   `json:"name"`
	RatedPower      *float64 `json:"rated_w,omitempty"`          // electrical, the figure on the label
	ContinuousPower *float64 `json:"continuous_w,omitempty"`     // what the motor may take all day, if known
	Chamber         *float64 `json:"chamber_m3,omitempty"`       // volume the charge tumbles in
	Inlet           *float64 `json:"inlet_m,omitempty"`          // widest piece that goes in
	WallMass        *float64 `json:"wall_kg,omitempty"`          // pot, plate and lid that warm up together
	WallMetal       string   `json:"wall_metal,omitempty"`       // one of the metals above
	Painted         YesNo    `json:"painted,omitempty"`          // painted or dark walls give off more heat than bright ones
	RotorDiameter   *float64 `json:"rotor_m,omitempty"`          // tip to tip
	RotorSpeed      *float64 `json:"rotor_rad_s,omitempty"`      // at full power
	RotorMass       *float64 `json:"rotor_kg,omitempty"`         // blades and what turns with them
	Screen          Screen   `json:"screen"`                     // the perforated sheet the product leaves through
	Jar             *float64 `json:"jar_m3,omitempty"`           // container under the outlet
	Magnet          YesNo    `json:"magnet,omitempty"`           // at the outlet
	LidSwitch       YesNo    `json:"lid_switch,omitempty"`       // stops the rotor when the lid opens
	Earth           YesNo    `json:"protective_earth,omitempty"` // metal parts earthed
	ResidualCurrent YesNo    `json:"residual_current,omitempty"` // on a circuit with a residual-current device
	Noise           *float64 `json:"noise_db,omitempty"`         // dB(A) at the operator's ear, if measured
	Thermometer     Place    `json:"thermometer,omitempty"`      // where temperatures are read
	Controller      *Control `json:"controller,omitempty"`       // nil: the mill runs at full power only
	Retired         bool     `json:"retired,omitempty"`          // no longer used
}

// Screen is the perforated sheet at the outlet of a mill.
type Screen struct {
	Hole      *float64 `json:"hole_m,omitempty"`     // hole size
	OpenShare *float64 `json:"open_share,omitempty"` // hole area over sheet area
}

// Place is where a mill's thermometer is held.
type Place string

// The places.
const (
	NoThermometer Place = ""
	OuterWall     Place = "outer wall"
	InCharge      Place = "in the charge"
)

// Control is the power controller a mill hangs on.
type Control struct {
	Continuous *float64     `json:"continuous_w,omitempty"` // what it may carry all day
	Levels     int          `json:"levels"`                 // 1 … Levels, the highest is full power
	Watts      []LevelWatts `json:"watts,omitempty"`        // measured draw at some levels, grinding
	IdleWatts  []LevelWatts `json:"idle_watts,omitempty"`   // measured draw at some levels, empty
}

// LevelWatts is what a plug-in meter showed at a level.
type LevelWatts struct {
	Level int     `json:"level"`
	Watts float64 `json:"w"`
}

// Scale is a weighing instrument.
type Scale struct {
	Name       string   `json:"name"`
	Resolution float64  `json:"resolution_kg"`         // one digit
	Capacity   *float64 `json:"capacity_kg,omitempty"` // most it carries
	Retired    bool     `json:"retired,omitempty"`
}

// Dryer is what dries granulate; everything but its name and kind may be unknown.
type Dryer struct {
	Name        string   `json:"name"`
	Way         Way      `json:"way"`
	Temperature *float64 `json:"temperature_k,omitempty"` // the hottest it holds steadily
	Bed         *float64 `json:"bed_m,omitempty"`         // how deep the granulate lies in it
	Flow        *float64 `json:"air_m3_s,omitempty"`      // air blown through the granulate
	DewPoint    *float64 `json:"dew_point_k,omitempty"`   // of a dry-air dryer
	Humidity    *float64 `json:"box_humidity,omitempty"`  // that the desiccant of a box keeps
	Retired     bool     `json:"retired,omitempty"`
}

// Printer is a granule-fed printer; everything but its name may be unknown.
type Printer struct {
	Name       string   `json:"name"`
	Nozzle     *float64 `json:"nozzle_m,omitempty"`        // bore
	ScrewBore  *float64 `json:"screw_m,omitempty"`         // barrel diameter
	HeaterWatt *float64 `json:"heaters_w,omitempty"`       // all barrel heaters
	IdleWatt   *float64 `json:"idle_w,omitempty"`          // drawn at the socket, hot and not printing, the bed off
	Hopper     *float64 `json:"hopper_m3,omitempty"`       // volume
	HopperExit *float64 `json:"hopper_exit_m,omitempty"`   // smallest opening of the hopper
	PerTurn    *float64 `json:"per_turn_m3,omitempty"`     // melt volume a screw revolution gives, if measured
	LargestIn  *float64 `json:"largest_grain_m,omitempty"` // largest grain its feed takes
	Retired    bool     `json:"retired,omitempty"`
}
