package shop

// ShopSet names the shop and its surroundings; the latest one holds.
type ShopSet struct {
	Name             string   `json:"name"`
	Currency         string   `json:"currency,omitempty"`          // "EUR"
	ElectricityPrice *float64 `json:"electricity_per_j,omitempty"` // currency per J
	RoomTemperature  *float64 `json:"room_k,omitempty"`            // K
	RoomHumidity     *float64 `json:"room_humidity,omitempty"`     // 0–1
	Handling         *float64 `json:"handling_s,omitempty"`        // time between runs to empty, weigh and fill
	DecimalComma     bool     `json:"decimal_comma,omitempty"`     // how numbers are shown
}

// PersonSet adds or retires a person.
type PersonSet struct {
	Name    string `json:"name"`
	Retired bool   `json:"retired,omitempty"`
}

// MillSet describes a mill; a later one of the same name replaces it.
type MillSet struct {
	Mill Mill `json:"mill"`
}

// ScaleSet describes a scale.
type ScaleSet struct {
	Scale Scale `json:"scale"`
}

// PrinterSet describes a printer.
type PrinterSet struct {
	Printer Printer `json:"printer"`
}

// MaterialSet gives one property of a material this shop's own value.
type MaterialSet struct {
	Polymer  string  `json:"polymer"`
	Property string  `json:"property"` // symbol in package polymer
	Value    float64 `json:"value"`    // SI
	Low      float64 `json:"low"`      // SI, 10 %
	High     float64 `json:"high"`     // SI, 90 %
	Why      string  `json:"why,omitempty"`
}

// NeedSet says what the next print eats; a later one of the same name replaces it.
type NeedSet struct {
	Need Need `json:"need"`
}

// Need is an amount of a polymer that a print wants.
type Need struct {
	Name     string   `json:"name"`
	Polymer  string   `json:"polymer,omitempty"`
	Colour   string   `json:"colour,omitempty"`
	From     string   `json:"from"`                    // "g-code", "mesh" or "typed"
	File     string   `json:"file,omitempty"`          // name of the file it was read from
	Taken    string   `json:"taken,omitempty"`         // what was assumed in reading it, for the reader
	Mass     *float64 `json:"mass_kg,omitempty"`       // typed, or nil: volume times density
	Volume   *float64 `json:"volume_m3,omitempty"`     // of plastic
	VolumeLo *float64 `json:"volume_low_m3,omitempty"` // 10 %, where the reading itself is uncertain
	VolumeHi *float64 `json:"volume_high_m3,omitempty"`
	Time     *float64 `json:"print_s,omitempty"`        // acceleration-limited estimate
	MeanFlow *float64 `json:"mean_flow_m3_s,omitempty"` // while extruding
	PeakFlow *float64 `json:"peak_flow_m3_s,omitempty"` // over one second
	Done     bool     `json:"done,omitempty"`           // printed or given up
}

// TakenIn brings material in from outside: a bin of scrap, a bag of virgin.
type TakenIn struct {
	Lot     LotID    `json:"lot,omitempty"` // empty: the next free label of the class
	Class   Class    `json:"class"`
	Name    string   `json:"name,omitempty"`
	Polymer string   `json:"polymer,omitempty"`
	Sure    *float64 `json:"sure,omitempty"`
	Colour  string   `json:"colour,omitempty"`
	RGB     string   `json:"rgb,omitempty"`
	Halogen YesNo    `json:"halogen,omitempty"`
	Pieces  Pieces   `json:"pieces"`
	Metal   string   `json:"metal,omitempty"`
	Mass    float64  `json:"mass_kg"`
	Price   *float64 `json:"price,omitempty"` // paid for all of it
}

// Sorted splits a lot: by polymer, by colour, or metal cut out.
type Sorted struct {
	From  LotID    `json:"from"`
	Into  []Part   `json:"into"`
	Metal *float64 `json:"metal_kg,omitempty"` // inserts, screws, tape cut out
	Waste *float64 `json:"waste_kg,omitempty"` // thrown away
}

// Part is one heap a lot was sorted into.
type Part struct {
	Lot     LotID    `json:"lot,omitempty"` // empty: a new lot
	Name    string   `json:"name,omitempty"`
	Polymer string   `json:"polymer,omitempty"`
	Sure    *float64 `json:"sure,omitempty"`
	Colour  string   `json:"colour,omitempty"`
	RGB     string   `json:"rgb,omitempty"`
	Pieces  Pieces   `json:"pieces"`
	Mass    float64  `json:"mass_kg"`
}

// Ground is one run of a mill on one charge.
type Ground struct {
	Mill         string   `json:"mill"`
	From         LotID    `json:"from"`
	Into         LotID    `json:"into,omitempty"` // empty: a new regrind lot of the same polymer and colour
	Charge       float64  `json:"charge_kg"`
	Product      *float64 `json:"product_kg,omitempty"` // nil: not weighed
	Left         *float64 `json:"left_kg,omitempty"`    // stayed in the mill
	Swept        *float64 `json:"swept_kg,omitempty"`   // dust and spill gathered and thrown away
	Run          float64  `json:"run_s"`
	Level        *int     `json:"level,omitempty"` // of the controller
	ChargeBefore *float64 `json:"charge_before_k,omitempty"`
	ChargeAfter  *float64 `json:"charge_after_k,omitempty"`
	WallBefore   *float64 `json:"wall_before_k,omitempty"`
	WallAfter    *float64 `json:"wall_after_k,omitempty"`
	Room         *float64 `json:"room_k,omitempty"`
	RestBefore   *float64 `json:"rest_before_s,omitempty"` // since the last run's end
	Energy       *float64 `json:"energy_j,omitempty"`      // by the plug-in meter
	Stalled      bool     `json:"stalled,omitempty"`
	Hole         *float64 `json:"hole_m,omitempty"` // screen in use, when not the mill's
}

// Weighed is a recount: what the scale says a lot has now.
type Weighed struct {
	Lot  LotID   `json:"lot"`
	Mass float64 `json:"mass_kg"`
}

// Printed takes material out of a lot into a print.
type Printed struct {
	From   LotID    `json:"from"`
	Need   string   `json:"need,omitempty"`
	Print  string   `json:"print"` // name of the part
	Mass   float64  `json:"mass_kg"`
	Purged *float64 `json:"purged_kg,omitempty"` // of it: purge, skirts and spill
	Good   YesNo    `json:"good,omitempty"`
	Why    string   `json:"why,omitempty"` // it failed because …
}

// Discarded throws material away.
type Discarded struct {
	Lot  LotID   `json:"lot"`
	Mass float64 `json:"mass_kg"`
	Why  string  `json:"why"`
}

// Void strikes out the record it corrects.
type Void struct {
	Why string `json:"why"`
}
