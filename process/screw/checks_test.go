package screw

import (
	"maps"
	"math"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/process/melt"
)

func one(v float64, err error) ([]float64, error) { return []float64{v}, err }

func span(s melt.Span, err error) ([]float64, error) { return []float64{s.Low, s.High}, err }

func flag(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

func TestChecks(t *testing.T) {
	t.Parallel()
	funcs := map[string]checkrow.Func{}
	for _, part := range []map[string]checkrow.Func{screwRows, pumpRows, operateRows, heatRows, stayRows, weighRows, limitRows} {
		maps.Copy(funcs, part)
	}
	checkrow.Run(t, "checks.csv", funcs)
}

// or reads an input that a row may leave out.
func or(in checkrow.Inputs, name string, otherwise float64) float64 {
	if in.Has(name) {
		return in.Num(name)
	}
	return otherwise
}

// screwOf reads the screw of a row; its lead may be given by the helix angle.
func screwOf(in checkrow.Inputs) Screw {
	d := in.Num("D")
	lead := math.Pi * d * math.Tan(or(in, "deg", 0)*math.Pi/180)
	if in.Has("lead") {
		lead = in.Num("lead")
	}
	return Screw{Diameter: d, Lead: lead, Flight: in.Num("e"), Clearance: or(in, "gap", 0), FeedDepth: in.Num("feed"),
		DepthIn: or(in, "in", in.Num("h")), DepthOut: in.Num("h"), Pump: in.Num("L"), Heated: in.Num("L")}
}

func omega(in checkrow.Inputs) float64 { return 2 * math.Pi * in.Num("rpm") / 60 }

func against(in checkrow.Inputs) Against {
	return Against{in.Num("p"), in.Num("eta"), or(in, "gapeta", in.Num("eta"))}
}

var screwRows = map[string]checkrow.Func{
	"TurnVolume": func(in checkrow.Inputs) ([]float64, error) { return one(TurnVolume(screwOf(in))) },
	"MeltVolume": func(in checkrow.Inputs) ([]float64, error) { return one(MeltVolume(screwOf(in), in.Num("head"))) },
	"Check":      func(in checkrow.Inputs) ([]float64, error) { return []float64{0}, screwOf(in).Check() },
	"IntakeFlow": func(in checkrow.Inputs) ([]float64, error) {
		return one(IntakeFlow(screwOf(in), Feed{in.Num("bulk"), in.Num("filling")}, omega(in)))
	},
}

var pumpRows = map[string]checkrow.Func{
	"DragFlow": func(in checkrow.Inputs) ([]float64, error) { return one(DragFlow(screwOf(in), omega(in))) },
	"BackFlow": func(in checkrow.Inputs) ([]float64, error) {
		a := against(in)
		return one(screwOf(in).back()*a.Pressure/a.Channel, a.check(false))
	},
	"LeakFlow": func(in checkrow.Inputs) ([]float64, error) {
		a := against(in)
		return one(screwOf(in).leak()*a.Pressure/a.Gap, nil)
	},
	"NetFlow": func(in checkrow.Inputs) ([]float64, error) {
		drag, err := DragFlow(screwOf(in), omega(in))
		if err != nil {
			return nil, err
		}
		a := against(in)
		return one(drag-screwOf(in).back()*a.Pressure/a.Channel, a.check(false))
	},
}

// curveOf makes a Cross curve where the row gives a critical stress.
func curveOf(in checkrow.Inputs, zero float64) (melt.Curve, error) {
	if in.Has("stress") {
		return melt.NewCross(melt.CrossSet{Zero: zero, Stress: in.Num("stress"), N: in.Num("n")})
	}
	return melt.NewPower(zero, in.Num("n"))
}

// headOf puts the row's screw before the nozzle of the rows.
func headOf(in checkrow.Inputs) (Head, error) {
	inScrew, err := curveOf(in, in.Num("zero"))
	if err != nil {
		return Head{}, err
	}
	inNozzle, err := curveOf(in, or(in, "nozzle", in.Num("zero")))
	z := melt.Nozzle{Bore: 1e-3, Land: 2e-3, Entry: 6e-3, Taper: or(in, "taper", 4e-3)}
	return Head{screwOf(in), z, inScrew, inNozzle, in.Num("loss")}, err
}

var operateRows = map[string]checkrow.Func{
	"Operating": func(in checkrow.Inputs) ([]float64, error) {
		h, err := headOf(in)
		if err != nil {
			return nil, err
		}
		p, err := Operating(h, omega(in))
		return []float64{p.Flow, p.Pressure, p.Drag, p.Back, p.Leak}, err
	},
	"SpeedFor": func(in checkrow.Inputs) ([]float64, error) {
		h, err := headOf(in)
		if err != nil {
			return nil, err
		}
		return one(SpeedFor(h, in.Num("flow"), in.Num("most")))
	},
}

func heating(in checkrow.Inputs) Heating {
	return Heating{Heaters: in.Num("heaters"), Efficiency: in.Num("eff"), Loss: or(in, "loss", 0), Shaft: in.Num("shaft"), Heat: in.Num("heat")}
}

var heatRows = map[string]checkrow.Func{
	"MeltPower":  func(in checkrow.Inputs) ([]float64, error) { return one(MeltPower(in.Num("flow"), in.Num("heat"))) },
	"HeaterFlow": func(in checkrow.Inputs) ([]float64, error) { return one(HeaterFlow(heating(in))) },
	"FeedTakes": func(in checkrow.Inputs) ([]float64, error) {
		t, err := FeedTakes(in.Num("depth"))
		return []float64{t.Runs, t.Enters}, err
	},
	"BarrelLoss": func(in checkrow.Inputs) ([]float64, error) {
		return one(BarrelLoss(in.Num("known"), in.Num("at"), in.Num("height")))
	},
	// Drawn is the power at the socket: the share of the time the heaters are on, of their rating.
	"Drawn": func(in checkrow.Inputs) ([]float64, error) {
		duty, err := HeaterDuty(heating(in), in.Num("flow"))
		return []float64{duty * in.Num("heaters")}, err
	},
	"HeaterDuty": func(in checkrow.Inputs) ([]float64, error) { return one(HeaterDuty(heating(in), in.Num("flow"))) },
	"ShaftPower": func(in checkrow.Inputs) ([]float64, error) {
		return one(ShaftPower(screwOf(in), omega(in), against(in)))
	},
}

func hot(in checkrow.Inputs) Hot {
	return Hot{in.Num("degrade"), in.Num("volume"), or(in, "flow", 1e-7), in.Num("oldest")}
}

var stayRows = map[string]checkrow.Func{
	"MeanResidence": func(in checkrow.Inputs) ([]float64, error) {
		return one(MeanResidence(in.Num("volume"), in.Num("flow")))
	},
	"AgedShare": func(in checkrow.Inputs) ([]float64, error) { return one(AgedShare(in.Num("t"))) },
	"AgedTime":  func(in checkrow.Inputs) ([]float64, error) { return one(AgedTime(in.Num("left"))) },
	"PurgeMass": func(in checkrow.Inputs) ([]float64, error) {
		return span(PurgeMass(in.Num("volume"), in.Num("density"), in.Num("left")))
	},
	"HoldTime":  func(in checkrow.Inputs) ([]float64, error) { return one(HoldTime(hot(in))) },
	"LeastFlow": func(in checkrow.Inputs) ([]float64, error) { return one(LeastFlow(hot(in))) },
	"DegradeTime": func(in checkrow.Inputs) ([]float64, error) {
		return one(DegradeTime(Ageing{in.Num("time"), in.Num("at"), in.Num("energy")}, in.Num("T")))
	},
}

var weighRows = map[string]checkrow.Func{
	"FlowFactor": func(in checkrow.Inputs) ([]float64, error) {
		m, err := melt.Average(in.List("values"))
		if err != nil {
			return nil, err
		}
		v, interval, err := FlowFactor(in.Num("now"), in.Num("wanted"), m)
		return []float64{v, interval.Low, interval.High}, err
	},
}

// lineOf is the 16 mm head of the limit rows.
func lineOf(in checkrow.Inputs) (Line, error) {
	c, err := melt.NewCross(melt.CrossSet{Zero: 5441.46, Stress: 100861, N: 0.25})
	s := Screw{16e-3, 16e-3, 1.6e-3, 0.1e-3, 2e-3, 2e-3, 2e-3, 0.16, 0.16}
	z := melt.Nozzle{Bore: 1e-3, Land: 2e-3, Entry: 6e-3, Taper: 4e-3}
	return Line{Head{s, z, c, c, 2}, Feed{893.6, in.Num("filling")}, 1120, 2 * math.Pi, in.Num("most"),
		Heating{Heaters: in.Num("heaters"), Efficiency: 0.6, Heat: 353.5e3}}, err
}

var limitRows = map[string]checkrow.Func{
	"LargestFlows": func(in checkrow.Inputs) ([]float64, error) {
		l, err := lineOf(in)
		if err != nil {
			return nil, err
		}
		bounds, err := LargestFlows(l)
		if err != nil {
			return nil, err
		}
		order := map[Cause]int{Starve: 0, Flood: 1, Pressure: 2, Heater: 3}
		all := make([]float64, 5)
		for _, b := range bounds {
			all[order[b.By]] = b.Flow
		}
		all[4] = float64(order[bounds[0].By])
		return all, nil
	},
	"RunAt": func(in checkrow.Inputs) ([]float64, error) {
		l, err := lineOf(in)
		if err != nil {
			return nil, err
		}
		s, err := RunAt(l, in.Num("flow"))
		return []float64{s.Omega, flag(s.Starved)}, err
	},
	"Fits": func(in checkrow.Inputs) ([]float64, error) {
		found, err := Fits(Passage{in.Num("grain"), in.Num("hole"), in.Num("bore"), in.Num("feed")})
		all := []float64{float64(len(found))}
		rank := map[Fault]float64{GrainAboveChannel: 1, NozzleBelowScreen: 2, GrainFillsChannel: 3, NozzleNearScreen: 4, NozzleBelowGrain: 5}
		for _, f := range found {
			all = append(all, rank[f.Fault])
		}
		return all, err
	},
}
