package demo

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
	"time"

	"hopperful/plan/consumption"
	"hopperful/shop"
)

var today = time.Date(2026, 6, 15, 14, 30, 0, 0, time.UTC)

func records(t *testing.T, seed uint64) []shop.Record {
	t.Helper()
	rs, err := Records(today, rand.New(rand.NewPCG(seed, 1)))
	if err != nil {
		t.Fatalf("seed %d: %v", seed, err)
	}
	return rs
}

// Whatever the chance, the shop takes every record and its books close.
func TestBooksCloseForManySeeds(t *testing.T) {
	t.Parallel()
	for seed := range uint64(60) {
		state, err := shop.Fold(records(t, seed))
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		b := shop.BalanceOf(state)
		if math.Abs(b.Residual) > 1e-9 {
			t.Errorf("seed %d: %g kg are unaccounted for", seed, b.Residual)
		}
		if b.Lost < 0 || b.Lost > 0.15*b.In {
			t.Errorf("seed %d: %.3f of %.3f kg lost is not plausible", seed, b.Lost, b.In)
		}
		if state.Last.After(today) {
			t.Errorf("seed %d: the last record is of %s, after the end", seed, state.Last)
		}
	}
}

// What a newcomer should find: every class and kind of thing worth showing.
func TestThereIsSomethingOfEverything(t *testing.T) {
	t.Parallel()
	state, err := shop.Fold(records(t, 1))
	if err != nil {
		t.Fatal(err)
	}
	kinds := map[string]int{}
	stalls, failed, span := 0, 0, time.Duration(0)
	for _, r := range state.History.All() {
		kinds[r.Body.Kind()]++
		span = max(span, today.Sub(r.At))
		switch body := r.Body.(type) {
		case *shop.Ground:
			if body.Stalled {
				stalls++
			}
		case *shop.Printed:
			if body.Good == shop.No {
				failed++
			}
		}
		if r.Corrects != 0 {
			kinds["correction"]++
		}
	}
	for kind, least := range map[string]int{"ground": 35, "printed": 10, "taken_in": 11, "sorted": 6,
		"sieved": 7, "passed_magnet": 5, "dedusted": 1, "dried": 2, "jar_weighed": 2, "flow_tested": 4, "serviced": 3, "coloured": 9, "blended": 2, "happened": 2,
		"weighed": 1, "discarded": 1, "mill_set": 2, "scale_set": 2, "printer_set": 1, "person_set": 3, "correction": 1} {
		if kinds[kind] < least {
			t.Errorf("%d records of kind %s, wanted at least %d", kinds[kind], kind, least)
		}
	}
	if stalls == 0 || failed < 3 || span < 90*24*time.Hour {
		t.Errorf("%d stalls, %d failed prints over %s", stalls, failed, span)
	}
	for _, id := range []shop.LotID{"S1", "S4", "S7"} {
		if l, ok := state.Lot(id); !ok || l.Mass < 0.3 {
			t.Errorf("lot %s is too small to plan with: %+v", id, l)
		}
	}
}

func TestSameDayAndSeedGiveTheSameBooks(t *testing.T) {
	t.Parallel()
	a, err := json.Marshal(records(t, 7))
	if err != nil {
		t.Fatal(err)
	}
	b, err := json.Marshal(records(t, 7))
	if err != nil {
		t.Fatal(err)
	}
	if string(a) != string(b) {
		t.Error("two runs differ")
	}
}

// The volumes are those of the solids in words: a frustum between two rings of
// corners is a prismatoid, and h/6·(A₁ + 4·Aₘ + A₂) is exact for it
// (prismoidal formula; own derivation of the areas).
func TestFilesReadBackAsWhatTheyAre(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	if err := WriteFiles(folder); err != nil {
		t.Fatal(err)
	}
	if err := WriteFiles(folder); err != nil {
		t.Errorf("its own files are in its way: %v", err)
	}
	other := t.TempDir()
	if err := os.WriteFile(filepath.Join(other, "wedge.stl"), []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	var taken *TakenError
	if err := WriteFiles(other); !errors.As(err, &taken) {
		t.Errorf("a file of somebody else: %v", err)
	}
	if kept, err := os.ReadFile(filepath.Join(other, "wedge.stl")); err != nil || string(kept) != "mine" {
		t.Errorf("it is %q now, %v", kept, err)
	}
	// A regular n-gon of radius r has the area n/2·r²·sin(2π/n).
	hexagon := func(r float64) float64 { return 3 * r * r * math.Sin(math.Pi/3) }
	foot := 44.0 / 6 * (hexagon(42) + 4*hexagon(37.5) + hexagon(33)) // mm³
	square := func(sx, sy float64) float64 { return 2 * 34 * 34 * sx * sy }
	wedge := 26.0 / 6 * (square(1.6, 0.9) + 4*square(1.55, 0.625) + square(1.5, 0.35))
	for name, want := range map[string]float64{"feet.3mf": 4 * foot * 1e-9, "wedge.stl": wedge * 1e-9} {
		found := reread(t, filepath.Join(folder, name))
		if got := *found.Need.Volume; math.Abs(got-want) > 1e-5*want {
			t.Errorf("%s: %g m³, wanted %g", name, got, want)
		}
		if len(found.Warnings) > 0 && name == "feet.3mf" && !found.Solid.Closed {
			t.Errorf("%s: %v", name, found.Warnings)
		}
	}
	vase := reread(t, filepath.Join(folder, "vase.gcode"))
	if v := *vase.Need.Volume; v < 150e-6 || v > 220e-6 {
		t.Errorf("the vase holds %g m³ of plastic", v)
	}
}

func reread(t *testing.T, name string) consumption.Found {
	t.Helper()
	file, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	facts, err := file.Stat()
	if err != nil {
		t.Fatal(err)
	}
	found, err := consumption.ReadNeed(name, file, facts.Size(), consumption.Reading{})
	if err != nil {
		t.Fatal(err)
	}
	return found
}
