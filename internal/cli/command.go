package cli

import (
	"strings"

	"hopperful/fact"
)

// commands are how each step and remedy is done on the command line, by its
// code. A word in braces is the fact of that name.
var commands = map[string]string{
	"do.set_broker":            "hopperful sensors broker …",
	"do.add_sensor":            "hopperful sensors add … --machine … --quantity power --topic …",
	"do.confirm_run":           "hopperful sensors confirm {id} --from … --charge …",
	"do.take_idle":             `hopperful sensors idle --mill "{mill}"`,
	"do.write_watts":           `hopperful sensors learn --mill "{mill}" --write`,
	"do.begin_campaign":        "hopperful campaign begin …",
	"do.end_campaign":          `hopperful campaign end --mill "{mill}"`,
	"do.go_on_campaign":        `hopperful now --mill "{mill}"`,
	"do.answer_question":       "hopperful record confirmed {record}",
	"do.answer_questions":      "hopperful records --asked",
	"do.record_charge":         `hopperful campaign record --mill "{mill}" --product …`,
	"do.resume_campaign":       `hopperful campaign resume --mill "{mill}"`,
	"do.start_charge":          `hopperful campaign mark started --mill "{mill}"`,
	"do.stop_charge":           `hopperful campaign mark stopped --mill "{mill}"`,
	"do.tick_sheet":            `hopperful campaign sheet --mill "{mill}"`,
	"do.check_by_magnet":       "hopperful record magnet {lot} …",
	"do.check_by_sieve":        "hopperful record sieved {lot} …",
	"do.look_at_part":          `hopperful record serviced --mill "{mill}" --part {key} --what inspected --sound …`,
	"do.mend_part":             `hopperful record serviced --mill "{mill}" --part {key} --what replaced`,
	"do.cut_metal":             "hopperful stock {lot}",
	"do.describe_hole":         `hopperful machines set mill --name "{mill}" --hole …`,
	"do.describe_mill":         "hopperful machines set mill --name …",
	"do.describe_scale":        "hopperful machines set scale --name … --resolution 1g",
	"do.find_recipe":           `hopperful blend "{need}"`,
	"do.identify":              "hopperful identify --ask --lot {lot}",
	"do.keep_piece":            "hopperful identify … --lot {lot} --save",
	"do.look_at_screen":        `hopperful learn --mill "{mill}"`,
	"do.mark_chlorine":         `hopperful record sorted --from {lot} --into "{mass},halogen=yes"`,
	"do.mix_liquid":            "hopperful identify liquid {liquid} {density}",
	"do.name_polymer":          "hopperful need FILE --polymer …",
	"do.name_walls":            "hopperful need FILE --wall 1.2mm --infill 20%",
	"do.plan":                  `hopperful plan "{need}"`,
	"do.replace_screen":        `hopperful record serviced --mill "{mill}" --part screen --what replaced`,
	"do.say_electricity":       "hopperful machines set shop --electricity 0.33/kWh",
	"do.say_need":              "hopperful need FILE --polymer … --save …",
	"do.say_next_need":         "hopperful need FILE --polymer … --save …",
	"do.set_aside":             "hopperful stock {lot}",
	"do.take_lot":              `hopperful fit {lot} "{need}"`,
	"do.grind_more":            `hopperful plan "{need}"`,
	"do.grind_it":              `hopperful plan "{need}"`,
	"do.test_pieces":           "hopperful identify --ask --lot {lot}",
	"do.pass_magnet":           "hopperful record magnet {lot} --metal …",
	"do.pass_some":             "hopperful record magnet {lot} --metal … --passed 200g",
	"do.sieve":                 "hopperful record sieved {lot} …",
	"do.dedust":                "hopperful record dedusted {lot} MASS --through 0.5mm",
	"do.sift":                  "hopperful record dedusted {lot} MASS --through …",
	"do.flow_test":             "hopperful record flow-test {lot} --printer … --screw-speed … --time … --extruded …",
	"do.describe_printer":      "hopperful machines set printer --name …",
	"do.describe_hopper":       `hopperful machines set printer --name "{printer}" --hopper-exit …`,
	"do.record_print":          `hopperful record printed --from {lot} --print "{need}" --mass … --good …`,
	"do.dry":                   "hopperful dry {lot}",
	"do.dry_otherwise":         "hopperful dry {lot}",
	"do.describe_dryer_for":    "hopperful machines set dryer --name … --way …",
	"do.describe_dryer":        "hopperful machines set dryer --name … --way …",
	"do.record_drying":         "hopperful record dried {lot} --way \"{way}\" --before … --after …",
	"do.take_colour":           "hopperful record coloured {lot} --photo '#rrggbb'",
	"do.take_in":               "hopperful take-in 1.2kg --polymer …",
	"do.try_test":              `hopperful identify … --found "{test}"`,
	"do.write_down_look":       `hopperful record serviced --mill "{mill}" --part screen --what inspected --sound …`,
	"do.weigh_mill":            `hopperful record ground --mill "{mill}" --from … --charge … --run …`,
	"books.list_campaigns":     "hopperful campaign",
	"books.list_lots":          "hopperful stock --all",
	"books.other_time":         "hopperful books --month 2026-11",
	"books.say_prices":         "hopperful books --granulate 6 --filament 22",
	"campaign.see_now":         "hopperful now",
	"dose.measure_level":       "hopperful machines set mill --name … --noise 91dB(A)",
	"dose.say_floor":           "hopperful dose --floor 12m2",
	"exchange.do_name_columns": "hopperful import --template",
	"exchange.do_template":     "hopperful sieve --template",
	"grains.do_unscaled":       "hopperful grains --sheet",
	"need.say_plate":           "hopperful need FILE --plate 1",
	"need.say_unit":            "hopperful need FILE --unit cm",
	"shop.campaign_list":       "hopperful now",
}

// commandFor is the command a step or remedy is done with; "" where none is.
func commandFor(s fact.Saying) string {
	text := commands[s.Code]
	for _, f := range s.Facts {
		text = strings.ReplaceAll(text, "{"+f.Name+"}", f.Text)
	}
	return text
}
