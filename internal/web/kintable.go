package web

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"hopperful/internal/exchange"
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
func (k *kinTree) rows(most int) (rows []kinRow, more int) {
	k.each(func(b, on *kinBox, up bool) {
		if len(rows) == most {
			more++
			return
		}
		row := kinRow{Way: map[bool]string{true: "into", false: "out of"}[up], Level: b.Level, Beside: on.Lot.Lot, Mass: grams(b.Mass), What: b.what()}
		if b.Kind == kinLot {
			row.Lot, row.OnHand, row.Share, row.Records = b.Lot.Lot, grams(b.Lot.OnHand), quantity.Share.Rough(b.Share), b.Records
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
		return "came from"
	}
	return "went to"
}

// what says what stands in a box, for a table.
func (b *kinBox) what() string {
	switch b.Kind {
	case kinMore:
		return plural(b.Count, "lot") + " more"
	case kinOutside:
		return "outside the shop"
	case kinFound:
		return "found at a recount"
	case kinMill:
		return "in a mill, or left in it"
	case kinLost:
		return "lost: " + b.Words
	}
	text := kinWords(b.Lot)
	if n := b.note(); n != "" {
		text += "; " + n
	}
	return text
}

// writeKin writes a family as CSV. Numbers keep the decimal point, which every
// program reads.
func writeKin(w io.Writer, k *kinTree) {
	out := exchange.NewCells(w)
	n := func(x float64) string { return strconv.FormatFloat(x, 'g', 9, 64) }
	out.Write([]string{"way", "lots away", "lot", "what", "beside", "mass [kg]", "share", "on hand [kg]", "from outside [kg]", "drawn elsewhere", "records"})
	out.Write([]string{"the lot itself", "0", string(k.Lot.Lot.Lot), kinWords(k.Lot.Lot), "", n(k.In), "1", n(k.Lot.Lot.OnHand), "", "", ""})
	k.each(func(b, on *kinBox, up bool) {
		line := []string{wayWords(up), strconv.Itoa(b.Level), "", b.what(), string(on.Lot.Lot), n(b.Mass), "", "", "", "", ""}
		if b.Kind == kinLot {
			var records []string
			for _, r := range b.Records {
				records = append(records, fmt.Sprint(r))
			}
			line[2], line[3], line[6], line[7], line[8] = string(b.Lot.Lot), kinWords(b.Lot), n(b.Share), n(b.Lot.OnHand), n(b.Door)
			line[9], line[10] = strconv.FormatBool(b.Again), strings.Join(records, " ")
		}
		out.Write(line)
	})
	out.Flush() // an error here means the reader has gone
}
