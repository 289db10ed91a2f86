package toolpath

// Summary is what a print eats, in SI units.
type Summary struct {
	Taken Taken    // how E was read. Edges word it by its value
	E     EMeaning // the same for a program
	EFrom Origin   // who said so

	Volume   float64 // melt extruded by all tools [m³]
	Filament float64 // the same as length of filament, each tool with its diameter [m]

	Time          float64 // by feed rate alone, with dwells [s]
	TimeLimited   float64 // with acceleration, never shorter than Time [s]
	StartTime     float64 // part of TimeLimited before the first layer [s]
	Loaded        float64 // pushed to the nozzle at tool changes, not in Volume [m³]
	StartVolume   float64 // part of Volume before the first layer, such as a prime on the spot [m³]
	ExtrudingTime float64 // part of Time in which melt flows [s]
	MeanFlow      float64 // Volume over ExtrudingTime [m³/s]
	Peak          Peak

	PrintLength  float64 // path covered while extruding [m]
	TravelLength float64 // path covered without extruding [m]
	Box          Box     // around the extruding path

	Layers []Layer // as printed, in order; bounded by Options.MaxLayers
	Tools  []Tool  // tools that extruded or were heated, by number
	Bed    float64 // highest bed temperature set [K], 0 when none was

	Stated   Stated // what the file says of its filament
	Count    Count
	Warnings []Warning // each kind once, by first line
}

// Taken is how E was read.
type Taken string

// How E may be read.
const (
	GivenLength     Taken = "given length"
	GivenVolume     Taken = "given volume"
	GivenTurns      Taken = "given turns"
	StatedLength    Taken = "stated length"    // comments of the file say how thick its filament is
	StatedVolume    Taken = "stated volume"    // it comes to the filament the file says it uses
	CommandedLength Taken = "commanded length" // M200 in the file says how thick
	CommandedVolume Taken = "commanded volume" // M200 in the file says so
	PartlyVolume    Taken = "partly volume"    // where M200 says so, else length
	UsualLength     Taken = "usual length"
)

// Of is what a file says otherwise than it was read.
type Of string

// What may differ.
const (
	Thickness  Of = "thickness"   // of the filament [m]
	Meaning    Of = "meaning"     // of E: the file says volume
	UsedVolume Of = "used volume" // said and moved [m³]
	UsedMass   Of = "used mass"   // said, and by volume and density said [kg]
	UsedLength Of = "used length" // said and moved [m]
)

// Origin says who settled a choice.
type Origin int

// The origins of a choice.
const (
	FromDefault Origin = iota // nobody said: the usual default
	FromFile                  // a word in the file
	FromOption                // the caller
)

// Peak is the highest flow averaged over the window, on the clock of Time.
type Peak struct {
	Flow   float64 // [m³/s]
	Window float64 // [s]
	Z      float64 // height of the layer in which the window ends [m]
	Layer  int     // index into Layers
	Line   int64   // line of the move in which the window ends
}

// Box is an axis-parallel box in machine coordinates [m].
type Box struct {
	Min, Max [3]float64
}

// Layer is one row of the layer table: what was extruded at one height before
// the height changed, or several such stretches merged.
type Layer struct {
	Z, Top float64 // lowest and highest height of the row [m]
	Volume float64 // [m³]
	Time   float64 // acceleration-limited, with the travel that follows [s]
	Peak   float64 // highest flow over the window [m³/s]
	Moves  int64   // extruding moves
	Line   int64   // line of the first one
	Merged int     // layers in this row, 1 unless the table outgrew its bound
}

// Tool is what one tool did.
type Tool struct {
	Number   int
	Volume   float64 // [m³]
	Filament float64 // as length of filament [m]
	Diameter float64 // of that filament [m]
	Time     float64 // in which it extruded, by feed rate [s]
	Nozzle   float64 // highest nozzle temperature set [K], 0 when none was
}

// Count is how much of what was read.
type Count struct {
	Bytes, Lines, Blocks int64 // a block is a line with words
	Moves, Arcs          int64 // arcs are among the moves
	Retractions          int64
	BadLines             int64
	Checksums            int64
}

// Warning is one kind of thing that did not stop the reading and may matter.
type Warning struct {
	Kind  Kind
	Of    Of      // of SaysOtherwise: what differs
	Said  float64 // of SaysOtherwise: by the file [m, m³, kg]
	Found float64 // of SaysOtherwise: as it was given, moved or reckoned, in the same unit
	Line  int64   // where it came up first
	First string  // that line, shortened, where it is known
	Count int64   // how often
}
