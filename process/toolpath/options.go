package toolpath

import (
	"hopperful/process"
)

// EMeaning is what a number behind the letter E stands for.
type EMeaning int

// The meanings of an E word.
const (
	EUnsaid     EMeaning = iota // take the usual default, or what M200 in the file says
	EFilament                   // length of filament
	EVolume                     // volume of melt
	ERevolution                 // revolutions of a screw
	EMixed                      // only in a result: the file changes its mind by M200
)

// Options say how to read. The zero value takes every default.
type Options struct {
	E             EMeaning  // what E counts; EUnsaid takes filament, or volume once M200 D says so
	Diameter      float64   // filament diameter [m], 0.1 mm to 20 mm; 0 takes 1.75 mm
	Diameters     []float64 // by tool, or one for all [m]; where 0 or missing Diameter stands
	Believed      bool      // E and Diameters are what the file says of itself
	PerRevolution float64   // melt a screw turn delivers [m³], needed for ERevolution
	Acceleration  float64   // along the path [m/s²], 0.001 to 1000; 0 takes 1; M204 in the file wins
	Jump          float64   // change of velocity a corner may make [m/s], 1e-9 to 1; 0 takes 0.01
	Window        float64   // over which peak flow is averaged [s], 0.01 to 3600; 0 takes 1
	Feed          float64   // speed before the first F word [m/s], 1e-5 to 10; 0 takes 0.025

	MaxLayers int               // rows of the layer table, 2 to 1e6; 0 takes 5000
	MaxBytes  int64             // refuse a longer stream; 0 sets no bound
	Progress  func(bytes int64) // called with the bytes read so far, by one goroutine at a time, while Read runs
}

// The defaults of Options: common practice, no source.
const (
	DefaultDiameter     = 1.75e-3 // [m]
	DefaultAcceleration = 1.0     // [m/s²]
	DefaultJump         = 0.01    // [m/s]
	DefaultWindow       = 1.0     // [s]
	DefaultFeed         = 0.025   // [m/s], 1500 mm/min
	DefaultMaxLayers    = 5000
)

// filled returns the options with defaults in place, or what is wrong.
func (o Options) filled() (Options, error) {
	if o.E < EUnsaid || o.E > ERevolution {
		return o, &process.RangeError{Name: "meaning of E", Value: float64(o.E),
			Lo: float64(EUnsaid), Hi: float64(ERevolution), Source: "own derivation"}
	}
	fill := func(v *float64, usual float64) {
		if *v == 0 {
			*v = usual
		}
	}
	fill(&o.Diameter, DefaultDiameter)
	fill(&o.Acceleration, DefaultAcceleration)
	fill(&o.Jump, DefaultJump)
	fill(&o.Window, DefaultWindow)
	fill(&o.Feed, DefaultFeed)
	if o.MaxLayers == 0 {
		o.MaxLayers = DefaultMaxLayers
	}
	for _, c := range []struct {
		name   string
		v      float64
		lo, hi float64
		unit   string
	}{
		{"filament diameter", o.Diameter, 1e-4, 0.02, "m"},
		{"acceleration", o.Acceleration, 1e-3, 1000, "m/s²"},
		{"velocity jump at a corner", o.Jump, 1e-9, 1, "m/s"},
		{"peak-flow window", o.Window, 0.01, 3600, "s"},
		{"speed before the first F word", o.Feed, 1e-5, 10, "m/s"},
		{"rows of the layer table", float64(o.MaxLayers), 2, 1e6, ""},
	} {
		if err := process.Within(c.name, c.v, c.lo, c.hi, c.unit, "judgement"); err != nil {
			return o, err
		}
	}
	for _, d := range o.Diameters {
		if d != 0 {
			if err := process.Within("filament diameter", d, 1e-4, 0.02, "m", "judgement"); err != nil {
				return o, err
			}
		}
	}
	if o.E == ERevolution {
		if err := process.Within("volume per screw turn", o.PerRevolution, 1e-12, 1, "m³", "judgement"); err != nil {
			return o, err
		}
	}
	return o, nil
}
