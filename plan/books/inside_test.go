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

// A plastic's name as a key: small letters and digits, one stroke for all else.
func TestKeysOfNames(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]string{"PA6 GF-30": "pa6_gf_30", "Az09": "az09", "a  b": "a_b", "/z": "z", "a:b@c[d`e{f": "a_b_c_d_e_f", "": "unknown", "—": "unknown", "ä1": "1"} {
		if got := key(name); got != want {
			t.Errorf("%q is %q, wanted %q", name, got, want)
		}
	}
}

// A campaign by hand: 200 g of S1 and 100 g of S2 put in, 190 and 95 g came out, each lot once; a run beside it is not of it.
func TestACampaignsAccount(t *testing.T) {
	t.Parallel()
	run := func(from shop.LotID, charge, product float64) *shop.Ground {
		return &shop.Ground{Mill: "Rattle", From: from, Into: "R1", Charge: charge, Product: &product, Left: shoptest.P(0), Run: 60}
	}
	records := []shop.Record{}
	add := func(b shop.Body) shop.RecordID {
		id := shop.RecordID(len(records) + 1)
		records = append(records, shop.Record{ID: id, At: shoptest.Noon.Add(time.Duration(id) * time.Minute), Body: b})
		return id
	}
	one, two := shoptest.Scrap("PLA", "black", 1), shoptest.Scrap("PLA", "black", 1)
	one.Lot, two.Lot = "S1", "S2"
	for _, b := range []shop.Body{&shop.MillSet{Mill: shoptest.Mill()}, &shop.ScaleSet{Scale: shop.Scale{Name: "fine", Resolution: 0.0001}}, one, two} {
		add(b)
	}
	id := add(&shop.CampaignBegun{Mill: "Rattle", Polymer: "PLA", Wanted: 0.5, Cycle: shop.Cycle{Charge: 0.1, Run: 60, Charges: 5}})
	for _, b := range []shop.Body{run("S1", 0.1, 0.095), run("S2", 0.1, 0.095), run("S1", 0.1, 0.095)} {
		add(b)
	}
	s, err := shop.Fold(records)
	if err != nil {
		t.Fatal(err)
	}
	d, err := OfCampaign(s, id)
	if err != nil {
		t.Fatal(err)
	}
	rows := d.Tables[0].Rows
	if len(rows) < 4 || math.Abs(rows[0][1].Value-0.2) > 1e-9 || math.Abs(rows[1][1].Value-0.1) > 1e-9 || math.Abs(rows[2][2].Value-0.285) > 1e-9 {
		t.Fatalf("%+v", rows)
	}
	if sum := rows[len(rows)-1]; math.Abs(sum[1].Value-0.3) > 1e-9 || math.Abs(sum[2].Value-0.3) > 1e-9 || d.Tables[0].Notes[0].Code != "books.closes" {
		t.Errorf("%g kg came in, %g kg went out: %s", sum[1].Value, sum[2].Value, d.Tables[0].Notes[0].Code)
	}
	lost := 0.0
	for _, row := range rows[3 : len(rows)-1] {
		lost += row[2].Value
	}
	if math.Abs(lost-0.015) > 1e-9 {
		t.Errorf("%g kg are told as lost or held, by hand 0.015", lost)
	}
}
