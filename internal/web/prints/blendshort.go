package prints

import (
	"hopperful/fact"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/plan/blend"
)

// wayOut is what to do about a lot that cannot have given so much.
type wayOut struct {
	Say string
	Do  address.Link
}

// overdrawn refuses more of the lot weighed last than the records can take out of it,
// while it is still on the scale, and says what to do; here is the address that asks
// with what was typed.
func (b *batch) overdrawn(d *desk.Desk, put blend.Weighed, here string) (string, []wayOut) {
	last := put[len(put)-1]
	if d.State.Enough(last.Lot, last.Mass) == nil {
		return "", nil
	}
	lot, before := d.State.Lots.At(last.Lot), put[:len(put)-1]
	all := append(append(blend.Weighed{}, before...), last)
	all[len(before)].Mass = lot.Mass
	mass := func(name string, kg float64) fact.Fact { return fact.Weighed(name, kg) }
	id, used, has := fact.Name("lot", string(last.Lot)), mass("used", last.Mass), mass("has", lot.Mass)
	recount := wayOut{d.Say.Line("page.short_recount", id.As("lot"), used.As("used")),
		address.Link{To: "/record/weigh?lot=" + address.Query(string(last.Lot)) + "&next=" + address.Query(here), Say: d.Say.Line("page.short_recount_it", id.As("lot"))}}
	out := d.Say.Line("page.short_less", mass("shows", all.Total()))
	if len(all) == len(b.Take) {
		out = d.Say.Line("page.short_smaller", mass("shows", all.Total()))
	}
	less := wayOut{out, address.Link{To: b.at("weigh", all), Say: d.Say.Line("page.short_go_on", has.As("has"), id.As("lot"))}}
	return d.Say.Line("page.short", used.As("used"), id.As("lot"), has.As("has")), []wayOut{recount, less}
}
