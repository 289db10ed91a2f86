package shop

import (
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"
)

// TestCareTakesItsMass: metal, dust, water and extrudate leave the lot by name;
// what was only looked at stays.
func TestCareTakesItsMass(t *testing.T) {
	t.Parallel()
	s := write(t, workbench(t), // R1 has 230 g
		Record{Body: stack(func(*Sieved) {})},
		Record{Body: &JarWeighed{Lot: "R1", Jar: 3e-4, Poured: 0.15}},
		Record{Body: &PassedMagnet{Lot: "R1", Metal: 0.0004, Passed: kg(0.2)}},
		Record{Body: &Dedusted{Lot: "R1", Dust: 0.005, Opening: kg(0.0005)}},
		Record{Body: dried(func(b *Dried) { b.In, b.Out = kg(0.22), kg(0.218) })},
		Record{Body: dried(func(b *Dried) { b.In, b.Out = kg(0.22), kg(0.2205) })},
		Record{Body: nozzle(func(*FlowTested) {})},
		Record{Body: cuts(func(*FlowTested) {})},
		Record{Body: &Serviced{Mill: "plain", Part: BladePart, What: Sharpened, Before: kg(0.2), After: kg(0.199)}},
		Record{Body: &Happened{What: BlockedNozzle, Printer: "pellet", Lot: "R1", Since: kg(1)}})
	wantMass(t, "R1", s.Lots.At("R1").Mass, 0.23-0.0004-0.005-0.002+0.0005-0.012-0.0021)
	b := BalanceOf(s)
	for name, m := range map[string]float64{MetalCaught: 0.0004, DustTaken: 0.005, DriedOff: 0.002, Difference: -0.0005, TestExtruded: 0.0141} {
		wantMass(t, name, b.Losses[name], m)
	}
	wantMass(t, "nowhere", b.Residual, 0)
}

// TestLookupsNewestFirst: of the lot or machine asked for, as corrected, and
// without what was struck out.
func TestLookupsNewestFirst(t *testing.T) {
	t.Parallel()
	s := write(t, workbench(t),
		Record{Body: dried(func(*Dried) {})}, // record 9
		Record{Body: dried(func(b *Dried) { b.Way = Dehydrator })},
		Record{Body: dried(func(b *Dried) { b.Way = DryAir })},
		Record{Corrects: 9, Body: dried(func(b *Dried) { b.Way = DesiccantBox })},
		Record{Corrects: 11, Body: &Void{Why: "x"}},
		Record{Body: &JarWeighed{Lot: "R2", Jar: 3e-4, Poured: 0.15}},
		Record{Body: &Serviced{Mill: "plain", Part: SealPart, What: Replaced}},
		Record{Body: &Happened{What: BridgedHopper, Printer: "pellet", Lot: "R1"}},
		Record{Body: nozzle(func(*FlowTested) {})},
		Record{Body: &Printed{From: "R1", Print: "hook", Mass: 0.01}},
		Record{Body: stack(func(*Sieved) {})}, Record{Body: &PassedMagnet{Lot: "R1"}}, Record{Body: &Dedusted{Lot: "R1"}})
	d := s.Dryings("R1")
	if len(d) != 2 || d[0].ID != 10 || d[0].Body.Way != Dehydrator || d[1].ID != 9 || d[1].Body.Way != DesiccantBox || d[1].CorrectedBy != 12 {
		t.Errorf("R1 was dried %+v", d)
	}
	if e, ok := s.DriedLast("R1"); !ok || e.ID != 10 {
		t.Errorf("R1 was last dried by record %d", e.ID)
	}
	if _, ok := s.DriedLast("R2"); ok {
		t.Error("R2 was dried")
	}
	if e, ok := s.JarOf("R2"); !ok || e.Body.Bulk() != 0.15/3e-4 {
		t.Errorf("R2's jar is %+v", e)
	}
	for name, n := range map[string]int{"services": len(s.Services("plain")), "events of the printer": len(s.EventsAt("pellet")),
		"events of the lot": len(s.EventsWith("R1")), "flow tests": len(s.FlowTests("R1")), "flow tests on it": len(s.FlowTestsOn("pellet")),
		"prints from": len(s.PrintsFrom("R1")), "prints in": len(s.PrintsIn("P1")), "sievings": len(s.Sievings("R1")),
		"magnet": len(s.MagnetPasses("R1")), "dust": len(s.Lots.At("R1").Dustings)} {
		if n != 1 {
			t.Errorf("%s: %d", name, n)
		}
	}
	for name, n := range map[string]int{"services": len(s.Services("shredder")), "events": len(s.EventsAt("plain")) + len(s.EventsWith("R2")),
		"flow tests": len(s.FlowTests("R2")), "sievings": len(s.Sievings("R2")), "prints": len(s.PrintsIn("R1")), "jars": len(s.JarWeighings("R1"))} {
		if n != 0 {
			t.Errorf("%s of another: %d", name, n)
		}
	}
	if n := len(s.Lots.At("R1").Records); n != 9 { // its run, 2 dryings, event, flow test, print, sieving, magnet, dust
		t.Errorf("R1 has the records %v", s.Lots.At("R1").Records)
	}
}

