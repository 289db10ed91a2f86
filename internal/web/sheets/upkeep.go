package sheets

import (
	"cmp"

	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/quantity"
	"hopperful/shop"
)

// serviceSheet writes down what was looked at or mended on a mill. A new or
// sharpened part begins a new chapter of what the mill's records teach.
func serviceSheet(d *desk.Desk) forms.Sheet {
	mills := d.State.ActiveMills()
	first := d.Query("mill")
	if first == "" && len(mills) == 1 {
		first = mills[0].Name
	}
	return forms.Sheet{
		Kind: "serviced", Title: "form.look_after_a_mill", Submit: "form.record_the_service", Place: "machines", Timed: true,
		Intro: "form.care_unplug",
		Groups: []forms.Group{{Fields: []forms.Field{
			{Path: "mill", Label: "form.mill", As: forms.AsSelect, Must: true, Choices: millOptions(mills), First: first},
			{Path: "part", Label: "form.part", As: forms.AsChoice, Must: true, First: cmp.Or(d.Query("part"), string(shop.BladePart)), Choices: []forms.Option{
				{Value: string(shop.BladePart), Say: "form.blade_or_plate"}, {Value: string(shop.ScreenPart), Say: "form.part_screen"}, {Value: string(shop.SealPart), Say: "form.part_seal"}, {Value: string(shop.MagnetPart), Say: "form.part_magnet"}, {Value: string(shop.BearingPart), Say: "form.part_bearings"}, {Value: string(shop.OtherPart), Say: "form.part_another"}}},
			{Path: "what", Label: "form.what_was_done", As: forms.AsChoice, Must: true, First: string(shop.Inspected), Choices: []forms.Option{
				{Value: string(shop.Inspected), Say: "form.looked_at"}, {Value: string(shop.Sharpened), Say: "form.sharpened"}, {Value: string(shop.Replaced), Say: "form.replaced"}, {Value: string(shop.Repaired), Say: "form.repaired"}, {Value: string(shop.FoundDamaged), Say: "form.found_damaged"}}},
			forms.YesNo("sound", "form.part_sound", ""),
			forms.Amount("before_kg", "form.it_weighed_before", quantity.Mass, "g", "form.blade_loss_help"),
			forms.Amount("after_kg", "form.what_went_in_weighs", quantity.Mass, "g", ""),
		}}},
		After: func(_ *shop.State, r shop.Record) string { return "/machines" },
	}
}

// eventSheet writes down that something went wrong.
func eventSheet(d *desk.Desk) forms.Sheet {
	machines := func(none string, names []string) []forms.Option {
		opts := []forms.Option{{Value: "", Say: none}}
		for _, n := range names {
			opts = append(opts, forms.Option{Value: n, Say: n})
		}
		return opts
	}
	var mills, printers []string
	for _, m := range d.State.ActiveMills() {
		mills = append(mills, m.Name)
	}
	for _, p := range d.State.Printers {
		if !p.Retired {
			printers = append(printers, p.Name)
		}
	}
	lot := lotField(d, "form.with_the_lot", anything...)
	lot.Must = false
	lot.Choices[0].Say = d.Say.Line("form.no_lot_or_not_known")
	return forms.Sheet{
		Kind: "happened", Title: "form.something_went_wrong", Submit: "form.record_it", Place: "machines", Timed: true,
		Intro: "form.smoke_advice",
		Groups: []forms.Group{{Fields: []forms.Field{
			{Path: "what", Label: "form.what_happened", As: forms.AsSelect, Must: true, First: d.Query("what"), Choices: []forms.Option{{Value: "", Say: "form.choose"},
				{Value: string(shop.Stalled), Say: "form.the_blade_stalled"}, {Value: string(shop.BlockedNozzle), Say: "form.the_nozzle_blocked"}, {Value: string(shop.BridgedHopper), Say: "form.the_hopper_bridged"},
				{Value: string(shop.TornScreen), Say: "form.the_screen_is_torn"}, {Value: string(shop.CrackedPlate), Say: "form.a_plate_is_cracked"}, {Value: string(shop.SmellOrSmoke), Say: "form.smell_or_smoke"},
				{Value: string(shop.OtherMishap), Say: "form.other_say_in_note"}}},
			{Path: "mill", Label: "form.at_the_mill", As: forms.AsSelect, Choices: machines("form.no_mill", mills), First: d.Query("mill")},
			{Path: "printer", Label: "form.at_the_printer", As: forms.AsSelect, Choices: machines("form.no_printer", printers), First: d.Query("printer")},
			lot,
			forms.Amount("since_kg", "form.throughput_since", quantity.Mass, "kg", "form.if_somebody_knows"),
		}}},
		After: func(_ *shop.State, r shop.Record) string {
			if l := r.Body.(*shop.Happened).Lot; l != "" {
				return address.Lot(l)
			}
			return "/machines"
		},
	}
}
