package prints

import (
	"math"

	"hopperful/figure"
	"hopperful/internal/web/desk"
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
func flowOf(d *desk.Desk, b plan.Balance) *flowView {
	in := b.In.Value
	if in <= 0 {
		return nil
	}
	v := &flowView{In: d.Say.Number(b.In.Shown())}
	x := 0.0
	add := func(class, name, shown string, mass float64) {
		wide := math.Round(1000 * math.Max(0, mass) / in)
		v.Parts = append(v.Parts, flowPart{class, name, shown, x, math.Max(3, wide)})
		x += wide
	}
	for _, part := range []struct {
		class string
		figure.Figure
	}{{"out", b.Product}, {"held", b.Left}, {"lost", b.Lost}} {
		add(part.class, d.Say.Word(part.Name), d.Say.Number(part.Shown()), part.Value)
	}
	return v
}