// TestNetOfAStack: the sieves' own weight comes off, once.
func TestNetOfAStack(t *testing.T) {
	t.Parallel()
	plain, pan := stack(func(*Sieved) {}).Net()
	gross, grossPan := full(func(*Sieved) {}).Net()
	wantMass(t, "pan", grossPan, pan)
	for i := range plain {
		wantMass(t, "sieve", gross[i], plain[i])
	}
}

// TestEveryBodyIsTold: no kind of record falls through, and the sentence can
// stand behind a number, a colon or a capital letter.
func TestEveryBodyIsTold(t *testing.T) {
	t.Parallel()
	for _, b := range append(Bodies(), &Serviced{Mill: "plain", Part: OtherPart, What: Repaired, Sound: Yes}, stack(func(*Sieved) {}), dried(func(*Dried) {}), cuts(func(*FlowTested) {}), nozzle(func(*FlowTested) {})) {
		if c, ok := b.(*Serviced); ok && c.What == "" {
			continue // says nothing; no such record passes
		}
		text := worded(Describe(b))
		if text == b.Kind() || len(strings.Fields(text)) < 2 || !unicode.IsLower([]rune(text)[0]) || strings.HasSuffix(text, ".") {
			t.Errorf("a %s record is told as %q", b.Kind(), text)
		}
	}
	for want, b := range map[string]Body{
		"sieved 100 g of R1 on 3 sieves, 10 g in the pan":                                stack(func(*Sieved) {}),
		"sieved 100 g of R1 on 1 sieve, 10 g in the pan, no long grains":                 stack(func(b *Sieved) { b.Sieves = b.Sieves[:1]; b.LongFound = new(int) }),
		"let 200 g of R1 over the magnet: 0.4 g of metal caught":                         &PassedMagnet{Lot: "R1", Metal: 0.0004, Passed: kg(0.2)},
		"took 5 g of dust off R1 through a sieve of 0.5 mm":                              &Dedusted{Lot: "R1", Dust: 0.005, Opening: kg(0.0005)},
		"took the colour of R1 with an instrument: a curve of 31 bands":                  taken(func(*Coloured) {}),
		"took the colour of B1, melted, by eye on a screen: #c0402a":                     &Coloured{Lot: "B1", How: ByEye, RGB: "#c0402a", Melted: Yes},
		"took the colour of R1 from a photo beside a white card: #c0402a":                &Coloured{Lot: "R1", How: CardPhoto, RGB: "#c0402a"},
		"took the colour of R1 with an instrument: L* 52.1, a* -3, b* 8.25 at 2 degrees": &Coloured{Lot: "R1", How: Instrument, Lab: &TakenLab{52.1, -3, 8.25, 2}},
		"dried R1 for 6 h at 50 °C in an oven: 200 g in, 199 g out":                      dried(func(*Dried) {}),
		"filled a jar of 300 ml with R1: 150 g poured, 170 g tapped":                     &JarWeighed{Lot: "R1", Jar: 3e-4, Poured: 0.15, Tapped: kg(0.17)},
		"tested the flow of R1 at pellet with the screw at 19.1 rpm: 12 g in 1 min":      nozzle(func(*FlowTested) {}),
		"cut the melt of R1 2 times at 190 °C under 2.16 kg: 2.1 g in all":               cuts(func(*FlowTested) {}),
		"found the screen of plain damaged: not sound":                                   &Serviced{Mill: "plain", Part: ScreenPart, What: FoundDamaged, Sound: No},
		"sharpened the blade of plain":                                                   &Serviced{Mill: "plain", Part: BladePart, What: Sharpened},
		"noted at pellet: blocked nozzle, with R1 in it":                                 &Happened{What: BlockedNozzle, Printer: "pellet", Lot: "R1"},
		"printed hook from 60 g of B1 as P1: failed, came loose":                         &Printed{From: "B1", Into: "P1", Print: "hook", Mass: 0.06, Good: No, Why: "came loose."},
		"ground 90 g of S1 in Whirl for 59 s at level 3: into R1, not weighed":           &Ground{Mill: "Whirl", From: "S1", Into: "R1", Charge: 0.09, Run: 59, Level: level(3)},
		"ground 90 g of S1 in Whirl for 59 s: 0 g into R1":                               &Ground{Mill: "Whirl", From: "S1", Into: "R1", Charge: 0.09, Run: 59, Product: new(float64)},
		"let R1 over the magnet: no metal caught":                                        &PassedMagnet{Lot: "R1"},
		"gave PLA its own density of the solid":                                          &MaterialSet{Polymer: "PLA", Property: "density"},
		"sorted P1 into S1 50 g and 10.5 g thrown away":                                  &Sorted{From: "P1", Into: []Part{{Lot: "S1", Mass: 0.05}}, Waste: kg(0.0105)},
		"took in 1.2 kg of unknown polymer black as S1":                                  &TakenIn{Lot: "S1", Class: Scrap, Colour: "black", Mass: 1.2},
	} {
		if got := worded(Describe(b)); got != want {
			t.Errorf("got  %q\nwant %q", got, want)
		}
	}
}

