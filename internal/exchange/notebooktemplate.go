package exchange

import (
	"io"
	"strings"

	"hopperful/internal/say"
)

// bookColumns are the columns of a template, in the order a day goes, with their
// headings in English and German.
var bookColumns = []struct {
	part  part
	heads string // English|German
}{
	{inDate, "date|Datum"}, {inTime, "time|Uhrzeit"}, {inWhat, "what|Was"}, {inLot, "lot|Posten"}, {inFrom, "from|von"}, {inInto, "into|nach"},
	{inMass, "mass|Masse"}, {inPolymer, "polymer|Kunststoff"}, {inColour, "colour|Farbe"},
	{inCharge, "charge|Einwaage"}, {inRun, "run|Laufzeit"}, {inLevel, "level|Stufe"}, {inProduct, "product|Auswaage"}, {inLeft, "left in the mill|in der Mühle"}, {inSwept, "swept up|gefegt"},
	{inWallBefore, "wall before|Wand vorher"}, {inWallAfter, "wall after|Wand nachher"}, {inRoom, "room|Raum"}, {inEnergy, "energy|Energie"}, {inStalled, "stalled|Stillstand"},
	{inWay, "dried in|getrocknet in"}, {inTemperature, "temperature|Temperatur"}, {inBefore, "weighed before|vor dem Trocknen"}, {inAfter, "weighed after|nach dem Trocknen"}, {inCaught, "metal caught|Metall am Magnet"},
	{inPrint, "print|Druck"}, {inPurged, "purge|gespült"}, {inGood, "good|gut"}, {inPan, "pan|Schale"}, {inBy, "by|wer"}, {inNote, "note|Notiz"},
}

// WriteNotebookTemplate writes an empty notebook to fill in, with headings in
// English or German.
func WriteNotebookTemplate(w io.Writer, lang string, f Format) error {
	p := say.For(lang)
	var lines [][]string
	for _, how := range []string{p.Line("exchange.book_how"), p.Line("exchange.book_how_dates"), p.Line("exchange.book_how_pan")} {
		lines = append(lines, []string{"# " + how})
	}
	var heads []string
	for _, c := range bookColumns {
		word, german, _ := strings.Cut(c.heads, "|")
		if p.Language == "de" {
			word = german
		}
		if unit := measured[c.part].unit; unit != "" {
			word += " (" + unit + ")"
		}
		heads = append(heads, word)
	}
	separator := ','
	if p.Language == "de" { // where the comma parts decimals
		separator = ';'
	}
	return writeParted(w, p.Line("exchange.book_sheet"), append(lines, heads), f, separator)
}
