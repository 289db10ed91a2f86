package books

import (
	"fmt"
	"math"
	"testing"
	"time"

	"hopperful/answer"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// What each kind of dryer draws, no meter read: over two hours 40 W are 288 kJ, of 5 to 80 W.
// A way of one's own counts as any; where a meter was read once its 400 kJ in an hour stand in
// for the other hours of the same way, give or take half.
func TestDryersNobodyMetered(t *testing.T) {
	t.Parallel()
	day := Options{From: shoptest.Noon.Add(-9e4 * time.Second), To: shoptest.Noon.AddDate(1, 0, 0)}
	of := func(way shop.Way, read *float64) stage {
		all := []shop.Body{&shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 1}, &shop.Dried{Lot: "R1", Way: way, Temperature: 320, Time: 7200}}
		if read != nil {
			all = append(all, &shop.Dried{Lot: "R1", Way: way, Temperature: 320, Time: 3600, Energy: read, In: shoptest.P(0.9)})
		}
		return dried(shoptest.Bin(t, all...), day)
	}
	for way, watt := range map[shop.Way]span{shop.Oven: {300, 150, 600}, shop.Dehydrator: {180, 80, 350}, shop.DesiccantBox: {40, 5, 80}, shop.DryAir: {250, 100, 600}, shop.OtherWay: {200, 20, 600}} {
		if st := of(way, nil); st.total != watt.times(7200) || st.all != 1 || st.read != 0 || st.mass != 1 {
			t.Errorf("%s: %+v", way, st)
		}
	}
	st := of(shop.Oven, shoptest.P(4e5))
	want := span{8e5 + 4e5, 8e5/1.5 + 4e5, 8e5*1.5 + 4e5}
	near := math.Abs(st.total.value-want.value)+math.Abs(st.total.low-want.low)+math.Abs(st.total.high-want.high) < 1e-6
	if !near || st.all != 2 || st.read != 1 || math.Abs(st.mass-1.9) > 1e-12 || math.Abs(st.perKilogram().value-want.value/1.9) > 1e-6 {
		t.Errorf("%+v, wanted %+v", st, want)
	}
}

// A kilogram printed takes 5.4 MJ, of 1.8 to 18, where no meter was read; else as the metered ones.
func TestPrintersNobodyMetered(t *testing.T) {
	t.Parallel()
	o := Options{From: shoptest.Noon.Add(-9e4 * time.Second), To: shoptest.Noon.AddDate(1, 0, 0)}
	of := func(energies ...*float64) stage {
		all := []shop.Body{&shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Sure: shoptest.P(1), Mass: 1}}
		for i, e := range energies {
			all = append(all, &shop.Printed{From: "R1", Print: fmt.Sprint(i), Mass: 0.2, Good: shop.Yes, Energy: e})
		}
		return printedOf(shoptest.Bin(t, all...), o)
	}
	if st := of(nil); math.Abs(st.total.value-0.2*5.4e6) > 1e-6 || math.Abs(st.total.low-0.2*1.8e6) > 1e-6 || math.Abs(st.total.high-0.2*18e6) > 1e-6 {
		t.Errorf("%+v", st)
	}
	st := of(shoptest.P(1e6), nil) // 5 MJ/kg read
	if math.Abs(st.total.value-2e6) > 1e-6 || math.Abs(st.total.low-(1e6+1e6/1.5)) > 1e-6 || math.Abs(st.total.high-2.5e6) > 1e-6 || st.read != 1 || st.all != 2 {
		t.Errorf("%+v", st)
	}
	if _, ok := (metered{0, 3}).each(); ok {
		t.Error("no energy is known")
	}
	if _, ok := (metered{3, 0}).each(); ok {
		t.Error("energy of nothing is known")
	}
	if v, ok := (metered{3, 0.5}).each(); !ok || v != (span{6, 4, 9}) {
		t.Errorf("%+v", v)
	}
}

// The energy of a kilogram: sums over sums, never below 0; one run may be off by half.
func TestEnergyOfAKilogram(t *testing.T) {
	t.Parallel()
	of := func(all ...perRun) [3]float64 {
		mean, low, high, ok := (&ledger{energies: all}).perKilogram()
		if !ok {
			return [3]float64{}
		}
		return [3]float64{mean, low, high}
	}
	if got := of(perRun{30, 0.2}); got != [3]float64{150, 100, 225} {
		t.Errorf("one run: %v", got)
	}
	// 10 and 30 J of 0.1 kg each: mean 200 J/kg, off by ∓10 J; 1.2816 √(200/2)/0.1 = 128.16.
	if got := of(perRun{10, 0.1}, perRun{30, 0.1}); math.Abs(got[0]-200) > 1e-9 || math.Abs(got[1]-71.84) > 1e-9 || math.Abs(got[2]-328.16) > 1e-9 {
		t.Errorf("two runs: %v", got)
	}
	if got := of(perRun{1, 0.1}, perRun{99, 0.1}); got[1] != 0 {
		t.Errorf("two runs far apart: %v", got)
	}
	if got := of(); got != [3]float64{} {
		t.Errorf("no run: %v", got)
	}
}

// Streams go from a place to a place; nothing and nowhere make none.
func TestStreams(t *testing.T) {
	t.Parallel()
	var l ledger
	l.flow(ScrapPlace, RegrindPlace, 2)
	l.flow(ScrapPlace, RegrindPlace, 3)
	l.flow(RegrindPlace, ScrapPlace, 1)
	l.flow(ScrapPlace, LostPlace, 0)
	l.flow("", LostPlace, 1)
	l.flow(LostPlace, "", 1)
	if len(l.streams) != 2 || l.streams[0] != (Stream{ScrapPlace, RegrindPlace, 5}) || l.streams[1].Mass != 1 {
		t.Errorf("%+v", l.streams)
	}
	for class, want := range map[shop.Class]Place{shop.Scrap: ScrapPlace, shop.Virgin: VirginPlace, shop.Regrind: RegrindPlace, shop.Blend: BlendPlace, shop.Print: PrintPlace, "": ""} {
		if placeOf(class) != want {
			t.Errorf("%s is at %s", class, placeOf(class))
		}
	}
}

// Runs that are asked about are named, as many as lead and no more.
func TestDoubtedRunsAreNamed(t *testing.T) {
	t.Parallel()
	for n, want := range map[int]int{2: 2, 3: 3, 7: answer.MostSpoilers} {
		j := &job{state: &shop.State{}, ledger: &ledger{doubted: make([]shop.RecordID, n)}}
		if err := j.money(); err != nil || len(j.doc.Spoilers) != want || j.doc.Spoilers[0].Code != "books.asked_about" {
			t.Errorf("of %d runs %v are named, %v", n, j.doc.Spoilers, err)
		}
	}
	if answer.MostSpoilers != 3 {
		t.Errorf("%d lead", answer.MostSpoilers)
	}
}
