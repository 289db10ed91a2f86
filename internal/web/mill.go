package web

import "hopperful/shop"

// millSheet describes a mill. What is on the label and what a plan asks first
// comes first; measured watts are for who has a plug-in meter.
func millSheet(d *desk) sheet {
	ask := asking("mill_set")
	sh := sheet{
		Kind: "mill_set", Title: "form.a_mill", Submit: "form.keep_this_mill", Place: "machines",
		Intro: "form.write_down_what_you_know",
		Groups: []group{
			{Fields: all(ask, "mill.name", "mill.rated_w", "mill.chamber_m3", "mill.screen.hole_m", "mill.jar_m3", "mill.inlet_m", "mill.thermometer")},
			// What keeps a person whole. A missing answer never counts as yes.
			{Title: "form.guards", Intro: "form.plans_warn_where_one_of",
				Fields: all(ask, "mill.protective_earth", "mill.lid_switch", "mill.residual_current", "mill.magnet")},
			{Title: "form.power_controller", Folded: true, Intro: "form.leave_it_empty_if_the",
				Fields: all(ask, "mill.controller.levels", "mill.controller.continuous_w", "mill.controller.watts", "mill.controller.idle_watts")},
			{Title: "form.what_it_is_made_of", Folded: true, Intro: "form.it_decides_how_fast_the",
				Fields: append([]field{ask("mill.wall_metal").as(asSelect)}, all(ask, "mill.wall_kg", "mill.painted", "mill.rotor_m", "mill.rotor_kg", "mill.rotor_rad_s", "mill.continuous_w", "mill.screen.open_share")...)},
			{Title: "form.measured", Folded: true, Fields: all(ask, "mill.noise_db", "mill.retired")},
		},
		After: func(*shop.State, shop.Record) string { return "/machines" },
	}
	if d.query("of") != "" { // a mill just described has no before
		sh.Groups = append(sh.Groups, group{Title: "form.what_that_means", Intro: "form.runs_before_a_change_keep", Fields: all(ask, "means")})
	}
	return sh
}
