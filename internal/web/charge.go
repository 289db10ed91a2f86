package web

import (
	"strconv"

	"hopperful/quantity"
	"hopperful/shop"
)

// chargeSheet writes down one run of a mill on one charge. The first group is
// what a person with gloves can answer at the machine.
func chargeSheet(d *desk) sheet {
	mills := d.state.ActiveMills()
	return sheet{
		Kind: "ground", Title: "Record a charge", Submit: "Record this charge", Place: "stock", Timed: true,
		Intro: "One filling of the mill, from start to stop.",
		Groups: []group{
			{Fields: []field{
				{Path: "mill", Label: "Mill", As: asSelect, Must: true, Choices: millOptions(mills), First: d.lastMill(mills)},
				{Path: "from", Label: "Ground from", As: asSelect, Must: true, Choices: d.lotOptions("choose a lot", shop.Scrap, shop.Regrind), First: d.query("lot")},
				amount("charge_kg", "Charge in", quantity.Mass, "g", "").must(),
				amount("run_s", "Run time", quantity.Duration, "min", "For example 3 min 20 s, or 3:20.").must(),
				amount("product_kg", "Product out", quantity.Mass, "g", "Leave empty if you weigh it together with later charges."),
				{Path: "level", Label: "Controller level", As: asWhole, Help: levelHelp(mills)},
			}},
			{Title: "Where it went", Fields: []field{
				{Path: "into", Label: "Product goes into", As: asSelect, Choices: d.lotOptions("a new lot of regrind", shop.Regrind)},
				amount("left_kg", "Left in the mill", quantity.Mass, "g", "If you weighed it."),
				amount("swept_kg", "Dust and spill swept up", quantity.Mass, "g", ""),
			}},
			{Title: "What you measured", Folded: true, Intro: "Every reading makes the next plan better for this mill.", Fields: chargeReadings()},
		},
		After: func(st *shop.State, r shop.Record) string { return lotPath(r.Body.(*shop.Ground).Into) },
	}
}

// chargeReadings are the instruments' answers, for who has them.
func chargeReadings() []field {
	return []field{
		amount("charge_before_k", "Charge before", quantity.Temperature, "°C", ""),
		amount("charge_after_k", "Charge after", quantity.Temperature, "°C", "Right after the stop, in the middle of the heap."),
		amount("wall_before_k", "Wall before", quantity.Temperature, "°C", ""),
		amount("wall_after_k", "Wall after", quantity.Temperature, "°C", ""),
		amount("room_k", "Room", quantity.Temperature, "°C", ""),
		amount("rest_before_s", "Rest since the run before", quantity.Duration, "min", ""),
		amount("energy_j", "Energy by the meter", quantity.Energy, "kWh", ""),
		amount("hole_m", "Hole of the screen, if not the mill's usual", quantity.Length, "mm", ""),
		{Path: "stalled", Label: "The blade stalled", As: asCheck},
	}
}

func millOptions(mills []shop.MillState) []option {
	opts := []option{{"", "choose a mill"}}
	for _, m := range mills {
		opts = append(opts, option{m.Name, m.Name})
	}
	return opts
}

// lastMill is the mill that ran last, or the only one.
func (d *desk) lastMill(mills []shop.MillState) string {
	for i := len(d.state.Records) - 1; i >= 0; i-- {
		if g, ok := d.state.Records[i].Body.(*shop.Ground); ok {
			if m, known := d.state.Mill(g.Mill); known && !m.Retired {
				return m.Name
			}
		}
	}
	if len(mills) == 1 {
		return mills[0].Name
	}
	return ""
}

func levelHelp(mills []shop.MillState) string {
	most := 0
	for _, m := range mills {
		if m.Controller != nil {
			most = max(most, m.Controller.Levels)
		}
	}
	if most == 0 {
		return "Only for a mill with a power controller."
	}
	return "1 to " + strconv.Itoa(most) + ", the highest is full power."
}
