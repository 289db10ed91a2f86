package web

import (
	"math"
	"strings"
	"testing"

	"hopperful/internal/say"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/sheets"
	"hopperful/shop"
)

// TestAPrintSaysHowDampItWas: the form takes the water in the granulate, and says
// beside it how dry the lot's polymer should be by the table of materials.
func TestAPrintSaysHowDampItWas(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	body, in := readAs(t, b, "print", answers("from", "V1", "print", "hook", "mass_kg", "30", "moisture", "0,03"))
	if body == nil {
		t.Fatalf("refused: %v", in.Wrong)
	}
	if w := body.(*shop.Printed).Moisture; w == nil || math.Abs(*w-3e-4) > 1e-12 {
		t.Errorf("the moisture is %v", w)
	}
	if body, _ := readAs(t, b, "print", answers("from", "V1", "print", "hook", "mass_kg", "30")); body.(*shop.Printed).Moisture != nil {
		t.Error("something is known of water nobody measured")
	}
	help := func(lot string) string {
		d := &desk.Desk{State: b.store.State(), Say: say.For(), Now: noon, Query: func(string) string { return lot }}
		return sheets.DryEnough(d)
	}
	lot, _ := b.store.State().Lot("V1")
	if got := help("V1"); !strings.Contains(got, "at most "+lot.Polymer) || !strings.Contains(got, "%") {
		t.Errorf("of V1 it says %q", got)
	}
	if got := help(""); !strings.Contains(got, "PLA") || !strings.Contains(got, "PETG") {
		t.Errorf("of the stock it says %q", got)
	}
}
