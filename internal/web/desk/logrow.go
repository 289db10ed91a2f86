package desk

import (
	"slices"

	"hopperful/shop"
)

// RecordRow is one line of the log.
type RecordRow struct {
	ID        shop.RecordID
	When, By  string
	What      string
	Text      string
	Note      string
	Lots      []shop.LotID
	Struck    bool // struck out later
	Corrected bool
	Mends     shop.RecordID // the record it corrects
	Open      bool          // may still be corrected here
}

// LogRow tells one record of the history.
func LogRow(d *Desk, r shop.Record) RecordRow {
	s := Describe(d.Say, r)
	row := RecordRow{ID: r.ID, When: d.Clock(r.At), By: r.By, What: s.What, Text: s.Text, Note: r.Note, Lots: s.Lots, Mends: r.Corrects}
	now, stands := d.State.Record(r.ID)
	row.Struck = !stands && r.Corrects == 0
	row.Corrected = stands && now.CorrectedBy != 0
	row.Open = stands
	return row
}

// mostBeside is how many of the latest records stand beside a sheet.
const mostBeside = 5

// Latest tells the latest records of a kind, the newest first, for who writes the next.
func Latest(d *Desk, kind string) []RecordRow {
	bodies := shop.Bodies()
	i := slices.IndexFunc(bodies, func(b shop.Body) bool { return b.Kind() == kind })
	if i < 0 {
		return nil
	}
	var rows []RecordRow
	for r := range d.State.History.Page(0, true, bodies[i]) {
		if rows = append(rows, LogRow(d, r)); len(rows) == mostBeside {
			break
		}
	}
	return rows
}
