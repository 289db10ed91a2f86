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
	reflect.TypeFor[YesNo](): oneOf(fact.Say("shop.not_yes_or_no"), fact.Say("shop.do_empty_when_unknown"), Yes, No, Unknown),
	reflect.TypeFor[Place](): oneOf(fact.Say("shop.not_a_thermometer_place"), fact.Say("shop.do_thermometer_places"), NoThermometer, OuterWall, InCharge),
	reflect.TypeFor[Means](): oneOf(fact.Say("shop.means_not_said"), fact.Say("shop.do_means"), ByProperty, ChangedNow, AlwaysSo),
	reflect.TypeFor[Class](): oneOf(fact.Say("shop.not_a_class"), fact.Say("shop.do_classes"), Scrap, Regrind, Virgin, Blend, Print),
	reflect.TypeFor[Series](): oneOf(fact.Say("shop.not_a_sieve_series"), fact.Say("shop.do_sieve_series"),
		R20x3, R40x3, R20, ASTME11, OwnSet),
	reflect.TypeFor[Holes]():     oneOf(fact.Say("shop.not_an_opening"), fact.Say("shop.do_openings"), WovenWire, RoundHoles, SquareHoles),
	reflect.TypeFor[Way]():       oneOf(fact.Say("shop.not_a_dryer"), fact.Say("shop.do_dried_in"), Oven, Dehydrator, DesiccantBox, DryAir, OtherWay),
	reflect.TypeFor[ColourWay](): oneOf(fact.Say("shop.not_a_colour_way"), fact.Say("shop.do_colour_ways"), CardPhoto, Instrument, ByEye),
	reflect.TypeFor[MillPart]():  oneOf(fact.Say("shop.not_a_mill_part"), fact.Say("shop.do_mill_parts"), BladePart, ScreenPart, SealPart, MagnetPart, BearingPart, OtherPart),
	reflect.TypeFor[Upkeep](): oneOf(fact.Say("shop.not_a_service"), fact.Say("shop.do_services"),
		Inspected, Sharpened, Replaced, Repaired, FoundDamaged),
	reflect.TypeFor[Mark]():      oneOf(fact.Say("shop.not_a_campaign_event"), fact.Say("shop.do_campaign_events"), Marks()...),
	reflect.TypeFor[SheetItem](): oneOf(fact.Say("shop.not_on_sheet"), fact.Say("shop.do_look_over_parts"), SheetItems()...),
	reflect.TypeFor[Mishap](): oneOf(fact.Say("shop.not_a_mishap"), fact.Say("shop.do_mishaps"),
		Stalled, BlockedNozzle, BridgedHopper, TornScreen, CrackedPlate, SmellOrSmoke, OtherMishap),
}

func oneOf[T ~string](say, hint fact.Saying, words ...T) choice {
	c := choice{say: say, hint: hint}
	for _, w := range words {
		c.list = append(c.list, string(w))
	}
	return c
}
