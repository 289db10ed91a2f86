package exchange

import (
	"io"
)

// bookColumns are the columns of a template, in the order a day goes, with their
// headings in English and German.
var bookColumns = []struct {
	part   part
	en, de string
}{
	{inDate, "date", "Datum"}, {inTime, "time", "Uhrzeit"}, {inWhat, "what", "Was"}, {inLot, "lot", "Posten"}, {inFrom, "from", "von"}, {inInto, "into", "nach"},
	{inMass, "mass", "Masse"}, {inPolymer, "polymer", "Kunststoff"}, {inColour, "colour", "Farbe"},
	{inCharge, "charge", "Einwaage"}, {inRun, "run", "Laufzeit"}, {inLevel, "level", "Stufe"}, {inProduct, "product", "Auswaage"}, {inLeft, "left in the mill", "in der Mühle"}, {inSwept, "swept up", "gefegt"},
	{inWallBefore, "wall before", "Wand vorher"}, {inWallAfter, "wall after", "Wand nachher"}, {inRoom, "room", "Raum"}, {inEnergy, "energy", "Energie"}, {inStalled, "stalled", "Stillstand"},
	{inWay, "dried in", "getrocknet in"}, {inTemperature, "temperature", "Temperatur"}, {inBefore, "weighed before", "vor dem Trocknen"}, {inAfter, "weighed after", "nach dem Trocknen"}, {inCaught, "metal caught", "Metall am Magnet"},
	{inPrint, "print", "Druck"}, {inPurged, "purge", "gespült"}, {inGood, "good", "gut"}, {inPan, "pan", "Schale"}, {inBy, "by", "wer"}, {inNote, "note", "Notiz"},
}

// bookHowTo heads a template.
var bookHowTo = map[string][]string{
	"en": {
		"# A line for each thing done: what is taken in, ground, weighed, dried, let over the magnet, printed or thrown away. Take out columns you have nothing for; what nobody knows stays empty.",
		"# The date stands on the first line of a day. A lot is its label (S1) or the name it was taken in under. An empty into: where the run before went.",
		"# Weighed with the pan? Call the column product with pan (g), and write what the empty pan weighs under pan (g).",
	},
	"de": {
		"# Eine Zeile für jedes, was getan wurde: aufgenommen, gemahlen, gewogen, getrocknet, über den Magneten gegeben, gedruckt oder weggeworfen. Nimm Spalten heraus, für die du nichts hast; was niemand weiß, bleibt leer.",
		"# Das Datum steht auf der ersten Zeile eines Tages. Ein Posten ist sein Etikett (S1) oder der Name, unter dem es aufgenommen wurde. Leer unter nach: wohin der Lauf davor ging.",
		"# Mit der Schale gewogen? Nenne die Spalte Auswaage mit Schale (g), und schreib unter Schale (g), was die leere Schale wiegt.",
	},
}

// WriteNotebookTemplate writes an empty notebook to fill in, with headings in
// English or German.
func WriteNotebookTemplate(w io.Writer, lang string, f Format) error {
	how := bookHowTo[lang]
	if how == nil {
		lang, how = "en", bookHowTo["en"]
	}
	var lines [][]string
	for _, h := range how {
		lines = append(lines, []string{h})
	}
	var heads []string
	for _, c := range bookColumns {
		word := c.en
		if lang == "de" {
			word = c.de
		}
		if unit := measured[c.part].unit; unit != "" {
			word += " (" + unit + ")"
		}
		heads = append(heads, word)
	}
	separator := ','
	if lang == "de" { // where the comma parts decimals
		separator = ';'
	}
	return writeParted(w, map[string]string{"en": "Notebook", "de": "Heft"}[lang], append(lines, heads), f, separator)
}
