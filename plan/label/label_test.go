package label_test

import (
	"slices"
	"testing"
	"time"

	"hopperful/plan/fit"
	"hopperful/plan/label"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// A dried lot's label says until when it is dry: the end of the drying and the
// short end of the time it may lie open, as the room of drying says it. A lot that
// was not dried, and one that must not be, says nothing of it.
func TestDryUntil(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, &shop.TakenIn{Class: shop.Regrind, Polymer: "PETG", Colour: "clear", Name: "covers", Sure: shoptest.P(1), Halogen: shop.No, Mass: 1})
	until := func(s *shop.State, id shop.LotID) (time.Time, bool) {
		l, err := label.Of(s, id, shoptest.Noon)
		if err != nil {
			t.Fatal(err)
		}
		for _, line := range l.Lines {
			if line.Code == "label.dry_until" {
				f, _ := line.Fact("when")
				return f.Time, true
			}
		}
		return time.Time{}, false
	}
	if at, ok := until(s, "R1"); ok {
		t.Errorf("not dried, and dry until %v", at)
	}
	began := shoptest.Noon.Add(-5 * time.Hour)
	s, err := s.With(shop.Record{At: shoptest.Noon.Add(-40 * time.Minute), Body: &shop.Dried{Lot: "R1", Way: shop.Oven, Temperature: 338.15, Time: 1800}})
	if err != nil {
		t.Fatal(err)
	}
	d, err := fit.Dry(s, fit.DryRequest{Lot: "R1", Now: shoptest.Noon})
	if err != nil {
		t.Fatal(err)
	}
	want := shoptest.Noon.Add(-10*time.Minute + time.Duration(d.Open.Low*float64(time.Second)))
	if at, ok := until(s, "R1"); !ok || at.Sub(want).Abs() > time.Second || !at.After(began) {
		t.Errorf("dry until %v (%v), wanted %v", at, ok, want)
	}
	barred := shoptest.Bin(t, &shop.TakenIn{Class: shop.Scrap, Mass: 1})
	l, err := label.Of(barred, "S1", shoptest.Noon)
	if err != nil || l.Lines[1].Code != "label.barred" {
		t.Errorf("%v %+v", err, l)
	}
	if _, err := label.Of(barred, "S9", shoptest.Noon); err == nil {
		t.Error("a lot that is not there has a label")
	}
}

// The last drying counts, whichever was written down first; what its room never spoils has no
// time on its sticker, nor has what is good for longer than a month; a name stands last where there is one.
func TestWhatStandsOnASticker(t *testing.T) {
	t.Parallel()
	codes := func(s *shop.State, id shop.LotID) (all []string, until time.Time) {
		l, err := label.Of(s, id, shoptest.Noon)
		if err != nil || l.Lot != id {
			t.Fatal(l.Lot, err)
		}
		for _, line := range l.Lines {
			all = append(all, line.Code)
			if f, ok := line.Fact("when"); ok && line.Code == "label.dry_until" {
				until = f.Time
			}
		}
		return all, until
	}
	dried := func(s *shop.State, hours float64) *shop.State {
		s, err := s.With(shop.Record{At: shoptest.Noon.Add(-time.Duration(hours * float64(time.Hour))), Body: &shop.Dried{Lot: "R1", Way: shop.Oven, Temperature: 338.15, Time: 600}})
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	lot := func(polymer, name string) *shop.State {
		return shoptest.Bin(t, &shop.TakenIn{Class: shop.Regrind, Polymer: polymer, Name: name, Sure: shoptest.P(1), Halogen: shop.No, Mass: 1})
	}
	if got, _ := codes(lot("PETG", ""), "R1"); !slices.Equal(got, []string{"label.what", "label.mass"}) {
		t.Errorf("without a name: %v", got)
	}
	named, late := codes(dried(dried(lot("PETG", "covers"), 0.5), 0.2), "R1")
	if !slices.Equal(named, []string{"label.what", "label.mass", "label.dry_until", "label.name"}) {
		t.Errorf("named and dried: %v", named)
	}
	_, same := codes(dried(dried(lot("PETG", "covers"), 0.2), 0.5), "R1")
	_, early := codes(dried(lot("PETG", "covers"), 0.5), "R1")
	if !late.Equal(same) || !late.After(early) || late.Sub(early) < 15*time.Minute {
		t.Errorf("dried twice: until %v, written the other way round %v, only the first time %v", late, same, early)
	}
	if got, _ := codes(dried(lot("PP", ""), 0.5), "R1"); !slices.Equal(got, []string{"label.what", "label.mass"}) { // below its limit in any room
		t.Errorf("polypropylene: %v", got)
	}
}
