package moisture

import (
	"maps"
	"math"
	"testing"

	"hopperful/internal/checkrow"
)

func one(v float64, err error) ([]float64, error) { return []float64{v}, err }

func TestChecks(t *testing.T) {
	t.Parallel()
	funcs := map[string]checkrow.Func{}
	for _, part := range []map[string]checkrow.Func{airRows, uptakeRows, bodyRows, lotRows, dryerRows, weighingRows} {
		maps.Copy(funcs, part)
	}
	checkrow.Run(t, "checks.csv", funcs)
}

// vapour gives a row's vapour pressure from its dew point, or from rh.
func vapour(in checkrow.Inputs) (float64, error) {
	if in.Has("dew") {
		return SaturationPressure(in.Num("dew"))
	}
	return VapourPressure(in.Num("t"), in.Num("rh"))
}

var airRows = map[string]checkrow.Func{
	"SaturationPressure": func(in checkrow.Inputs) ([]float64, error) { return one(SaturationPressure(in.Num("t"))) },
	"VapourPressure": func(in checkrow.Inputs) ([]float64, error) {
		return one(VapourPressure(in.Num("t"), in.Num("rh")))
	},
	"RelativeHumidity": func(in checkrow.Inputs) ([]float64, error) {
		p, err := vapour(in)
		if err != nil {
			return nil, err
		}
		return one(RelativeHumidity(in.Num("t"), p))
	},
	"DewPoint": func(in checkrow.Inputs) ([]float64, error) {
		p, err := vapour(in)
		if err != nil {
			return nil, err
		}
		return one(DewPoint(p))
	},
	"AbsoluteHumidity": func(in checkrow.Inputs) ([]float64, error) {
		p, err := vapour(in)
		if err != nil {
			return nil, err
		}
		return one(AbsoluteHumidity(in.Num("t"), p))
	},
}

// sorption is how much water a row's plastic takes up; Henry's where only one
// end is given.
func sorption(in checkrow.Inputs) Sorption {
	s := Sorption{Saturated: in.Num("saturated")}
	if in.Has("room") {
		s.Room = in.Num("room")
	}
	return s
}

var uptakeRows = map[string]checkrow.Func{
	"EquilibriumWater": func(in checkrow.Inputs) ([]float64, error) {
		return one(EquilibriumWater(sorption(in), in.Num("rh")))
	},
	"HumidityAtRest": func(in checkrow.Inputs) ([]float64, error) {
		return one(HumidityAtRest(sorption(in), in.Num("water")))
	},
	"DiffusivityAt": func(in checkrow.Inputs) ([]float64, error) {
		p := plaLike
		p.Diffusivity, p.Reference, p.Energy = in.Num("diffusivity"), in.Num("reference"), in.Num("energy")
		return one(DiffusivityAt(p, in.Num("t")))
	},
	"VapourDiffusivity": func(in checkrow.Inputs) ([]float64, error) { return one(VapourDiffusivity(in.Num("t"))) },
}

// each runs a row for the shape it names, or for all three.
func each(in checkrow.Inputs, f func(Shape) (float64, error)) ([]float64, error) {
	if in.Has("shape") {
		return one(f(Shape(in.Num("shape"))))
	}
	var all []float64
	for _, s := range [...]Shape{Plate, Cylinder, Sphere} {
		v, err := f(s)
		if err != nil {
			return nil, err
		}
		all = append(all, v)
	}
	return all, nil
}

var bodyRows = map[string]checkrow.Func{
	"Root": func(in checkrow.Inputs) ([]float64, error) {
		return each(in, func(s Shape) (float64, error) { return Root(s, in.Num("biot"), int(in.Num("n"))) })
	},
	"Lost": func(in checkrow.Inputs) ([]float64, error) {
		return each(in, func(s Shape) (float64, error) { return Lost(s, in.Num("biot"), in.Num("f")) })
	},
	"FourierFor": func(in checkrow.Inputs) ([]float64, error) {
		return each(in, func(s Shape) (float64, error) { return FourierFor(s, in.Num("biot"), in.Num("lost")) })
	},
}

func grains(in checkrow.Inputs) Grains {
	return Grains{Shape(in.Num("shape")), in.List("size"), in.List("share")}
}

var lotRows = map[string]checkrow.Func{
	"LotLost": func(in checkrow.Inputs) ([]float64, error) {
		var all []float64
		for _, time := range in.List("time") {
			v, err := LotLost(grains(in), Motion{in.Num("diffusivity"), in.Num("transfer")}, time)
			if err != nil {
				return nil, err
			}
			all = append(all, v)
		}
		return all, nil
	},
	"Uneven": func(in checkrow.Inputs) ([]float64, error) {
		g, err := Uneven(Grains{Sphere, []float64{in.Num("size")}, []float64{1}}, in.Num("spread"))
		if err != nil {
			return nil, err
		}
		var all []float64
		for _, time := range in.List("time") {
			lost, err := LotLost(g, Motion{in.Num("diffusivity"), math.Inf(1)}, time)
			if err != nil {
				return nil, err
			}
			all = append(all, in.Num("start")*(1-lost))
		}
		return all, nil
	},
	"LotTime": func(in checkrow.Inputs) ([]float64, error) {
		return one(LotTime(grains(in), Motion{in.Num("diffusivity"), math.Inf(1)}, in.Num("lost")))
	},
}

