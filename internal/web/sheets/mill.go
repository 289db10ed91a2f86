package sheets

import (
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/shop"
)

// Mill describes a mill. What is on the label and what a plan asks first
// comes first; measured watts are for who has a plug-in meter.
func Mill(d *desk.Desk) forms.Sheet {
	ask := forms.Of("mill_set")
	sh := forms.Sheet{
		Kind: "mill_set", Title: "form.a_mill", Submit: "form.keep_this_mill", Place: "machines",
		Intro: "form.machine_intro",
		Groups: []forms.Group{
			{Fields: forms.All(ask, "mill.name", "mill.rated_w", "mill.chamber_m3", "mill.screen.hole_m", "mill.jar_m3", "mill.inlet_m", "mill.thermometer")},
			// What keeps a person whole. A missing answer never counts as yes.
			{Title: "form.guards", Intro: "form.mill_safety_intro",
				Fields: forms.All(ask, "mill.protective_earth", "mill.lid_switch", "mill.residual_current", "mill.magnet")},
			{Title: "form.power_controller", Folded: true, Intro: "form.controller_intro",
				Fields: forms.All(ask, "mill.controller.levels", "mill.controller.continuous_w", "mill.controller.watts", "mill.controller.idle_watts")},
			{Title: "form.what_it_is_made_of", Folded: true, Intro: "form.mill_matter_intro",
				Fields: append([]forms.Field{ask("mill.wall_metal").Asked(forms.AsSelect)}, forms.All(ask, "mill.wall_kg", "mill.painted", "mill.rotor_m", "mill.rotor_kg", "mill.rotor_rad_s", "mill.continuous_w", "mill.screen.open_share")...)},
			{Title: "form.measured", Folded: true, Fields: forms.All(ask, "mill.noise_db", "mill.retired")},
		},
		After: func(*shop.State, shop.Record) string { return "/machines" },
	}
	if d.Query("of") != "" { // a mill just described has no before
		sh.Groups = append(sh.Groups, forms.Group{Title: "form.what_that_means", Intro: "form.mill_change_help", Fields: forms.All(ask, "means")})
	}
	return sh
}
