package shop

import (
	"math"
	"testing"
)

// TestLossesOfOneNameAreOne: what left a lot by one name is one figure, and another lot's
// losses are none of it.
func TestLossesOfOneNameAreOne(t *testing.T) {
	t.Parallel()
	l := Losses{more: []Loss{{Name: "dust", Lot: "R1", Mass: 0.001}, {Name: "water", Lot: "R1", Mass: 0.004}, {Name: "dust", Lot: "R2", Mass: 0.5}, {Name: "dust", Lot: "R1", Mass: 0.002}}}
	all := l.ByName("R1")
	if len(all) != 2 || all[0].Name != "dust" || all[1].Name != "water" {
		t.Fatalf("the losses are %+v", all)
	}
	if math.Abs(all[0].Mass-0.003) > 1e-12 || all[1].Mass != 0.004 {
		t.Errorf("the losses are %+v", all)
	}
	if l.more[0].Mass != 0.001 {
		t.Error("adding changed what was booked")
	}
}

// TestConstituentsAddUp: the parts of a lot are its mass, each in its share.
func TestConstituentsAddUp(t *testing.T) {
	t.Parallel()
	s := write(t, workbench(t), Record{Body: &TakenIn{Lot: "V7", Class: Virgin, Polymer: "PLA", Mass: 1}}, Record{Body: &TakenIn{Lot: "V8", Class: Virgin, Polymer: "PLA", Mass: 1}},
		Record{Body: &Blended{From: []Portion{{"V7", 0.3}, {"V8", 0.1}}, Into: "B7"}}, Record{Body: &Discarded{Lot: "B7", Mass: 0.2}})
	made := s.Constituents("B7")
	if len(made) != 2 || math.Abs(made[0].Mass-0.15) > 1e-12 || math.Abs(made[1].Mass-0.05) > 1e-12 {
		t.Errorf("200 g of three parts and one are %+v", made)
	}
	if shares := s.Composition("B7"); math.Abs(shares[0].Mass-0.75) > 1e-12 {
		t.Errorf("the shares became %+v", shares)
	}
	if s.Constituents("B99") != nil {
		t.Error("a lot that is not has constituents")
	}
	if two := MassOf(s.Stock(Blend)); math.Abs(two-0.2) > 1e-12 {
		t.Errorf("the blends are %g kg", two)
	}
}
