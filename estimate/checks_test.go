package estimate

import (
	"math"
	"testing"

	"hopperful/internal/checkrow"
)

func TestChecks(t *testing.T) {
	t.Parallel()
	checkrow.Run(t, "checks.csv", map[string]checkrow.Func{"CoolingFit": coolingFit, "TScale": tScaleMean, "MillFit": millFit, "FirstDay": firstDay})
}

// coolingFit learns from rests alone, with books of its own so that the rows
// stay true when the house's change.
func coolingFit(in checkrow.Inputs) ([]float64, error) {
	rest, wall := in.List("rest"), in.List("wall")
	priors := Prior()
	for _, own := range []struct {
		p              Param
		median, factor float64
	}{{WallCapacity, 1500, 2}, {WallLoss, 0.6, 2}, {LidFactor, 1.6, 1.35}} {
		b := &priors[own.p]
		b.Family, b.Median, b.Low, b.High = LogNormal, own.median, own.median/own.factor, own.median*own.factor
	}
	const room = 293.15
	stopped := room + 40
	var runs []Run
	for i := range rest {
		runs = append(runs, Run{Record: int64(i + 1), Polymer: "PLA", Screen: "s", Charge: 0.1, Time: 60, Largest: 0.035, Thickness: 0.0016,
			Room: room, Rest: &rest[i], WallStopped: &stopped, WallBefore: &wall[i]})
	}
	f, err := Fit(Setup{Area: 0.05, Priors: map[string]Beliefs{"PLA": priors}, exact: true}, runs)
	if err != nil {
		return nil, err
	}
	after := f.Beliefs(priors, Target{Polymer: "PLA", Screen: "s"})
	var out []float64
	for _, of := range []func(Belief) float64{func(b Belief) float64 { return b.Median }, func(b Belief) float64 { return b.Low }, func(b Belief) float64 { return b.High }} {
		for _, p := range []Param{WallCapacity, WallLoss, LidFactor} {
			out = append(out, of(after[p]))
		}
	}
	return out, nil
}

// tScaleMean is the mean of 5 x²/(4 τ² + x²) over the standard normal, by the
// trapezoidal rule, which is as good as exact for it.
func tScaleMean(checkrow.Inputs) ([]float64, error) {
	const step = 0.01
	sum := 0.0
	for x := -12.0; x <= 12; x += step {
		sum += step * math.Exp(-x*x/2) / math.Sqrt(2*math.Pi) * 5 * x * x / (4*tScale*tScale + x*x)
	}
	return []float64{sum}, nil
}

// millFit learns from products and what was left, with books of its own of
// which four are open: break rate, discharge, hold mass and power. The
// discharge asked for is that of the sheet in use.
func millFit(in checkrow.Inputs) ([]float64, error) {
	var lists [5][]float64
	for i, name := range []string{"charge", "time", "watts", "product", "left"} {
		lists[i] = in.List(name)
	}
	priors := Prior()
	for p, v := range map[Param]float64{Toughness: 1, SizeExponent: 1.1, FineShare: 0.25, FineSlope: 0.9, CoarseSlope: 3.5, RotorReach: 0.035,
		RotorSharpness: 3, Hole: 0.003, OpenShare: 0.3, IdleShare: 0.55, PieceShare: 0.45, Dust: 0.01, Hindrance: 2} {
		priors.Known(p, v, 0, priors[p].Source)
	}
	for _, own := range []struct {
		p              Param
		median, factor float64
	}{{BreakRate, 1.5e-4, 2.5}, {Discharge, 0.8, 2.2}, {HoldMass, 0.03, 2}, {PowerScale, 1, PowerSpread}} {
		b := &priors[own.p]
		b.Family, b.Median, b.Low, b.High = LogNormal, own.median, own.median/own.factor, own.median*own.factor
	}
	var runs []Run
	for i := range lists[0] {
		runs = append(runs, Run{Record: int64(i + 1), Polymer: "PLA", Screen: "s", Charge: lists[0][i], Time: lists[1][i], Load: Load{Watts: lists[2][i], Spread: 1.3},
			Largest: 0.035, Thickness: 0.0016, Room: 293.15, Resolution: 0.001, Product: &lists[3][i], Left: &lists[4][i]})
	}
	f, err := Fit(Setup{Area: 0.05, Priors: map[string]Beliefs{"PLA": priors}, exact: true}, runs)
	if err != nil {
		return nil, err
	}
	after := f.Beliefs(priors, Target{Polymer: "PLA", Screen: "s"})
	return []float64{after[BreakRate].Median, after[Discharge].Median, after[HoldMass].Median, after[PowerScale].Median}, nil
}
