package fields

import "hopperful/quantity"

// takenIn is a bin of scrap or a bag of granulate that came in.
var takenIn = []Field{
	{Path: "mass_kg", As: Amount, Kind: quantity.Mass, Unit: "g", Lo: Grain, Hi: Heaviest, Words: "mass", Must: true,
		Label: "How much", Help: "What the scale shows, less the bin."},
	{Path: "class", As: Pick, Label: "What is it", Must: true, Flag: "class", Usage: "what state it is in", Pick: []Choice{
		{"scrap", "scrap, before grinding"}, {"virgin", "virgin granulate"}, {"regrind", "ground already"}, {"blend", "a blend"}, {"print", "a print"}}},
	{Path: "polymer", As: Text, Label: "Plastic", Help: "Empty when nobody knows. Unknown plastic is kept apart until a bench test names it.",
		Flag: "polymer", Usage: "PLA, PETG, ABS …; leave out when nobody can tell"},
	{Path: "colour", As: Text, Label: "Colour", Flag: "colour", Usage: "your word for the colour"},
	{Path: "pieces.largest_m", As: Amount, Kind: quantity.Length, Unit: "mm", Lo: 1e-4, Hi: 3, Words: "largest piece",
		Label: "Longest side of the largest piece", Flag: "largest", Usage: "largest dimension of the largest piece: 80mm"},
	{Path: "pieces.wall_m", As: Amount, Kind: quantity.Length, Unit: "mm", Lo: 1e-5, Hi: 0.5, Words: "wall of the prints",
		Label: "Wall thickness of the prints", Help: "Usually two or three times the nozzle's bore.", Flag: "wall", Usage: "wall thickness of the prints: 1.2mm"},
	{Path: "pieces.infill", As: Amount, Kind: quantity.Share, Unit: "%", Hi: 1, Words: "infill",
		Label: "Infill", Help: "0 is hollow, 100 is solid.", Flag: "infill", Usage: "how full they are: 0% hollow, 100% solid"},
	{Path: "metal", As: Text, Label: "Metal in it", Help: "Inserts, screws, magnets you can see. Empty when none.", Flag: "metal", Usage: "inserts, screws, magnets seen in it"},
	{Path: "name", As: Text, Label: "Your own name for it", Help: "For example where it came from.", Flag: "name", Usage: "your own words for it"},
	{Path: "sure", As: Amount, Kind: quantity.Share, Unit: "%", Hi: 1, Words: "certainty",
		Label: "How sure you are of the plastic", Help: "Below 90 % it is not ground with others of that name.", Flag: "sure", Usage: "how sure you are of the polymer: 90%"},
	{Path: "halogen", As: YesNo, Label: "Could it contain chlorine or a flame retardant",
		Help: "PVC and many cable and appliance parts do. Such plastic must not be ground hot or melted here.", Flag: "halogen", Usage: "suspected to hold chlorine or a flame retardant"},
	{Path: "rgb", As: Colour, Label: "Its colour on the screen", Help: "A first guess. For blends, take its colour beside a white card once it is here.",
		Flag: "rgb", Usage: "the colour as #rrggbb"},
	{Path: "price", As: Amount, Kind: quantity.Money, Hi: 1e9, Words: "price", Label: "Paid for all of it", Flag: "price", Usage: "paid for all of it"},
	{Path: "lot", As: Lot, Label: "Its own label", Help: "Empty gives the next free one, such as S12.", Flag: "lot", Usage: "label of the lot; empty: the next free one"},
}
