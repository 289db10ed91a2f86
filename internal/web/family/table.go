package family

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"hopperful/fact"
	"hopperful/internal/exchange"
	"hopperful/internal/say"
	"hopperful/quantity"
	"hopperful/shop"
)

// kinRow is a line of a family's table: a band of the picture.
type kinRow struct {
	Way     string // "into", "out of": the lot beside
	Level   int    // how many lots away
	Lot     shop.LotID
	What    string
	Beside  shop.LotID // the lot at the other end of the band
	Mass    string
	Share   string
	OnHand  string
	Records []shop.RecordID
	More    int // records beyond those
}

// mostRecords is how many records a line names.
const mostRecords = 3

// rows are the bands of a family as a table, at most so many, and how many more
// there are.
func (k *Tree) rows(p *say.Printer, most int) (rows []kinRow, more int) {
	k.Each(func(b, on *Box, up bool) {
		if len(rows) == most {
			more++
			return
		}
		row := kinRow{Way: p.Line(map[bool]string{true: "form.into_word", false: "form.out_of"}[up]), Level: b.Level, Beside: on.Lot.Lot, Mass: p.Weighed(b.Mass), What: b.what(p)}
		if b.Kind == KinLot {
			row.Lot, row.OnHand, row.Share, row.Records = b.Lot.Lot, p.Weighed(b.Lot.OnHand), p.Number(quantity.Share.Rough(b.Share)), b.Records
			if n := len(b.Records); n > mostRecords {
				row.Records, row.More = b.Records[:mostRecords], n-mostRecords
			}
		}
		rows = append(rows, row)
	})
	return rows, more
}

func wayWords(up bool) string {
	if up {
		return "form.came_from"
	}
	return "form.went_to"
}

// what says what stands in a box, for a table.
func (b *Box) what(p *say.Printer) string {
	switch b.Kind {
	case KinMore:
		return p.Line("form.lots_more", fact.Count("n", b.Count))
	case kinOutside:
		return p.Line("form.outside_the_shop")
	case kinFound:
		return p.Line("form.found_at_recount_word")
	case kinMill:
		return p.Line("form.place_in_mill")
	case kinLost:
		return p.Line("form.lost_named", fact.Name("words", b.Words))
	}
	text := kinWords(p, b.Lot)
	if n := b.note(); n != "" {
		text += "; " + p.Word(n)
	}
	return text
}

// Write writes a family as CSV. Numbers keep the decimal point, which every
// program reads.
func Write(w io.Writer, p *say.Printer, k *Tree) {
	out := exchange.NewCells(w)
	n := func(x float64) string { return strconv.FormatFloat(x, 'g', 9, 64) }
	var head []string
	for _, code := range []string{"form.way", "form.lots_away", "column.lot", "form.what", "form.beside", "form.mass_kg", "form.share", "form.on_hand_kg", "form.from_outside_kg", "form.drawn_elsewhere", "form.records_word"} {
		head = append(head, p.Line(code))
	}
	out.Write(head)
	out.Write([]string{p.Line("form.the_lot_itself"), "0", string(k.Lot.Lot.Lot), kinWords(p, k.Lot.Lot), "", n(k.In), "1", n(k.Lot.Lot.OnHand), "", "", ""})
	k.Each(func(b, on *Box, up bool) {
		line := []string{p.Word(wayWords(up)), strconv.Itoa(b.Level), "", b.what(p), string(on.Lot.Lot), n(b.Mass), "", "", "", "", ""}
		if b.Kind == KinLot {
			var records []string
			for _, r := range b.Records {
				records = append(records, fmt.Sprint(r))
			}
			line[2], line[3], line[6], line[7], line[8] = string(b.Lot.Lot), kinWords(p, b.Lot), n(b.Share), n(b.Lot.OnHand), n(b.Door)
			line[9], line[10] = strconv.FormatBool(b.Again), strings.Join(records, " ")
		}
		out.Write(line)
	})
	out.Flush() // an error here means the reader has gone
}
