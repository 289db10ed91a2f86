package web

import (
	"testing"

	"hopperful/internal/web/figures"
)

// TestAFigureIsExplainedOnce, and found from everywhere else; one that differs in
// anything it shows is another.
func TestAFigureIsExplainedOnce(t *testing.T) {
	t.Parallel()
	part := func(kg string) figures.View {
		return figures.View{Name: "mass of the part", Value: kg, Unit: "kg", How: "m = ρ V", Inputs: []figures.View{{Name: "volume", Value: "1"}, {Name: "density", Value: "1240", Records: []int64{1, 2, 3, 4}}}}
	}
	list := []figures.View{{Name: "wanted", Value: "2", Inputs: []figures.View{part("1"), part("1.1")}}, part("1"), {Name: "charges", Value: "9", Inputs: []figures.View{part("1.1")}}}
	o := figures.Once{}
	o.Figures(list)
	first, other := list[0].Inputs[0], list[0].Inputs[1]
	if first.Same != "" || len(first.Inputs) != 2 || first.Inputs[1].ID == "" {
		t.Errorf("the first place explains it as %+v", first)
	}
	if list[1].Same != "#"+first.ID || list[1].Inputs != nil || list[1].How != "" || !list[1].HasWhy() || list[1].Plain() != "1 kg" {
		t.Errorf("the second place shows %+v", list[1])
	}
	if other.Same != "" || other.Inputs[1].Same != "#"+first.Inputs[1].ID {
		t.Errorf("another mass is %+v", other)
	}
	if list[2].Inputs[0].Same != "#"+other.ID {
		t.Errorf("deeper down it is %+v", list[2].Inputs[0])
	}
	if v := other.Inputs[0]; v.Same != "" || v.ID != "" {
		t.Errorf("what has no reasons is %+v", v)
	}
}
