package fit

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"hopperful/internal/checkrow"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// farOff are values of a parameter beyond both ends of what is believed of it, and far beyond them.
func farOff(median float64) [4]float64 {
	if median == 0 { // a score, or a weighing nobody made
		return [4]float64{-5, -1, 1, 5}
	}
	return [4]float64{median * 1e-5, median * 0.02, median * 50, median * 1e5}
}

// moved are the numbers of a struct that are not what they were, each behind its name.
func moved(v, was any) (told string) {
	words, before := strings.Fields(plainly(v)), strings.Fields(plainly(was))
	for i, w := range words {
		if i >= len(before) || w != before[i] {
			told += " " + words[max(i-1, 0)] + " " + w
		}
	}
	return told
}

// Each draw is held to what the formulas take: one number far off at a time, and what it moves. Where a formula
// refuses it all the same, that is told. It only notices that something moved.
func TestDrawsFarOffAreAsApproved(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	p := shoptest.P
	s := shoptest.Bin(t, &shop.PrinterSet{Printer: shop.Printer{Name: "Puddle", HopperExit: p(0.02)}}, &shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PLA", Sure: p(0.9), Mass: 1},
		&shop.Printed{From: "V1", Into: "P1", Print: "cup", Mass: 0.9, Moisture: p(0.003), Good: shop.No, Why: "warped"}, &shop.Sorted{From: "P1", Into: []shop.Part{{Lot: "S1", Polymer: "PLA", Sure: p(0.9), Mass: 0.9}}},
		&shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.9, Product: p(0.85), Run: 120}, &shop.Dried{Lot: "R1", Way: shop.Oven, Temperature: 340, Time: 1800, Bed: p(0.01)}, &shop.Printed{From: "R1", Print: "a", Mass: 0.1},
		&shop.Happened{What: shop.BlockedNozzle, Printer: "Puddle", Lot: "R1"})
	lot, _ := s.Lot("R1")
	j := &job{state: s, lot: lot, facts: factsOf(s, lot), printer: s.Printers[0]}
	j.req = Request{Lot: "R1", Need: shop.Need{Mass: p(0.2), MeanFlow: p(10e-9)}, Now: shoptest.Noon.Add(time.Hour), Draws: 1}.filled(s)
	j.table, _ = s.Table()
	if mixed, err := j.material(); err != nil || !mixed.Empty() {
		t.Fatal(mixed, err)
	}
	if err := j.draw(); err != nil {
		t.Fatal(err)
	}
	of := func(row []float64) (run, string, error) {
		runs, err := j.chain([][]float64{row})
		if err != nil {
			return run{}, "", err
		}
		j.rows = [][]float64{row}
		chart, err := j.pressureChart()
		return runs[0], checkrow.Whole(t, chart), err
	}
	middle, drawn, err := of(j.medians())
	if err != nil {
		t.Fatal(err)
	}
	fmt.Fprintf(&out, "in the middle: %s, %s\n", plainly(middle), drawn)
	for i, b := range j.beliefs {
		for _, v := range farOff(b.Median) {
			row := j.medians()
			row[i] = v
			if r, chart, err := of(row); err != nil {
				fmt.Fprintf(&out, "%s %.8g: %v\n", b.Key, v, err)
			} else {
				fmt.Fprintf(&out, "%s %.8g:%s, %s\n", b.Key, v, moved(r, middle), chart)
			}
		}
	}
	checkrow.ApprovedText(t, "faroff", out.String())
}

// The same of a drying: the draw, how long it may lie in the open then, and its curve.
func TestDryDrawsFarOffAreAsApproved(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	p := shoptest.P
	s := shoptest.Bin(t, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PETG", Sure: p(0.9), Mass: 1})
	for _, req := range []DryRequest{{Lot: "R1", Way: shop.DryAir, Start: p(0.003)}, {Lot: "R1", Way: shop.Dehydrator, Bed: p(0.2)}, {Lot: "R1", Way: shop.DesiccantBox, Humidity: p(0.01), Start: p(0.001)}} {
		req.Now, req.Draws = shoptest.Noon, 1
		j, err := newDryJob(s, req)
		if err != nil {
			t.Fatal(err)
		}
		if err := j.prepare(); err != nil {
			t.Fatal(err)
		}
		middle := append(j.medians(), j.softens().Median)
		for i := range middle {
			switch param(i) {
			case fSolid, fTop, fMean, fBulk, fWater, fSaturation, fDiffusivity, fEnergy, fUneven, fSpecific, fHours, fDryLimit, param(fSoftening):
			default:
				continue // no drying depends on it
			}
			for _, v := range farOff(middle[i]) {
				row := append([]float64(nil), middle...)
				row[i], j.rows = v, [][]float64{row}
				d, err := j.plan()
				fmt.Fprintf(&out, "%s %d %.8g: ", req.Way, i, v)
				if err != nil {
					fmt.Fprintln(&out, err)
					continue
				}
				fmt.Fprintf(&out, "%s, %t %t %s %.8g %.8g %.8g %s\n", plainly(j.draws[0]), d.Possible, d.Needed, d.By, j.depth, d.Time.Value, d.Open.Value, checkrow.Whole(t, []any{d, d.charts, d.steps}))
			}
		}
	}
	checkrow.ApprovedText(t, "drydrawsfaroff", out.String())
}
