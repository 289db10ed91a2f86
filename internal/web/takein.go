package web

import (
	"hopperful/quantity"
	"hopperful/shop"
)

// takeInSheet brings material in: a bin of scrap, a bag of virgin granulate.
func takeInSheet(d *desk) sheet {
	return sheet{
		Kind: "taken_in", Title: "Take in material", Submit: "Take it in", Place: "stock", Timed: true,
		Intro: "Weigh it, say what it is, put the label on the bin. What you do not know stays empty.",
		Groups: []group{
			{Fields: []field{
				amount("mass_kg", "How much", quantity.Mass, "g", "What the scale shows, less the bin.").must(),
				{Path: "class", Label: "What is it", As: asChoice, First: string(shop.Scrap), Must: true, Choices: []option{
					{string(shop.Scrap), "scrap, before grinding"}, {string(shop.Virgin), "virgin granulate"}, {string(shop.Regrind), "ground already"}}},
				d.polymerField("polymer", "Empty when nobody knows. Unknown plastic is kept apart until a bench test names it."),
				d.colourField("colour"),
			}},
			{Title: "What the pieces look like", Intro: "For scrap. The mill's time and load depend on it.", Fields: []field{
				amount("pieces.largest_m", "Longest side of the largest piece", quantity.Length, "mm", ""),
				amount("pieces.wall_m", "Wall thickness of the prints", quantity.Length, "mm", "Usually two or three times the nozzle's bore."),
				amount("pieces.infill", "Infill", quantity.Share, "%", "0 is hollow, 100 is solid."),
				text("metal", "Metal in it", "Inserts, screws, magnets you can see. Empty when none."),
			}},
			{Title: "More", Folded: true, Fields: []field{
				text("name", "Your own name for it", "For example where it came from."),
				amount("sure", "How sure you are of the plastic", quantity.Share, "%", "Below 90 % it is not ground with others of that name."),
				yesNo("halogen", "Could it contain chlorine or a flame retardant", "PVC and many cable and appliance parts do. Such plastic must not be ground hot or melted here."),
				{Path: "rgb", Label: "Its colour on the screen", As: asColour, Help: "A first guess. For blends, take its colour beside a white card once it is here."},
				amount("price", "Paid for all of it", quantity.Money, "", d.currencyHelp()),
				text("lot", "Its own label", "Empty gives the next free one, such as S12."),
			}},
		},
		After: func(_ *shop.State, r shop.Record) string { return lotPath(r.Body.(*shop.TakenIn).Lot) },
	}
}

// polymerField asks what plastic it is and offers the known ones.
func (d *desk) polymerField(path, help string) field {
	return field{Path: path, Label: "Plastic", As: asText, Help: help, Suggest: d.materials().Names()}
}

// colourField asks for the colour in words.
func (d *desk) colourField(path string) field {
	return field{Path: path, Label: "Colour", As: asText, Suggest: d.colours()}
}

func (d *desk) currencyHelp() string {
	if d.state.Shop.Currency == "" {
		return ""
	}
	return "In " + d.state.Shop.Currency + "."
}

func lotPath(id shop.LotID) string { return "/stock/" + pathSegment(string(id)) }
