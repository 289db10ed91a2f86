package sheets

import (
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/polymer"
	"hopperful/shop"
)

// materialSheet gives one property of a material this shop's own value. The
// address names the two.
func materialSheet(d *desk.Desk) forms.Sheet {
	p := polymer.Property(d.Query("property"))
	desc, _ := p.Description()
	unit := desc.Kind.Default()
	return forms.Sheet{
		Kind: "material_set", Title: d.Query("polymer") + ": " + d.Say.Word(p.Name()), Submit: "form.use_this_value", Place: "materials",
		Intro: "form.own_value_intro",
		Groups: []forms.Group{{Fields: []forms.Field{
			{Path: "polymer", As: forms.AsHidden, First: d.Query("polymer"), Must: true},
			{Path: "property", As: forms.AsHidden, First: d.Query("property"), Must: true},
			forms.Amount("value", "form.value", desc.Kind, unit, d.Say.Word(desc.Use())).Needed(),
			forms.Amount("low", "form.low_end", desc.Kind, unit, "form.low_help").Needed(),
			forms.Amount("high", "form.high_end", desc.Kind, unit, "form.high_help").Needed(),
			forms.Text("why", "form.where_it_comes_from", "form.own_value_source_help"),
		}}},
		Check: checkOwnValue,
		After: func(_ *shop.State, r shop.Record) string {
			return "/materials/" + address.Segment(r.Body.(*shop.MaterialSet).Polymer)
		},
	}
}

// checkOwnValue asks the table of materials whether it would take the value, so
// that a slip of the unit is refused here and not in a plan.
func checkOwnValue(in *forms.Input) {
	p := polymer.Property(in.Typed("property"))
	desc, known := p.Description()
	if !known {
		in.Refuse("", "form.there_is_no_such_property", "form.no_such_property_advice")
		return
	}
	var n [3]float64
	for i, path := range []string{"value", "low", "high"} {
		v, err := desc.Kind.ParseOr(in.Typed(path), desc.Kind.Default())
		if err != nil {
			return // said at the field already
		}
		n[i] = v
	}
	if _, err := polymer.Own(in.Typed("polymer"), p, n[0], n[1], n[2], polymer.Entered, in.Typed("why")); err != nil {
		say, hint := forms.Said(in.Say, err)
		in.Refuse("value", say, hint)
	}
}