// TestLotsOfARecord: every lot it names, once, in its order.
func TestLotsOfARecord(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		body Body
		want []LotID
	}{
		{&Sorted{From: "S1", Into: []Part{{Lot: "S2"}, {Lot: "S3"}}}, []LotID{"S1", "S2", "S3"}},
		{&Blended{From: []Portion{{"R1", 1}, {"R1", 1}}, Into: "B1"}, []LotID{"R1", "B1"}},
		{&Happened{What: Stalled, Mill: "S1"}, nil},
		{(*Dried)(nil), nil},
	} {
		if got := LotsOf(c.body); !slices.Equal(got, c.want) {
			t.Errorf("%s names %v, want %v", reflect.TypeOf(c.body), got, c.want)
		}
	}
}

// TestPrinterDescribedLater: a flow test of last week can be written down for a
// printer described today.
func TestPrinterDescribedLater(t *testing.T) {
	t.Parallel()
	s := write(t, bench(t), Record{At: monday.Add(9 * time.Hour), Body: &PrinterSet{Printer{Name: "pellet"}}},
		Record{At: monday.Add(2 * time.Hour), Body: nozzle(func(*FlowTested) {})})
	if len(s.FlowTestsOn("pellet")) != 1 || len(s.Printers) != 1 {
		t.Errorf("printers %+v", s.Printers)
	}
}
