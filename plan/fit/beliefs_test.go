package fit

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/internal/checkrow"
	"hopperful/polymer"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// plainly writes what a struct holds as words and numbers.
func plainly(v any) string {
	words := strings.Fields(strings.NewReplacer(":", " ", "{", " ", "}", " ", "[", " ", "]", " ").Replace(fmt.Sprintf("%+v", v)))
	for i, w := range words {
		if v, err := strconv.ParseFloat(w, 64); err == nil {
			words[i] = fmt.Sprintf("%.8g", v)
		}
	}
	return strings.Join(words, " ")
}

// told writes what is believed otherwise than of anything, a line each.
func told(out *strings.Builder, all ...estimate.Belief) {
	of := map[string]estimate.Belief{}
	for _, b := range prior() {
		of[b.Key] = b
	}
	for _, b := range all {
		if was := of[b.Key]; b.Median != was.Median || b.Low != was.Low || b.High != was.High || b.Family != was.Family || b.Assumed != was.Assumed || len(b.Records) > 0 {
			fmt.Fprintf(out, "  %s %v %.8g %.8g %.8g of %d records, %d runs, entered %t, assumed %t\n", b.Key, b.Family, b.Median, b.Low, b.High, len(b.Records), b.Runs, b.FromUser, b.Assumed)
		}
	}
}

// lotsOnRecord are lots of which something else is on record each.
func lotsOnRecord() map[string][]shop.Body {
	p := shoptest.P
	regrind := func(polymer string) *shop.TakenIn {
		return &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: polymer, Sure: p(0.9), Mass: 2}
	}
	printer := shop.Printer{Name: "Puddle", Nozzle: p(1e-3), ScrewBore: p(0.018), HeaterWatt: p(240), HopperExit: p(0.025), IdleWatt: p(48), PerTurn: p(1.1e-7), LargestIn: p(4e-3)}
	scrap := shoptest.Scrap("PLA", "black", 9)
	scrap.Lot = "S1"
	return map[string][]shop.Body{
		"nothing":      {regrind("unknown")},
		"idle":         {&shop.PrinterSet{Printer: printer}, regrind("PETG")},
		"low idle":     {&shop.PrinterSet{Printer: shop.Printer{Name: "Puddle", IdleWatt: p(9)}}, regrind("ABS")},
		"bought":       {&shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PC", Sure: p(1), Mass: 5}, &shop.ShopSet{RoomTemperature: p(303), RoomHumidity: p(0.7)}},
		"jars":         {regrind("PP"), &shop.JarWeighed{Lot: "R1", Jar: 200e-6, Poured: 0.09}, &shop.JarWeighed{Lot: "R1", Jar: 200e-6, Poured: 0.1, Tapped: p(0.11)}, &shop.JarWeighed{Lot: "R1", Jar: 300e-6, Poured: 0.12}},
		"one jar":      {regrind("PP"), &shop.JarWeighed{Lot: "R1", Jar: 200e-6, Poured: 0.09}},
		"sieved":       {regrind("PLA"), &shop.Sieved{Lot: "R1", Charge: 0.1, Series: shop.OwnSet, Holes: shop.WovenWire, Hole: p(2.5e-3), Sieves: []shop.OnSieve{{Opening: 2e-3, Mass: 0.02}, {Opening: 1e-3, Mass: 0.05}, {Opening: 0.5e-3, Mass: 0.02}}, Pan: 0.01}},
		"sieved, fine": {regrind("PLA"), &shop.Sieved{Lot: "R1", Charge: 0.1, Series: shop.OwnSet, Holes: shop.WovenWire, Sieves: []shop.OnSieve{{Opening: 2e-3, Mass: 0}, {Opening: 1e-3, Mass: 0}}, Pan: 0.1}},
		"magnet":       {regrind("PETG"), &shop.PassedMagnet{Lot: "R1", Metal: 4e-6, Passed: p(0.5)}, &shop.PassedMagnet{Lot: "R1", Metal: 0}},
		"metal seen":   {func() *shop.TakenIn { r := regrind("PETG"); r.Metal = "a nut"; return r }()},
		"tested":       {regrind("PLA"), &shop.FlowTested{Lot: "R1", Load: p(2.16), Temperature: p(463.15), CutTime: p(20), Cuts: []float64{0.6e-3, 0.5e-3, 0.7e-3}}},
		"dried":        {regrind("PETG"), &shop.Dried{Lot: "R1", Way: shop.Oven, Temperature: 335, Time: 3 * 3600, Bed: p(0.01), In: p(1.002), Out: p(1.0005)}},
		"dried, box":   {regrind("PA6"), &shop.Dried{Lot: "R1", Way: shop.DesiccantBox, Temperature: 296, Time: 48 * 3600}, &shop.PrinterSet{Printer: printer}, &shop.Printed{From: "R1", Print: "a", Mass: 0.1, Good: shop.Yes}},
		"printed":      {scrap, &shop.PrinterSet{Printer: printer}, &shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.6, Product: p(0.55), Run: 120, Hole: p(2e-3)}, &shop.Printed{From: "R1", Into: "P1", Print: "a", Mass: 0.2, Moisture: p(4e-4), Good: shop.Yes}, &shop.Printed{From: "R1", Print: "b", Mass: 0.05, Good: shop.No, Why: "damp"}, &shop.Happened{What: shop.BlockedNozzle, Printer: "Puddle", Lot: "R1", Since: p(0.3)}, &shop.Happened{What: shop.BridgedHopper, Printer: "Puddle", Lot: "R1"}},
		"weighed":      {regrind("PLA"), &shop.PrinterSet{Printer: printer}, &shop.FlowTested{Lot: "R1", Printer: "Puddle", Screw: p(6), Time: p(60), Extruded: p(0.004)}},
		"blended":      {regrind("PLA"), &shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PLA", Sure: p(1), Mass: 1}, &shop.Blended{From: []shop.Portion{{Lot: "R1", Mass: 0.3}, {Lot: "V1", Mass: 0.5}}, Into: "B1"}, &shop.Printed{From: "B1", Into: "P1", Print: "x", Mass: 0.3, Good: shop.Yes}},
	}
}

