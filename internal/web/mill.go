package web

import "hopperful/shop"

// millSheet describes a mill. What is on the label and what a plan asks first
// comes first; measured watts are for who has a plug-in meter.
func millSheet(d *desk) sheet {
	ask := asking("mill_set")
	sh := sheet{
		Kind: "mill_set", Title: "A mill", Submit: "Keep this mill", Place: "machines",
		Intro: "Write down what you know. An empty field means that nobody knows yet: plans then reckon with a wider range.",
		Groups: []group{
			{Fields: all(ask, "mill.name", "mill.rated_w", "mill.chamber_m3", "mill.screen.hole_m", "mill.jar_m3", "mill.inlet_m", "mill.thermometer")},
			// What keeps a person whole. A missing answer never counts as yes.
			{Title: "Guards", Intro: "Plans warn where one of these is missing or not known. That is no inspection: local rules and a qualified person decide whether a machine may run.",
				Fields: all(ask, "mill.protective_earth", "mill.lid_switch", "mill.residual_current", "mill.magnet")},
			{Title: "Power controller", Folded: true, Intro: "Leave it empty if the mill runs at full power only.",
				Fields: all(ask, "mill.controller.levels", "mill.controller.continuous_w", "mill.controller.watts", "mill.controller.idle_watts")},
			{Title: "What it is made of", Folded: true, Intro: "It decides how fast the mill warms up and cools down.",
				Fields: append([]field{ask("mill.wall_metal").as(asSelect)}, all(ask, "mill.wall_kg", "mill.painted", "mill.rotor_m", "mill.rotor_kg", "mill.rotor_rad_s", "mill.continuous_w", "mill.screen.open_share")...)},
			{Title: "Measured", Folded: true, Fields: all(ask, "mill.noise_db", "mill.retired")},
		},
		After: func(*shop.State, shop.Record) string { return "/machines" },
	}
	if d.query("of") != "" { // a mill just described has no before
		sh.Groups = append(sh.Groups, group{Title: "What that means", Intro: "Runs before a change keep the mill they were ground with.", Fields: all(ask, "means")})
	}
	return sh
}
