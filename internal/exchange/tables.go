package exchange

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"

	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/shop"
)

// mostInCell is what a cell of a workbook holds; a longer text, a picture, stands in
// the JSON Lines.
const mostInCell = 32_000

// sheetOf is one table of an export.
type sheetOf struct {
	title string
	rows  [][]any // the first are the headings; text, numbers, truth, nil
}

// WriteRecordsCSV writes every record as one table, its fields in SI under the
// names they have in JSON. comma writes numbers as German spreadsheets read them.
func WriteRecordsCSV(w io.Writer, s *shop.State, comma bool) error {
	rows, err := recordRows(s, s.History.List())
	if err != nil {
		return err
	}
	out := NewCells(w)
	if comma {
		out.PartedBy(';')
	}
	for _, r := range rows {
		cells := make([]string, len(r))
		for i, v := range r {
			cells[i] = textOf(v, comma)
		}
		if err := out.Write(cells); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// textOf is a cell as text.
func textOf(v any, comma bool) string {
	switch v := v.(type) {
	case nil:
		return ""
	case float64:
		text := strconv.FormatFloat(v, 'g', -1, 64)
		if comma {
			text = strings.Replace(text, ".", ",", 1)
		}
		return text
	case string:
		return v
	}
	return fmt.Sprint(v)
}

// WriteRecordsXLSX writes the lots, and every record on a sheet of its kind.
func WriteRecordsXLSX(w io.Writer, s *shop.State) error {
	sheets := []sheetOf{lotSheet(s)}
	for _, b := range shop.Bodies() {
		var of []shop.Record
		for _, r := range s.History.All() {
			if r.Body.Kind() == b.Kind() {
				of = append(of, r)
			}
		}
		if len(of) == 0 {
			continue
		}
		rows, err := recordRows(s, of)
		if err != nil {
			return err
		}
		sheets = append(sheets, sheetOf{b.Kind(), rows})
	}
	f := excelize.NewFile()
	defer f.Close()
	for i, sh := range sheets {
		if i == 0 {
			if err := f.SetSheetName(f.GetSheetName(0), sh.title); err != nil {
				return err
			}
		} else if _, err := f.NewSheet(sh.title); err != nil {
			return err
		}
		for n, r := range sh.rows {
			if err := f.SetSheetRow(sh.title, "A"+strconv.Itoa(n+1), &r); err != nil {
				return err
			}
		}
	}
	return f.Write(w)
}

// lotSheet are the lots as they are now.
func lotSheet(s *shop.State) sheetOf {
	sh := sheetOf{title: "lots", rows: [][]any{{"label", "class", "name", "polymer", "colour", "rgb", "mass_kg", "came_in_kg"}}}
	for _, id := range s.Order {
		l := s.Lots.At(id)
		sh.rows = append(sh.rows, []any{string(l.ID), string(l.Class), l.Name, l.Polymer, l.Colour, l.RGB, l.Mass, l.In})
	}
	return sh
}

// recordRows are records as a table: what all have in common, what became of them,
// and every field any of them has.
func recordRows(s *shop.State, records []shop.Record) ([][]any, error) {
	common := []any{"id", "kind", "at", "noted_at", "by", "note", "corrects", "stands", "says"}
	p := say.For(s.Shop.Language)
	var names []string
	flat := make([]map[string]any, len(records))
	for i, r := range records {
		text, err := shop.Encode(r.Body)
		if err != nil {
			return nil, err
		}
		var tree map[string]any
		if err := json.Unmarshal(text, &tree); err != nil {
			return nil, err
		}
		flat[i] = map[string]any{}
		if err := flatten(p, flat[i], "", tree); err != nil {
			return nil, err
		}
		for name := range flat[i] {
			if !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	slices.Sort(names)
	for _, n := range names {
		common = append(common, n)
	}
	rows := [][]any{common}
	for i, r := range records {
		now, stands := s.Record(r.ID)
		stands = r.Corrects == 0 && stands && now.CorrectedBy == 0 || r.Corrects != 0 && s.Holds(r)
		row := []any{float64(r.ID), r.Body.Kind(), r.At.Format(time.RFC3339), r.NotedAt.Format(time.RFC3339), r.By, r.Note, nil, stands, p.Say(shop.Describe(r.Body))}
		if r.Corrects != 0 {
			row[6] = float64(r.Corrects)
		}
		for _, n := range names {
			row = append(row, flat[i][n])
		}
		rows = append(rows, row)
	}
	return rows, nil
}

// flatten puts the fields of a body side by side: "mill.chamber_m3"; a list is one
// cell, as JSON.
func flatten(p *say.Printer, into map[string]any, under string, tree map[string]any) error {
	for name, v := range tree {
		switch v := v.(type) {
		case map[string]any:
			if err := flatten(p, into, under+name+".", v); err != nil {
				return err
			}
			continue
		case []any:
			var text bytes.Buffer
			e := json.NewEncoder(&text)
			e.SetEscapeHTML(false)
			if err := e.Encode(v); err != nil {
				return err
			}
			into[under+name] = cut(p, strings.TrimSpace(text.String()))
		case string:
			into[under+name] = cut(p, v)
		default:
			into[under+name] = v
		}
	}
	return nil
}

// cut leaves out a text that no cell holds.
func cut(p *say.Printer, text string) string {
	if len(text) > mostInCell {
		return p.Line("exchange.cell_left_out", fact.Count("n", len(text)))
	}
	return text
}
