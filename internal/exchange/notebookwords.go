package exchange

import (
	"strings"

	"hopperful/quantity"
	"hopperful/shop"
)

// part is what a column of a notebook holds.
type part string

// The parts.
const (
	inDate         part = "date"
	inTime         part = "time"
	inWhat         part = "what"
	inLot          part = "lot"
	inFrom         part = "from"
	inInto         part = "into"
	inClass        part = "class"
	inName         part = "name"
	inPolymer      part = "polymer"
	inColour       part = "colour"
	inMetal        part = "metal"
	inPrice        part = "price"
	inInfill       part = "infill"
	inLargest      part = "largest"
	inWall         part = "wall thickness"
	inMill         part = "mill"
	inMass         part = "mass"
	inCharge       part = "charge"
	inProduct      part = "product"
	inLeft         part = "left"
	inSwept        part = "swept"
	inRun          part = "run"
	inRest         part = "rest"
	inLevel        part = "level"
	inChargeBefore part = "charge before"
	inChargeAfter  part = "charge after"
	inWallBefore   part = "wall before"
	inWallAfter    part = "wall after"
	inRoom         part = "room"
	inEnergy       part = "energy"
	inHole         part = "hole"
	inStalled      part = "stalled"
	inPrint        part = "print"
	inNeed         part = "need"
	inPurged       part = "purged"
	inGood         part = "good"
	inWhy          part = "why"
	inBy           part = "by"
	inNote         part = "note"
	inPan          part = "pan"
	inWay          part = "way"
	inTemperature  part = "temperature"
	inBefore       part = "before"
	inAfter        part = "after"
	inCaught       part = "caught"
	inJar          part = "jar"
	inTapped       part = "tapped"
)

// measured are the parts that are quantities, with the unit a template has.
var measured = map[part]struct {
	kind quantity.Kind
	unit string
}{
	inMass: {quantity.Mass, "g"}, inCharge: {quantity.Mass, "g"}, inProduct: {quantity.Mass, "g"}, inLeft: {quantity.Mass, "g"}, inSwept: {quantity.Mass, "g"},
	inPurged: {quantity.Mass, "g"}, inPan: {quantity.Mass, "g"}, inRun: {quantity.Duration, "s"}, inRest: {quantity.Duration, "min"},
	inChargeBefore: {quantity.Temperature, "°C"}, inChargeAfter: {quantity.Temperature, "°C"}, inWallBefore: {quantity.Temperature, "°C"}, inWallAfter: {quantity.Temperature, "°C"},
	inRoom: {quantity.Temperature, "°C"}, inEnergy: {quantity.Energy, "Wh"}, inHole: {quantity.Length, "mm"}, inLargest: {quantity.Length, "mm"}, inWall: {quantity.Length, "mm"},
	inTemperature: {quantity.Temperature, "°C"}, inBefore: {quantity.Mass, "g"}, inAfter: {quantity.Mass, "g"}, inCaught: {quantity.Mass, "g"}, inJar: {quantity.Volume, "ml"}, inTapped: {quantity.Mass, "g"},
	inInfill: {quantity.Share, "%"}, inPrice: {quantity.Money, ""}, inLevel: {quantity.Count, ""},
}

// partWords are what a heading may say: plain words of the trade, English and
// German, our own choice.
var partWords = wordsFor(map[part]string{
	inDate: "date|day|datum|tag", inTime: "time|clock|start|started|at|zeit|uhrzeit|uhr|beginn", inWhat: "what|kind|record|done|was|art|eintrag|vorgang",
	inLot: "lot|label|bin|posten|los|etikett|kiste", inFrom: "from|scrap|taken from|ground from|printed from|source|von|aus|ausgangsposten|ausgangslos|abfall", inInto: "into|to|goes into|product lot|product goes into|in posten|zu posten|in los|nach|ziel",
	inClass: "class|state|klasse|zustand", inName: "name|called|bezeichnung", inPolymer: "polymer|plastic|kunststoff|sorte", inColour: "colour|color|farbe",
	inMetal: "metal|metal in it|metall", inPrice: "price|paid|preis|bezahlt", inInfill: "infill|fill|füllgrad", inLargest: "largest|largest piece|longest side|größtes stück|größtes teil",
	inWall: "wall thickness|walls|wandstärke|wanddicke", inMill: "mill|mühle", inMass: "mass|weight|amount|net|masse|gewicht|menge|netto",
	inCharge: "charge|charge in|in|input|put in|filled in|einwaage|füllung|aufgabe|rein|hinein|charge rein", inProduct: "product|product out|out|output|came out|ground out|produkt|auswaage|heraus|raus|mahlgut",
	inLeft: "left|left in mill|left in the mill|stayed in the mill|residue|in der mühle|rest in der mühle|rückstand|verblieben", inSwept: "swept|swept up|dust|spill|dust and spill|gefegt|staub|kehricht|verschüttet",
	inRun: "run|run time|running time|ran|duration|laufzeit|dauer|mahldauer|lauf", inRest: "rest|pause|break|rest before|rest since the run before|pause davor", inLevel: "level|controller|controller level|stufe|regler|reglerstufe",
	inChargeBefore: "charge before|füllung vorher|charge vorher", inChargeAfter: "charge after|heap after|füllung nachher|charge nachher", inWallBefore: "wall before|wand vorher", inWallAfter: "wall after|wall|wand nachher|wand",
	inRoom: "room|air|room temperature|raum|raumtemperatur|luft", inEnergy: "energy|meter|energy by the meter|energie|strom|zähler", inHole: "hole|screen|screen hole|sieb|lochung|siebloch",
	inStalled: "stalled|stall|stuck|blockiert|stillstand|steckengeblieben", inPrint: "print|part|item|druck|teil|bauteil|gedrucktes", inNeed: "need|bedarf", inPurged: "purge|purged|skirts|purge and skirts|spülen|gespült|spülgut",
	inGood: "good|ok|result|gut|gelungen|ergebnis", inWhy: "why|reason|warum|grund", inBy: "by|who|person|von wem|wer", inNote: "note|notes|remark|remarks|comment|notiz|notizen|bemerkung|anmerkung",
	inWay: "way|dryer|dried in|trockner|getrocknet in|womit", inTemperature: "temperature|drying temperature|dryer temperature|temperatur|trockentemperatur",
	inBefore: "before|weighed before|before drying|vorher|vor dem trocknen", inAfter: "after|weighed after|after drying|nachher|nach dem trocknen",
	inCaught: "caught|metal caught|on the magnet|am magnet|metall am magnet", inJar: "jar|jar holds|glas|becher|messbecher", inTapped: "tapped|tapped down|gerüttelt|gestampft",
	inPan: "pan|tare|dish|bowl|empty pan|schale|schüssel|tara|leere schale",
})

