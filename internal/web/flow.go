package web

import (
	"math"

	"hopperful/plan"
)

// flowPart is a piece of the ruler that shows where every gram of a campaign
// goes.
type flowPart struct {
	Class   string // how it is drawn
	Name    string
	Shown   string
	X, Wide float64 // of 1000
}

// flowView is the whole ruler.
type flowView struct {
	In    string
	Parts []flowPart
}

// flowOf cuts what goes in into product, what stays in the mill, and what is
// lost; nil when nothing is ground.
func flowOf(b plan.Balance) *flowView {
	in := b.In.Value
	if in <= 0 {
		return nil
	}
	v := &flowView{In: b.In.Shown()}
	x := 0.0
	add := func(class, name, shown string, mass float64) {
		wide := math.Round(1000 * math.Max(0, mass) / in)
		v.Parts = append(v.Parts, flowPart{class, name, shown, x, math.Max(3, wide)})
		x += wide
	}
	add("out", "product", b.Product.Shown(), b.Product.Value)
	add("held", "stays in the mill", b.Left.Shown(), b.Left.Value)
	add("lost", "lost as dust and spill", b.Lost.Shown(), b.Lost.Value)
	return v
}
