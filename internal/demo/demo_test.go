package demo

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"testing"
	"time"

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
	for _, r := range state.History {
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
	for kind, least := range map[string]int{"ground": 35, "printed": 10, "taken_in": 14, "sorted": 2,
		"weighed": 1, "discarded": 1, "mill_set": 2, "scale_set": 1, "printer_set": 1, "person_set": 3, "correction": 1} {
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
