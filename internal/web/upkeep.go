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
		Kind: "serviced", Title: "Look after a mill", Submit: "Record the service", Place: "machines", Timed: true,
		Intro: "Pull the plug first, and wait until the blade stands still.",
		Groups: []group{{Fields: []field{
			{Path: "mill", Label: "Mill", As: asSelect, Must: true, Choices: millOptions(mills), First: first},
			{Path: "part", Label: "Part", As: asChoice, Must: true, First: orSay(d.query("part"), string(shop.BladePart)), Choices: []option{
				{string(shop.BladePart), "blade or plate"}, {string(shop.ScreenPart), "screen"}, {string(shop.SealPart), "seal"}, {string(shop.MagnetPart), "magnet"}, {string(shop.BearingPart), "bearings"}, {string(shop.OtherPart), "another"}}},
			{Path: "what", Label: "What was done", As: asChoice, Must: true, First: string(shop.Inspected), Choices: []option{
				{string(shop.Inspected), "looked at"}, {string(shop.Sharpened), "sharpened"}, {string(shop.Replaced), "replaced"}, {string(shop.Repaired), "repaired"}, {string(shop.FoundDamaged), "found damaged"}}},
			yesNo("sound", "Sound as it went back in", ""),
			amount("before_kg", "It weighed before", quantity.Mass, "g", "What a blade loses is metal that went into lots or onto the magnet."),
			amount("after_kg", "What went in weighs", quantity.Mass, "g", ""),
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
	lot := d.lotField("lot", "With the lot", anything...)
	lot.Must = false
	lot.Choices[0].Say = "no lot, or not known"
	return sheet{
		Kind: "happened", Title: "Something went wrong", Submit: "Record it", Place: "machines", Timed: true,
		Intro: "Smell or smoke: pull the plug, air the room, and do not go on before somebody who knows has looked.",
		Groups: []group{{Fields: []field{
			{Path: "what", Label: "What happened", As: asSelect, Must: true, First: d.query("what"), Choices: []option{{"", "choose"},
				{string(shop.Stalled), "the blade stalled"}, {string(shop.BlockedNozzle), "the nozzle blocked"}, {string(shop.BridgedHopper), "the hopper bridged"},
				{string(shop.TornScreen), "the screen is torn"}, {string(shop.CrackedPlate), "a plate is cracked"}, {string(shop.SmellOrSmoke), "smell or smoke"},
				{string(shop.OtherMishap), "something else (say what in the note)"}}},
			{Path: "mill", Label: "At the mill", As: asSelect, Choices: machines("no mill", mills), First: d.query("mill")},
			{Path: "printer", Label: "At the printer", As: asSelect, Choices: machines("no printer", printers), First: d.query("printer")},
			lot,
			amount("since_kg", "Went through since it last happened", quantity.Mass, "kg", "If somebody knows."),
		}}},
		After: func(_ *shop.State, r shop.Record) string {
			if l := r.Body.(*shop.Happened).Lot; l != "" {
				return lotPath(l)
			}
			return "/machines"
		},
	}
}
