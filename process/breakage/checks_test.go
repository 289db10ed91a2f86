package breakage

import (
	"math"
	"testing"

	"hopperful/internal/checkrow"
)

// steel is what the rotor rows are about.
const steel, nu = 7850.0, 0.3

func one(v float64, err error) ([]float64, error) { return []float64{v}, err }

func TestChecks(t *testing.T) {
	t.Parallel()
	funcs := map[string]checkrow.Func{}
	for _, part := range []map[string]checkrow.Func{balanceRows, screenRows, rotorRows, limitRows, curveRows} {
		for name, f := range part {
			funcs[name] = f
		}
	}
	checkrow.Run(t, "checks.csv", funcs)
}

var screenRows = map[string]checkrow.Func{
	"OpenShare": func(in checkrow.Inputs) ([]float64, error) {
		return one(OpenShare(Pattern(in.Num("pattern")), in.Num("hole"), in.Num("pitch")))
	},
	"LeavingRate": func(in checkrow.Inputs) ([]float64, error) {
		s := Screen{Hole: in.Num("hole"), OpenShare: in.Num("open"), Rate: in.Num("rate")}
		if in.Has("hindrance") {
			s.Hindrance = in.Num("hindrance")
		}
		return one(LeavingRate(s, in.Num("lo"), in.Num("hi")))
	},
	"PowerAt": func(in checkrow.Inputs) ([]float64, error) {
		return one(PowerAt(Power{in.Num("net"), in.Num("least")}, in.Num("held")))
	},
	"FeedFiner": func(in checkrow.Inputs) ([]float64, error) {
		return one(FeedFiner(in.Num("x"), in.Num("largest"), in.Num("typical"), in.Num("thickness")))
	},
}

var rotorRows = map[string]checkrow.Func{
	"TipSpeed": func(in checkrow.Inputs) ([]float64, error) { return tip(in) },
	"RingStress": func(in checkrow.Inputs) ([]float64, error) {
		v, err := tip(in)
		if err != nil {
			return nil, err
		}
		return one(RingStress(steel, v[0]))
	},
	"DiscStress": func(in checkrow.Inputs) ([]float64, error) {
		v, err := tip(in)
		if err != nil {
			return nil, err
		}
		return one(DiscStress(steel, v[0], nu))
	},
	"BoreStress": func(in checkrow.Inputs) ([]float64, error) {
		w, err := OmegaFromRPM(in.Num("rpm"))
		if err != nil {
			return nil, err
		}
		return one(BoreStress(steel, w, in.Num("D")/2, in.Num("bore"), nu))
	},
	"RotorEnergy": func(in checkrow.Inputs) ([]float64, error) {
		i, err := DiscInertia(in.Num("mass"), in.Num("r"))
		if err != nil {
			return nil, err
		}
		w, err := OmegaFromRPM(in.Num("rpm"))
		if err != nil {
			return nil, err
		}
		e, err := RotorEnergy(i, w)
		return []float64{i, e}, err
	},
	"BladePull": func(in checkrow.Inputs) ([]float64, error) {
		w, err := OmegaFromRPM(in.Num("rpm"))
		if err != nil {
			return nil, err
		}
		return one(BladePull(steel, w, in.Num("R"), in.Num("r")))
	},
	"BladeBending": func(in checkrow.Inputs) ([]float64, error) {
		return one(BladeBending(in.Num("F"), in.Num("arm"), in.Num("b"), in.Num("h")))
	},
	"BlowForce": func(in checkrow.Inputs) ([]float64, error) { return one(BlowForce(in.Num("E"), in.Num("s"))) },
	"SectionEnergy": func(in checkrow.Inputs) ([]float64, error) {
		return one(SectionEnergy(in.Num("impact"), in.Num("area")))
	},
}

func tip(in checkrow.Inputs) ([]float64, error) {
	w, err := OmegaFromRPM(in.Num("rpm"))
	if err != nil {
		return nil, err
	}
	return one(TipSpeed(in.Num("D"), w))
}

const degree = math.Pi / 180

var limitRows = map[string]checkrow.Func{
	"PhaseVoltage": func(in checkrow.Inputs) ([]float64, error) { return one(PhaseVoltage(in.Num("deg") * degree)) },
	"PhasePower":   func(in checkrow.Inputs) ([]float64, error) { return one(PhasePower(in.Num("deg") * degree)) },
	"PhaseAngle": func(in checkrow.Inputs) ([]float64, error) {
		a, err := PhaseAngle(in.Num("share"))
		return []float64{a / degree}, err
	},
	"StallTorqueShare": func(in checkrow.Inputs) ([]float64, error) { return one(StallTorqueShare(in.Num("share"))) },
	"SeriesMotorSpeed": func(in checkrow.Inputs) ([]float64, error) {
		return one(SeriesMotorSpeed(20000, 230, 3, 4, in.Num("reduced"))) // any unit of speed: it scales
	},
	"FillShare": func(in checkrow.Inputs) ([]float64, error) {
		return one(FillShare(in.Num("mass"), in.Num("bulk"), in.Num("chamber")))
	},
	"LargestPiece": func(in checkrow.Inputs) ([]float64, error) {
		return one(LargestPiece(in.Num("smallest")))
	},
	"StallChance": func(in checkrow.Inputs) ([]float64, error) {
		return one(StallChance(DefaultStall, in.Num("fill"), in.Num("ratio"), in.Num("level")))
	},
}