// What is believed of a lot before anything is reckoned, and what every draw of it comes to, follows from the
// records as approved: it only notices that something moved.
func TestBeliefsAreAsApproved(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	needs := map[string]shop.Need{"flows": {Mass: p(0.2), MeanFlow: p(10e-9), PeakFlow: p(25e-9)}, "peak": {Mass: p(0.2), PeakFlow: p(25e-9)}, "volume": {Volume: p(2e-4)}}
	var out strings.Builder
	for _, b := range prior() {
		fmt.Fprintf(&out, "%s %v %.8g %.8g %.8g\n", b.Key, b.Family, b.Median, b.Low, b.High)
	}
	all := lotsOnRecord()
	for _, name := range sorted(all) {
		s := shoptest.Bin(t, all[name]...)
		for _, need := range sorted(needs) {
			lot, ok := s.Lot("R1")
			if !ok {
				lot, _ = s.Lot("V1")
			}
			j := &job{state: s, req: Request{Lot: lot.ID, Need: needs[need], Now: shoptest.Noon.Add(30 * time.Hour), Draws: 3}.filled(s), lot: lot, facts: factsOf(s, lot)}
			var err error
			if j.printer, err = pickPrinter(s, ""); err != nil {
				t.Fatal(err)
			}
			if j.table, err = s.Table(); err != nil {
				t.Fatal(err)
			}
			if mixed, err := j.material(); err != nil || !mixed.Empty() {
				t.Fatal(name, mixed, err)
			}
			if err := j.draw(); err != nil {
				t.Fatal(name, err)
			}
			fmt.Fprintf(&out, "%s, %s: %g K, %d doubts\n", name, need, j.temperature, len(j.doubts))
			if need == "flows" {
				told(&out, j.beliefs[:]...)
			} else {
				told(&out, j.beliefs[fFlow], j.beliefs[fPeak])
			}
			for _, r := range j.runs {
				if need == "flows" {
					fmt.Fprintf(&out, "  %s\n", plainly(r))
				} else {
					fmt.Fprintf(&out, "  %.8g %.8g %.8g %.8g %.8g\n", r.want, r.mean, r.peak, r.pressure, r.speed)
				}
			}
		}
	}
	checkrow.ApprovedText(t, "beliefs", out.String())
}

