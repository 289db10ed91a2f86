package web

import (
	"hopperful/quantity"
	"hopperful/shop"
)

// shopSheet names the shop and its surroundings.
func shopSheet(d *desk) sheet {
	return sheet{
		Kind: "shop_set", Title: "The shop", Submit: "Keep these settings", Place: "machines",
		Groups: []group{{Fields: []field{
			text("name", "Name of the shop", ""),
			text("currency", "Currency", "Three letters, such as EUR."),
			amount("electricity_per_j", "Price of electricity", quantity.MoneyPerEnergy, "per kWh", ""),
			amount("room_k", "Usual room temperature", quantity.Temperature, "°C", ""),
			amount("room_humidity", "Usual humidity of the room", quantity.Humidity, "%RH", ""),
			amount("handling_s", "Time to empty, weigh and fill between runs", quantity.Duration, "min", ""),
			{Path: "decimal_comma", Label: "Write numbers with a decimal comma: 1,5 kg", As: asCheck},
		}}, {Title: "Limits of verdicts", Folded: true, Intro: "No book gives these; they are yours to set. Empty takes our default.", Fields: []field{
			amount("most_dust", "Most dust in what is to print", quantity.Share, "%", "Our default: 10 %."),
			amount("most_metal", "Most metal left in it", quantity.Share, "mg/kg", "Our default: 10 mg/kg."),
			amount("chip_share", "Share of the nozzle from which on a chip can block it", quantity.Share, "%", "Our default: 33 %."),
			amount("least_strength", "Strength a part must keep", quantity.Share, "%", "Of a fresh print's. Our default: 80 %."),
			amount("most_pressure_pa", "Pressure the printer's head bears", quantity.Pressure, "MPa", "Our default: about 12 MPa."),
			amount("most_blocked", "Prints that may meet a chip", quantity.Share, "%", "Our default: 5 %, one in twenty."),
			amount("least_sure", "How sure of a polymer before it goes with others", quantity.Share, "%", "Our default: 90 %."),
		}}},
		After: func(*shop.State, shop.Record) string { return "/machines" },
	}
}

// personSheet adds a person, or says that one no longer works here.
func personSheet(*desk) sheet {
	return sheet{
		Kind: "person_set", Title: "A person", Submit: "Keep this person", Place: "machines",
		Intro: "People are named on records, so that a question later finds whom to ask.",
		Groups: []group{{Fields: []field{
			text("name", "Name", "").must(),
			{Path: "retired", Label: "No longer works here", As: asCheck},
		}}},
		After: func(*shop.State, shop.Record) string { return "/machines" },
	}
}

// needSheet is a typed or corrected need.
func needSheet(d *desk) sheet {
	return sheet{
		Kind: "need_set", Title: "A need", Submit: "Keep this need", Place: "plan",
		Groups: []group{{Fields: []field{
			text("need.name", "What will be printed", "").must(),
			amount("need.mass_kg", "Plastic it eats", quantity.Mass, "g", "Empty reckons it from the file's volume and the plastic's density."),
			d.polymerField("need.polymer", ""),
			d.colourField("need.colour"),
			{Path: "need.rgb", Label: "Its colour on the screen", As: asColour, Help: "A blend for it is held to this colour."},
			{Path: "need.from", As: asHidden, First: "typed"},
			{Path: "need.done", Label: "Printed or given up", As: asCheck},
		}}},
		After: func(_ *shop.State, r shop.Record) string { return planPath(r.Body.(*shop.NeedSet).Need.Name) },
	}
}

func planPath(need string) string { return "/plan/" + pathSegment(need) }
