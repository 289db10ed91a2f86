package web

import (
	"hopperful/quantity"
	"hopperful/shop"
)

// millSheet describes a mill. What is on the label and what the machine is made
// of comes first; measured watts are for who has a plug-in meter.
func millSheet(d *desk) sheet {
	sh := sheet{
		Kind: "mill_set", Title: "A mill", Submit: "Keep this mill", Place: "machines",
		Intro: "Write down what you know. An empty field means that nobody knows yet: plans then reckon with a wider range.",
		Groups: []group{
			{Fields: []field{
				text("mill.name", "Its name", "As people call it.").must(),
				amount("mill.rated_w", "Rated power", quantity.Power, "W", "On the label of the motor."),
				amount("mill.chamber_m3", "Chamber volume", quantity.Volume, "L", "The pot the charge tumbles in. Fill it with water from a measuring jug if unsure."),
				amount("mill.screen.hole_m", "Hole of the screen", quantity.Length, "mm", "The perforated sheet the product leaves through."),
				amount("mill.inlet_m", "Widest piece that goes in", quantity.Length, "mm", ""),
			}},
			safetyGroup(),
			{Title: "Power controller", Folded: true, Intro: "Leave it empty if the mill runs at full power only.", Fields: controllerFields()},
			{Title: "What it is made of", Folded: true, Intro: "It decides how fast the mill warms up and cools down.", Fields: bodyFields()},
			{Title: "Measured", Folded: true, Fields: []field{
				amount("mill.noise_db", "Noise at your ear", quantity.SoundLevel, "dB(A)", "While it grinds."),
				{Path: "mill.thermometer", Label: "Temperatures are read", As: asChoice, Choices: []option{
					{string(shop.NoThermometer), "not at all"}, {string(shop.OuterWall), "at the outer wall"}, {string(shop.InCharge), "in the charge"}}},
				{Path: "mill.retired", Label: "No longer used", As: asCheck},
			}},
		},
		After: func(*shop.State, shop.Record) string { return "/machines" },
	}
	if d.query("of") != "" {
		sh.Groups = append(sh.Groups, group{Title: "What that means", Intro: "Runs before a change keep the mill they were ground with.", Fields: []field{
			{Path: "means", Label: "What is different now", As: asChoice, Choices: []option{
				{string(shop.ByProperty), "a new screen, rotor or jar was put in; all else was always so"},
				{string(shop.ChangedNow), "all of it was changed now"}, {string(shop.AlwaysSo), "all of it was always so"}}}}})
	}
	return sh
}

// safetyGroup asks for what keeps a person whole. A missing answer never counts
// as yes.
func safetyGroup() group {
	return group{Title: "Guards", Intro: "Plans warn where one of these is missing or not known. That is no inspection: local rules and a qualified person decide whether a machine may run.", Fields: []field{
		yesNo("mill.protective_earth", "Metal parts are earthed", ""),
		yesNo("mill.lid_switch", "A switch stops the rotor when the lid opens", ""),
		yesNo("mill.residual_current", "Its socket is behind a residual-current device", ""),
		yesNo("mill.magnet", "A magnet at the outlet", ""),
	}}
}

func controllerFields() []field {
	return []field{
		{Path: "mill.controller.levels", Label: "Number of levels", As: asWhole, Help: "The highest is full power."},
		amount("mill.controller.continuous_w", "What it may carry all day", quantity.Power, "W", "Its continuous rating, not the peak on the box."),
		{Path: "mill.controller.watts", Label: "Watts while grinding", As: asLevels, Help: "A line for each level you measured, such as 3: 420 W."},
		{Path: "mill.controller.idle_watts", Label: "Watts while empty", As: asLevels, Help: "A line for each level you measured."},
	}
}

func bodyFields() []field {
	return []field{
		{Path: "mill.wall_metal", Label: "Pot and plate are of", As: asSelect, Choices: []option{
			{"", "don't know, or another"}, {shop.Steel, shop.Steel}, {shop.Stainless, shop.Stainless}, {shop.Aluminium, shop.Aluminium}, {shop.CastIron, shop.CastIron}}},
		amount("mill.wall_kg", "Mass of pot, plate and lid", quantity.Mass, "kg", ""),
		yesNo("mill.painted", "Painted or dark outside", "Such walls give off more heat than bright metal."),
		amount("mill.rotor_m", "Rotor, tip to tip", quantity.Length, "mm", ""),
		amount("mill.rotor_kg", "Mass of rotor and blades", quantity.Mass, "kg", ""),
		amount("mill.rotor_rad_s", "Rotor speed at full power", quantity.Rotation, "rpm", ""),
		amount("mill.continuous_w", "What the motor may take all day", quantity.Power, "W", "If its label names a continuous rating."),
		amount("mill.screen.open_share", "Open share of the screen", quantity.Share, "%", "Hole area over sheet area."),
		amount("mill.jar_m3", "Container under the outlet", quantity.Volume, "L", ""),
	}
}
