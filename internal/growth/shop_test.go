package growth

import (
	"testing"
	"time"

	"hopperful/shop"
)

// TestALongShopIsOneThatCouldBe: it folds, nothing is asked about it, and but a few lots
// are used up.
func TestALongShopIsOneThatCouldBe(t *testing.T) {
	t.Parallel()
	var all []shop.Record
	end := time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)
	if err := Records(20_000, end, func(piece []shop.Record) error { all = append(all, piece...); return nil }); err != nil {
		t.Fatal(err)
	}
	s, err := shop.Fold(all)
	if err != nil {
		t.Fatal(err)
	}
	if len(all) != 20_000 || !s.Last.Equal(end) || len(s.Asks()) != 0 {
		t.Errorf("%d records up to %v, %d questions", len(all), s.Last, len(s.Asks()))
	}
	if open := len(s.Stock(shop.Scrap)) + len(s.Stock(shop.Regrind)); open > 3 || s.Lots.Len() < 1000 {
		t.Errorf("%d of %d lots on hand", open, s.Lots.Len())
	}
}
