package web

import (
	"hopperful/quantity"
	"hopperful/shop"
)

// serviceSheet writes down what was looked at or mended on a mill. A new or
// sharpened part begins a new chapter of what the mill's records teach.
func serviceSheet(d *desk) sheet {
	mills := d.state.ActiveMills()
	first := d.query("mill")
	if first == "" && len(mills) == 1 {
		first = mills[0].Name
	}
	return sheet{
		Kind: "serviced", Title: "form.look_after_a_mill", Submit: "form.record_the_service", Place: "machines", Timed: true,
		Intro: "form.pull_the_plug_first_and",
		Groups: []group{{Fields: []field{
			{Path: "mill", Label: "form.mill", As: asSelect, Must: true, Choices: millOptions(mills), First: first},
			{Path: "part", Label: "form.part", As: asChoice, Must: true, First: orSay(d.query("part"), string(shop.BladePart)), Choices: []option{
				{string(shop.BladePart), "form.blade_or_plate"}, {string(shop.ScreenPart), "form.part_screen"}, {string(shop.SealPart), "form.part_seal"}, {string(shop.MagnetPart), "form.part_magnet"}, {string(shop.BearingPart), "form.part_bearings"}, {string(shop.OtherPart), "form.part_another"}}},
			{Path: "what", Label: "form.what_was_done", As: asChoice, Must: true, First: string(shop.Inspected), Choices: []option{
				{string(shop.Inspected), "form.looked_at"}, {string(shop.Sharpened), "form.sharpened"}, {string(shop.Replaced), "form.replaced"}, {string(shop.Repaired), "form.repaired"}, {string(shop.FoundDamaged), "form.found_damaged"}}},
			yesNo("sound", "form.sound_as_it_went_back", ""),
			amount("before_kg", "form.it_weighed_before", quantity.Mass, "g", "form.what_a_blade_loses_is"),
			amount("after_kg", "form.what_went_in_weighs", quantity.Mass, "g", ""),
		}}},
		After: func(_ *shop.State, r shop.Record) string { return "/machines" },
	}
}

// eventSheet writes down that something went wrong.
func eventSheet(d *desk) sheet {
	machines := func(none string, names []string) []option {
		opts := []option{{"", none}}
		for _, n := range names {
			opts = append(opts, option{n, n})
		}
		return opts
	}
	var mills, printers []string
	for _, m := range d.state.ActiveMills() {
		mills = append(mills, m.Name)
	}
	for _, p := range d.state.Printers {
		if !p.Retired {
			printers = append(printers, p.Name)
		}
	}
	lot := d.lotField("lot", "form.with_the_lot", anything...)
	lot.Must = false
	lot.Choices[0].Say = d.say.Line("form.no_lot_or_not_known")
	return sheet{
		Kind: "happened", Title: "form.something_went_wrong", Submit: "form.record_it", Place: "machines", Timed: true,
		Intro: "form.smell_or_smoke_pull_the",
		Groups: []group{{Fields: []field{
			{Path: "what", Label: "form.what_happened", As: asSelect, Must: true, First: d.query("what"), Choices: []option{{"", "form.choose"},
				{string(shop.Stalled), "form.the_blade_stalled"}, {string(shop.BlockedNozzle), "form.the_nozzle_blocked"}, {string(shop.BridgedHopper), "form.the_hopper_bridged"},
				{string(shop.TornScreen), "form.the_screen_is_torn"}, {string(shop.CrackedPlate), "form.a_plate_is_cracked"}, {string(shop.SmellOrSmoke), "form.smell_or_smoke"},
				{string(shop.OtherMishap), "form.something_else_say_what_in"}}},
			{Path: "mill", Label: "form.at_the_mill", As: asSelect, Choices: machines("form.no_mill", mills), First: d.query("mill")},
			{Path: "printer", Label: "form.at_the_printer", As: asSelect, Choices: machines("form.no_printer", printers), First: d.query("printer")},
			lot,
			amount("since_kg", "form.went_through_since_it_last", quantity.Mass, "kg", "form.if_somebody_knows"),
		}}},
		After: func(_ *shop.State, r shop.Record) string {
			if l := r.Body.(*shop.Happened).Lot; l != "" {
				return lotPath(l)
			}
			return "/machines"
		},
	}
}
