package web

import (
	"fmt"

	"hopperful/plan/blend"
)

// wayOut is what to do about a lot that cannot have given so much.
type wayOut struct {
	Say string
	Do  link
}

// overdrawn refuses more of the lot weighed last than the records can take out of it,
// while it is still on the scale, and says what to do; here is the address that asks
// with what was typed.
func (b *batch) overdrawn(d *desk, put blend.Weighed, here string) (string, []wayOut) {
	last := put[len(put)-1]
	if d.state.Enough(last.Lot, last.Mass) == nil {
		return "", nil
	}
	lot, before := d.state.Lots.At(last.Lot), put[:len(put)-1]
	all := append(append(blend.Weighed{}, before...), last)
	all[len(before)].Mass = lot.Mass
	say := fmt.Sprintf("That is %s of %s, and the lot has only %s. Check the scale and what you typed.", weighedOut(last.Mass), last.Lot, weighedOut(lot.Mass))
	recount := wayOut{fmt.Sprintf("%s did hold more: write down what is left of it together with these %s.", last.Lot, weighedOut(last.Mass)),
		link{"/record/weigh?lot=" + queryEscape(string(last.Lot)) + "&next=" + queryEscape(here), "Recount " + string(last.Lot)}}
	rest := "the rest is made up from the other lots."
	if len(all) == len(b.Take) {
		rest = "the blend comes out that much smaller."
	}
	less := wayOut{fmt.Sprintf("Some of it is another lot, or is too much: take some out again until the scale shows %s; %s", weighedOut(all.Total()), rest),
		link{b.at("weigh", all), fmt.Sprintf("Go on with %s of %s", weighedOut(lot.Mass), last.Lot)}}
	return say, []wayOut{recount, less}
}
