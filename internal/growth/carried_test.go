package growth_test

import (
	"bytes"
	"encoding/json"
	"math/rand/v2"
	"testing"
	"time"

	"hopperful/internal/growth"
	"hopperful/plan"
	"hopperful/plan/books"
	"hopperful/plan/next"
	"hopperful/plan/sieving"
	"hopperful/plan/upkeep"
	"hopperful/shop"
)

// inMemory gives the records of a list by their numbers, as a file does.
type inMemory []shop.Record

func (m inMemory) Record(id shop.RecordID) shop.Record { return m[id-1] }

// TestCarriedOnIsReadFromAll cuts a long history with services and damage in it, keeps what
// followed from the first part, and goes on from there: each room says what it says of the
// shop folded from all.
func TestCarriedOnIsReadFromAll(t *testing.T) {
	t.Parallel()
	all := worn(t, 2600)
	whole, err := shop.Fold(all)
	if err != nil {
		t.Fatal(err)
	}
	all = whole.History.List()
	want := told(t, whole)
	for _, cut := range []int{40, 900, 1500, 2100, len(all) - 1} {
		first, err := shop.Fold(all[:cut])
		if err != nil {
			t.Fatal(err)
		}
		var packed bytes.Buffer
		if err := first.Pack(&packed); err != nil {
			t.Fatal(err)
		}
		kept, err := shop.Unpack(shop.InMemory(packed.Bytes()), inMemory(all))
		if err != nil {
			t.Fatal(err)
		}
		s, ok, err := kept.Continue(all[cut:])
		if err != nil || !ok {
			t.Fatalf("after %d: %t, %v", cut, ok, err)
		}
		for room, doc := range told(t, s) {
			if doc != want[room] {
				t.Errorf("%s, kept after %d of %d: it says\n%s\nand of all\n%s", room, cut, len(all), doc, want[room])
			}
		}
	}
}

// worn is a history of some records in which parts are looked at, damaged and renewed.
func worn(t *testing.T, n int) []shop.Record {
	t.Helper()
	chance := rand.New(rand.NewPCG(3, 3))
	parts := []shop.MillPart{shop.ScreenPart, shop.BladePart, shop.SealPart, shop.MagnetPart, shop.BearingPart}
	var all []shop.Record
	add := func(r shop.Record) {
		r.ID = shop.RecordID(len(all) + 1)
		all = append(all, r)
	}
	err := growth.Records(n, time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC), func(piece []shop.Record) error {
		for _, r := range piece {
			add(r)
			if chance.IntN(60) > 0 || len(all) < 30 {
				continue
			}
			b := &shop.Serviced{Mill: "tub", Part: parts[chance.IntN(len(parts))], What: shop.Inspected, Sound: shop.Yes}
			switch chance.IntN(4) {
			case 0:
				b.What, b.Sound = shop.FoundDamaged, shop.No
			case 1:
				b.What = shop.Replaced
			}
			add(shop.Record{At: r.At.Add(time.Minute), Body: b})
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// told is what the rooms say that learn from all records.
func told(t *testing.T, s *shop.State) map[string]string {
	t.Helper()
	out := map[string]string{}
	say := func(room string, v any, err error) {
		if err != nil {
			t.Fatalf("%s: %v", room, err)
		}
		text, err := json.Marshal(v)
		if err != nil {
			t.Fatalf("%s: %v", room, err)
		}
		out[room] = string(text)
	}
	doc, err := upkeep.Of(s, "tub", upkeep.Options{})
	say("upkeep", doc, err)
	say("suspects", upkeep.Suspects(s), nil)
	screen, err := sieving.Screen(s, "tub")
	say("screen", screen, err)
	say("next", next.Of(s), nil)
	learnt, err := plan.Learn(s, "tub")
	say("learn", learnt, err)
	kept, err := books.Of(s, books.Month(s.Last))
	say("books", kept.Document, err)
	return out
}
