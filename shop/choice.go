package shop

import (
	"hopperful/fact"
	"reflect"
)

// choice is what a word of a fixed list may be, and what is said when it is not.
type choice struct {
	list      []string
	say, hint fact.Saying
}

// choices is keyed by the type of the word.
var choices = map[reflect.Type]choice{
	reflect.TypeFor[YesNo](): oneOf(fact.Say("shop.is_neither_yes_nor_no"), fact.Say("shop.leave_it_empty_when_it"), Yes, No, Unknown),
	reflect.TypeFor[Place](): oneOf(fact.Say("shop.is_no_place_for_the_thermometer"), fact.Say("shop.it_is_the_outer_wall_in_the"), NoThermometer, OuterWall, InCharge),
	reflect.TypeFor[Means](): oneOf(fact.Say("shop.does_not_say_what_the_description_means"), fact.Say("shop.it_is_change_correction_or_empty"), ByProperty, ChangedNow, AlwaysSo),
	reflect.TypeFor[Class](): oneOf(fact.Say("shop.is_no_class_of_lot"), fact.Say("shop.it_is_scrap_regrind_virgin_blend_or"), Scrap, Regrind, Virgin, Blend, Print),
	reflect.TypeFor[Series](): oneOf(fact.Say("shop.is_no_series_of_sieves_known_here"), fact.Say("shop.it_is_iso_3310_1_r20_3"),
		R20x3, R40x3, R20, ASTME11, OwnSet),
	reflect.TypeFor[Holes]():     oneOf(fact.Say("shop.is_no_form_of_opening"), fact.Say("shop.it_is_woven_round_or_square"), WovenWire, RoundHoles, SquareHoles),
	reflect.TypeFor[Way]():       oneOf(fact.Say("shop.is_no_way_to_dry"), fact.Say("shop.it_is_oven_dehydrator_desiccant_box_dry"), Oven, Dehydrator, DesiccantBox, DryAir, OtherWay),
	reflect.TypeFor[ColourWay](): oneOf(fact.Say("shop.is_no_way_to_take_a_colour"), fact.Say("shop.it_is_photo_beside_a_white_card"), CardPhoto, Instrument, ByEye),
	reflect.TypeFor[MillPart]():  oneOf(fact.Say("shop.is_no_part_of_a_mill"), fact.Say("shop.it_is_blade_screen_seal_magnet_bearings"), BladePart, ScreenPart, SealPart, MagnetPart, BearingPart, OtherPart),
	reflect.TypeFor[Upkeep](): oneOf(fact.Say("shop.is_nothing_done_to_a_part"), fact.Say("shop.it_is_inspected_sharpened_replaced_repaired_or"),
		Inspected, Sharpened, Replaced, Repaired, FoundDamaged),
	reflect.TypeFor[Mark]():      oneOf(fact.Say("shop.is_nothing_that_happens_in_a_campaign"), fact.Say("shop.it_is_started_stopped_stalled_strange_noise"), Marks()...),
	reflect.TypeFor[SheetItem](): oneOf(fact.Say("shop.is_no_line_of_the_sheet_before"), fact.Say("shop.it_is_earth_lid_switch_screen_plate"), SheetItems()...),
	reflect.TypeFor[Mishap](): oneOf(fact.Say("shop.is_nothing_that_happens"), fact.Say("shop.it_is_stalled_blocked_nozzle_bridged_hopper"),
		Stalled, BlockedNozzle, BridgedHopper, TornScreen, CrackedPlate, SmellOrSmoke, OtherMishap),
}

func oneOf[T ~string](say, hint fact.Saying, words ...T) choice {
	c := choice{say: say, hint: hint}
	for _, w := range words {
		c.list = append(c.list, string(w))
	}
	return c
}