// kindWords are what a record may be called: in a cell, a sheet's title, or on a
// line of its own.
var kindWords = wordsFor(map[string]string{
	"taken_in":  "taken in|take in|came in|in|intake|scrap|bought|eingang|aufgenommen|zugang|gekauft|abfall|lots|lose",
	"ground":    "ground|run|runs|grind|grinding|milled|gemahlen|mahlen|lauf|läufe|mahlgang|mahlgänge",
	"weighed":   "weighed|weighing|weighings|recount|gewogen|wägung|wägungen|nachgewogen",
	"printed":   "printed|print|prints|gedruckt|druck|drucke",
	"discarded": "discarded|thrown away|thrown out|weggeworfen|entsorgt",

	"dried":         "dried|drying|dryings|getrocknet|trocknen|trocknung|trocknungen",
	"passed_magnet": "magnet|past the magnet|over the magnet|magnets|über den magneten|magnetabscheidung",
	"dedusted":      "dedusted|dust off|dust taken off|dusting|entstaubt|abgesiebt",
	"jar_weighed":   "jar|jar weighed|bulk density|schüttdichte|glas gewogen",
	"serviced":      "serviced|service|upkeep|replaced|changed|sharpened|repaired|mended|inspected|looked at|found damaged|damaged|wartung|gewartet|ersetzt|gewechselt|geschärft|repariert|angesehen|beschädigt",
})

// upkeepWords are what was done to a part of a mill, where the word for the record
// says it.
var upkeepWords = wordsFor(map[shop.Upkeep]string{
	shop.Replaced: "replaced|changed|ersetzt|gewechselt|new|neu", shop.Sharpened: "sharpened|geschärft", shop.Repaired: "repaired|mended|repariert",
	shop.Inspected: "inspected|looked at|angesehen|ok", shop.FoundDamaged: "found damaged|damaged|beschädigt",
})

// wayWords are the ways to dry.
var wayWords = wordsFor(map[shop.Way]string{
	shop.Oven: "oven|ofen|backofen", shop.Dehydrator: "dehydrator|food dehydrator|dörrgerät|dörrautomat", shop.DesiccantBox: "desiccant box|box with desiccant|dry box|trockenbox|box mit trockenmittel",
	shop.DryAir: "dry air|dry-air dryer|trockenluft|trockenlufttrockner", shop.OtherWay: "other|sun|sonst|sonne",
})

// partOfMill are the parts of a mill.
var partOfMill = wordsFor(map[shop.MillPart]string{
	shop.BladePart: "blade|blades|knife|knives|plate|messer|klinge|klingen|platte", shop.ScreenPart: "screen|sieve|sieb|lochblech", shop.SealPart: "seal|dichtung",
	shop.MagnetPart: "magnet", shop.BearingPart: "bearing|bearings|lager", shop.OtherPart: "other|sonst",
})

// classWords are the classes of material that is taken in.
var classWords = wordsFor(map[string]string{
	"scrap": "scrap|failed prints|abfall|fehldrucke|fehldruck", "virgin": "virgin|new|virgin granulate|neuware|neu", "regrind": "regrind|ground|mahlgut|gemahlen",
	"blend": "blend|mischung", "print": "print|prints|druck",
})

// answerWords are yes and no.
var answerWords = wordsFor(map[string]string{"yes": "yes|y|x|1|true|good|ok|ja|j|gut|wahr", "no": "no|n|0|false|bad|failed|nein|schlecht|misslungen|falsch"})

// nobodyKnows are the ways to leave a cell empty.
var nobodyKnows = wordsFor(map[string]string{"": "-|–|—|?|??|n/a|na|unknown|not known|none|unbekannt|k.a.|k. a.|keine angabe|./."})

// asAbove are the signs for the same as in the line above.
var asAbove = wordsFor(map[string]string{"": `"|''|"|″|〃|„|do|do.|dito|ditto|same|as above|wie oben|ebenso`})

// sums begin a line that adds up the lines above it.
var sums = wordsFor(map[string]string{"": "total|totals|sum|summe|gesamt"})

// withPan are the endings of a heading whose masses were weighed with the pan.
var withPan = []string{"with pan", "with the pan", "with bowl", "with dish", "gross", "mit schale", "mit schüssel", "brutto"}

// wordsFor turns a list of words each into a lookup.
func wordsFor[K comparable](lists map[K]string) map[string]K {
	by := map[string]K{}
	for k, list := range lists {
		for _, w := range strings.Split(list, "|") {
			by[w] = k
		}
	}
	return by
}

// lower is a text as it is looked up.
func lower(text string) string {
	return strings.ToLower(strings.Join(strings.Fields(strings.ReplaceAll(text, "_", " ")), " "))
}