// What a drying comes to in every draw, for each kind of dryer, some plastics and numbers given or left out.
func TestDryingsAreAsApproved(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	var out strings.Builder
	all := lotsOnRecord()
	for i, c := range []struct {
		of  string
		req DryRequest
	}{
		{"dried", DryRequest{Lot: "R1", Way: shop.Oven}}, {"dried", DryRequest{Lot: "R1", Way: shop.Dehydrator, Temperature: p(330)}}, {"dried, box", DryRequest{Lot: "R1", Way: shop.DryAir}},
		{"bought", DryRequest{Lot: "V1", Way: shop.DryAir, Flow: p(1e-4), Bed: p(0.2), Mass: p(5)}}, {"bought", DryRequest{Lot: "V1", Way: shop.Oven, Start: p(0.02)}}, {"sieved", DryRequest{Lot: "R1", Way: shop.Oven, Temperature: p(350)}},
		{"jars", DryRequest{Polymer: "PET", Way: shop.Oven, Hole: p(5e-3)}}, {"jars", DryRequest{Polymer: "PA6", Way: shop.Dehydrator, Limit: p(0.002), Hole: p(2e-3)}}, {"jars", DryRequest{Polymer: "PLA", Way: shop.DesiccantBox, Humidity: p(0.2)}},
		{"jars", DryRequest{Polymer: "TPU", Way: shop.Dehydrator, Flow: p(0.02), Mass: p(3)}}, {"nothing", DryRequest{Lot: "R1", Way: shop.Dehydrator}}, {"jars", DryRequest{Polymer: "PC", Way: shop.DryAir, DewPoint: p(233), Temperature: p(393)}},
	} {
		c.req.Now, c.req.Draws = shoptest.Noon.Add(30*time.Hour), 6
		s := shoptest.Bin(t, all[c.of]...)
		j, err := newDryJob(s, c.req)
		if err != nil {
			t.Fatal(err)
		}
		if err := j.prepare(); err != nil {
			t.Fatal(err)
		}
		d, err := j.plan()
		if err != nil {
			t.Fatal(i, err)
		}
		fmt.Fprintf(&out, "%d %s %s: possible %t, needed %t, %s\n", i, c.of, d.Polymer, d.Possible, d.Needed, d.By)
		told(&out, append(j.beliefs[fWater:fDryLimit+1:fDryLimit+1], j.softens())...)
		for _, x := range j.draws {
			fmt.Fprintf(&out, "  %s\n", plainly(x))
		}
		for _, f := range append([]figureLike{{"t", d.Time.Value, d.Time.Low, d.Time.High}, {"start", d.Start.Value, d.Start.Low, d.Start.High}, {"rest", d.Rest.Value, d.Rest.Low, d.Rest.High},
			{"open", d.Open.Value, d.Open.Low, d.Open.High}, {"at", d.Temperature.Value, d.Depth.Value, d.Limit.Value}}, figuresOf(d)...) {
			fmt.Fprintf(&out, "  %s %.8g %.8g %.8g\n", f.key, f.value, f.low, f.high)
		}
		for _, x := range d.charts {
			for _, k := range x.Curves {
				fmt.Fprintf(&out, "  %s %.8g %.8g %.8g %.8g\n", k.Key, k.X[len(k.X)-1], k.Mid[len(k.X)/2], k.Low[len(k.X)/2], k.High[len(k.X)/2])
			}
		}
		for _, st := range d.steps {
			fmt.Fprintf(&out, "  %s\n", st.Do.Code)
		}
		if d.Blocked != nil {
			fmt.Fprintf(&out, "  blocked by %s %s\n", d.Blocked.Code, plainly(numbersOf(*d.Blocked)))
		}
	}
	checkrow.ApprovedText(t, "dryings", out.String())
}

type figureLike struct {
	key              string
	value, low, high float64
}

func figuresOf(d Drying) (all []figureLike) {
	for _, f := range d.Figures {
		all = append(all, figureLike{f.Key, f.Value, f.Low, f.High})
	}
	return all
}

// numbersOf are the numbers a finding and its remedies tell.
func numbersOf(f answer.Finding) (all []float64) {
	for _, x := range f.Facts {
		all = append(all, x.Value)
	}
	for _, r := range f.Remedies {
		for _, x := range r.Facts {
			all = append(all, x.Value)
		}
	}
	return all
}

func sorted[T any](m map[string]T) (keys []string) {
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// Each plastic of the books stands for itself: temperature of the melt, law of its flow, drying and softening.
func TestEveryPlasticIsBelievedAsApproved(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	for _, name := range polymer.Names() {
		if shop.BarOf(name) != nil {
			continue
		}
		s := shoptest.Bin(t, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: name, Sure: shoptest.P(1), Mass: 1})
		j, err := newDryJob(s, DryRequest{Polymer: name, Way: shop.Oven, Now: shoptest.Noon, Draws: 2})
		if err != nil {
			t.Fatal(err)
		}
		if err := j.warm(); err != nil {
			t.Fatal(err)
		}
		if err := j.prepare(); err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&out, "%s %g %g %s %s %.8g %.8g\n", name, j.temperature, j.usualDrying(), j.law.How, strings.ReplaceAll(j.law.Lender+"-", " ", "_"), j.law.low, j.law.high)
		told(&out, j.softens(), j.beliefs[fSolid], j.beliefs[fBulk], j.beliefs[fWater], j.beliefs[fSaturation], j.beliefs[fDiffusivity], j.beliefs[fHeat])
	}
	checkrow.ApprovedText(t, "plastics", out.String())
}
