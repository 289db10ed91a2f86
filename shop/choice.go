package shop

import "reflect"

// choice is what a word of a fixed list may be, and what is said when it is not.
type choice struct {
	list      []string
	say, hint string
}

// choices is keyed by the type of the word.
var choices = map[reflect.Type]choice{
	reflect.TypeFor[YesNo](): oneOf("is neither yes nor no.", "Leave it empty when it is not known.", Yes, No, Unknown),
	reflect.TypeFor[Place](): oneOf("is no place for the thermometer.", "It is the outer wall, in the charge, or empty.", NoThermometer, OuterWall, InCharge),
	reflect.TypeFor[Means](): oneOf("does not say what the description means.", "It is change, correction, or empty.", ByProperty, ChangedNow, AlwaysSo),
	reflect.TypeFor[Class](): oneOf("is no class of lot.", "It is scrap, regrind, virgin, blend or print.", Scrap, Regrind, Virgin, Blend, Print),
	reflect.TypeFor[Series](): oneOf("is no series of sieves known here.", "It is ISO 3310-1 R20/3, ISO 3310-1 R40/3, ISO 3310-1 R20, ASTM E11, or own.",
		R20x3, R40x3, R20, ASTME11, OwnSet),
	reflect.TypeFor[Holes]():     oneOf("is no form of opening.", "It is woven, round or square.", WovenWire, RoundHoles, SquareHoles),
	reflect.TypeFor[Way]():       oneOf("is no way to dry.", "It is oven, dehydrator, desiccant box, dry air or other.", Oven, Dehydrator, DesiccantBox, DryAir, OtherWay),
	reflect.TypeFor[ColourWay](): oneOf("is no way to take a colour.", "It is photo beside a white card, instrument, or by eye on a screen.", CardPhoto, Instrument, ByEye),
	reflect.TypeFor[MillPart]():  oneOf("is no part of a mill.", "It is blade, screen, seal, magnet, bearings or other.", BladePart, ScreenPart, SealPart, MagnetPart, BearingPart, OtherPart),
	reflect.TypeFor[Upkeep](): oneOf("is nothing done to a part.", "It is inspected, sharpened, replaced, repaired or found damaged.",
		Inspected, Sharpened, Replaced, Repaired, FoundDamaged),
	reflect.TypeFor[Mark]():      oneOf("is nothing that happens in a campaign.", "It is started, stopped, stalled, strange noise, paused, resumed, ended, taken back, sheet ticked or sheet skipped.", Marks()...),
	reflect.TypeFor[SheetItem](): oneOf("is no line of the sheet before the first charge.", "It is earth, lid switch, screen, plate, magnet, ears, eyes or dust.", SheetItems()...),
	reflect.TypeFor[Mishap](): oneOf("is nothing that happens.", "It is stalled, blocked nozzle, bridged hopper, torn screen, cracked plate, smell or smoke, or other.",
		Stalled, BlockedNozzle, BridgedHopper, TornScreen, CrackedPlate, SmellOrSmoke, OtherMishap),
}

func oneOf[T ~string](say, hint string, words ...T) choice {
	c := choice{say: say, hint: hint}
	for _, w := range words {
		c.list = append(c.list, string(w))
	}
	return c
}