// plaLike is the plastic of the dryer rows; its values are near those of PLA.
var plaLike = Plastic{Density: 1240, Saturated: 0.008, Diffusivity: 4.5e-11, Reference: 323.15, Energy: 40e3, Softening: 331.15}

// threeMM are its grains.
var threeMM = Grains{Sphere, []float64{0.003}, []float64{1}}

var dryerRows = map[string]checkrow.Func{
	"BedDiffusivity": func(in checkrow.Inputs) ([]float64, error) {
		return one(BedDiffusivity(plaLike, in.Num("bulk"), in.Num("t")))
	},
	"BedTime": func(in checkrow.Inputs) ([]float64, error) {
		return one(BedTime(plaLike, Bed{1, in.Num("depth"), in.Num("bulk")}, in.Num("t"), in.Num("lost")))
	},
	"CarryTime": func(in checkrow.Inputs) ([]float64, error) {
		d := Dryer{in.Num("t"), 10, in.Num("flow")}
		return one(CarryTime(plaLike, Bed{in.Num("mass"), 0.1, 600}, d, in.Num("lost")))
	},
	"WarmLag": func(in checkrow.Inputs) ([]float64, error) {
		p, d, b := warming(in)
		return one(WarmLag(p, d, b))
	},
	"WarmingLoss": func(in checkrow.Inputs) ([]float64, error) {
		p, d, b := warming(in)
		return one(WarmingLoss(p, d, b))
	},
	"DryingTime": func(in checkrow.Inputs) ([]float64, error) {
		if in.Has("diffusivity") {
			return driedAs(in)
		}
		temperature := 323.15
		if in.Has("t") {
			temperature = in.Num("t")
		}
		box, err := NewDesiccantBox(temperature, in.Num("humidity"))
		if err != nil {
			return nil, err
		}
		d, err := DryingTime(plaLike, threeMM, box, Bed{1, in.Num("depth"), 600}, Need{0.002, in.Num("limit")})
		return one(d.Time, err)
	},
	"WaterAfter": func(in checkrow.Inputs) ([]float64, error) {
		box, err := NewDesiccantBox(323.15, in.Num("humidity"))
		if err != nil {
			return nil, err
		}
		return one(WaterAfter(plaLike, threeMM, box, Stay{in.Num("now"), in.Num("time")}))
	},
	"OpenTime": func(in checkrow.Inputs) ([]float64, error) {
		room, err := NewRoom(323.15, in.Num("humidity"))
		if err != nil {
			return nil, err
		}
		o, err := OpenTime(plaLike, threeMM, room, Need{in.Num("now"), in.Num("limit")})
		return one(o.Time, err)
	},
}

// warming is a bed of 600 kg/m³ that goes into a dryer at 20 °C.
func warming(in checkrow.Inputs) (Plastic, Dryer, Bed) {
	p := plaLike
	p.Heat, p.Comes = in.Num("heat"), 293.15
	if in.Has("energy") {
		p.Energy = in.Num("energy")
	}
	return p, Dryer{in.Num("t"), 10, in.Num("flow")}, Bed{1, in.Num("depth"), 600}
}

// driedAs is the time of pellets of a plastic in a stream of dry air, which
// carries off what they give.
func driedAs(in checkrow.Inputs) ([]float64, error) {
	p := Plastic{Density: 1150, Saturated: in.Num("saturated"), Room: in.Num("room"), Diffusivity: in.Num("diffusivity"), Reference: 323.15,
		Energy: in.Num("energy"), Softening: 473.15, Heat: 1500, Comes: 293.15}
	g, err := Uneven(Grains{Sphere, []float64{in.Num("size")}, []float64{1}}, in.Num("spread"))
	if err != nil {
		return nil, err
	}
	d, err := NewDryAir(in.Num("t"), 243.15, 0.01)
	if err != nil {
		return nil, err
	}
	out, err := DryingTime(p, g, d, Bed{1, 0.1, 600}, Need{in.Num("now"), in.Num("limit")})
	return one(out.Time, err)
}

var weighingRows = map[string]checkrow.Func{
	"LossOnDrying": func(in checkrow.Inputs) ([]float64, error) {
		l, err := LossOnDrying(Weighing{in.Num("before"), in.Num("after"), in.Num("resolution")})
		return []float64{l.Wet, l.Dry}, err
	},
	"SampleFor": func(in checkrow.Inputs) ([]float64, error) {
		return one(SampleFor(in.Num("resolution"), in.Num("limit")))
	},
}
