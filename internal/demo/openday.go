package demo

import (
	"math"

	"hopperful/process/colour"
	"hopperful/shop"
)

// The last day of the books is an open day at the school's lab, whose
// instruments the shop may use: the colours of the bins and of two blends, the
// water in the granulate, and what a pass does to the melt flow. What they show
// comes from the models with these hidden values, and the instruments' scatter.
const (
	freshFlow    = 6.6   // g/10 min at 210 °C under 2.16 kg, of the bag of new granulate
	flowOfPass   = 1.12  // melt flow after a pass over before
	cutting      = 0.02  // scatter of a cut
	bagScatters  = 0.6   // how strongly each scatters light, against the shop's middle: natural granulate,
	orangeOnes   = 0.8   // the orange of the school club's bin,
	greyOnes     = 1.3   // and its grey, which has white pigment in it
	snap         = 2.0   // levels of 255 a photo is off
	spectrometer = 0.004 // share a band is off
)

// The colours as they truly are.
const (
	trulyNatural = "#e9e4d2"
	trulyOrange  = "#d9772b"
	trulyGrey    = "#8b8d8f"
)

// openDay writes that day down.
func (b *book) openDay() {
	b.coloured("R6", 14, 30, "#252527", "by the north window")
	b.coloured("R7", 14, 35, "#30609f", "by the north window")
	b.bagCurve()
	for i, id := range []shop.LotID{"R2", "R4", "R5"} {
		b.passed(id, 8*i)
		b.sifted(id, 8*i)
	}
	b.teachAPass()
	b.teachTheTint()
	b.printDamp()
}

// coloured takes a colour from a photo.
func (b *book) coloured(id shop.LotID, hour, minute int, code, how string) {
	at := b.at(1, hour, minute)
	b.write(shop.Record{At: at, NotedAt: at, By: mira, Note: how, Body: &shop.Coloured{Lot: id, How: shop.CardPhoto, RGB: code}})
}

// curveOf is the curve of a true colour.
func (b *book) curveOf(code string) colour.Curve {
	rgb, err := colour.ParseHex(code)
	if err != nil {
		b.stop(err)
		return colour.Curve{}
	}
	c, _, err := colour.FromPhoto(rgb)
	b.stop(err)
	return c
}

// bagCurve measures the new granulate with a spectrometer, every 20 nm.
func (b *book) bagCurve() {
	body := &shop.Coloured{Lot: "V1", How: shop.Instrument}
	for i, light := range b.curveOf(trulyNatural) {
		nm := math.Round(colour.Wavelength(i) * 1e9)
		if nm >= 400 && nm <= 700 && math.Mod(nm, 20) == 0 {
			body.Curve = append(body.Curve, shop.TakenBand{Wavelength: nm / 1e9, Light: math.Round(1e3*b.about(light, spectrometer)) / 1e3})
		}
	}
	at := b.at(1, 14, 45)
	b.write(shop.Record{At: at, NotedAt: at, By: mira, Note: "school lab, spectrometer, a pressed chip", Body: body})
}

// passed lets all of a lot run over the magnet; nothing is seen to hang there.
func (b *book) passed(id shop.LotID, minute int) {
	if l := b.lot(id); l != nil {
		b.note(b.at(1, 15, minute), jonas, &shop.PassedMagnet{Lot: id, Passed: known(gram(l.Mass))})
	}
}

// sifted puts a sample of a lot on the sieves, and pours it back.
func (b *book) sifted(id shop.LotID, minute int) {
	l := b.lot(id)
	if l == nil {
		return
	}
	finer, err := b.truths[rattle].finer(b.classes[id], rising())
	if err != nil {
		b.stop(err)
		return
	}
	b.note(b.at(1, 15, minute+4), ada, b.onSieves(&shop.Sieved{Lot: id, Charge: gram(min(sample, 0.9*l.Mass))}, finer))
}

// teachAPass tests the melt flow of new granulate, prints bars of it, grinds them
// and tests again.
func (b *book) teachAPass() {
	b.melted("V1", 15, 40, "dried overnight", freshFlow)
	b.printedNow(16, 40, ada, "school lab, moisture balance", shop.Printed{From: "V1", Into: "P16", Print: "two trays of test bars", Mass: 0.194, Purged: known(0.011), Moisture: known(0.0002), Good: shop.Yes})
	b.takeBack(1, 16, 50, ada, "P16", shop.Part{Lot: "S18", Name: "test bars, bent until they broke", Pieces: pieces(40e-3, 1.6e-3, 0.6)})
	b.grind(session{1, 17, ada, rattle, "S18", "R8", 2, 80, 100, 7, mishap{}})
	b.melted("R8", 17, 50, "ground fresh from the printer, still dry", freshFlow*flowOfPass)
}

// melted tests a melt flow [g/10 min] with five cuts.
func (b *book) melted(id shop.LotID, hour, minute int, how string, flow float64) {
	const apart = 30.0 // s
	t := &shop.FlowTested{Lot: id, Temperature: known(celsius(210)), Load: known(2.16), CutTime: known(apart)}
	for range 5 {
		t.Cuts = append(t.Cuts, math.Round(b.about(flow*apart/600, cutting)*1e3)/1e6)
	}
	at := b.at(1, hour, minute)
	b.write(shop.Record{At: at, NotedAt: at.Add(noting), By: ada, Note: "school lab, melt-flow tester; " + how, Body: t})
}

// printedNow prints on the open day.
func (b *book) printedNow(hour, minute int, who, how string, p shop.Printed) {
	at := b.at(1, hour, minute)
	b.write(shop.Record{At: at, NotedAt: at.Add(noting), By: who, Note: how, Body: &p})
}

// teachTheTint blends natural granulate with a little of two colours, prints a
// chip of each and takes its colour.
func (b *book) teachTheTint() {
	for i, x := range []struct {
		with          shop.LotID
		truly         string
		scatters      float64
		into, chip    shop.LotID
		name, called  string
		natural, tint float64
	}{
		{"R4", trulyOrange, orangeOnes, "B1", "P17", "pale orange, for chips", "colour chip, pale orange", 0.030, 0.006},
		{"R5", trulyGrey, greyOnes, "B2", "P18", "pale grey, for chips", "colour chip, pale grey", 0.030, 0.006},
	} {
		b.note(b.at(1, 18, 10+5*i), mira, &shop.Blended{From: []shop.Portion{{Lot: "V1", Mass: x.natural}, {Lot: x.with, Mass: x.tint}}, Into: x.into, Name: x.name, Polymer: "PLA"})
		b.printedNow(18, 30+20*i, mira, "dried overnight; school lab, moisture balance", shop.Printed{From: x.into, Into: x.chip, Print: x.called, Mass: 0.012, Purged: known(0.004),
			Moisture: known(0.0003), Good: shop.Yes})
		b.coloured(x.chip, 19, 30+5*i, b.chipOf(x.truly, x.scatters, x.tint/(x.natural+x.tint)), "under the daylight lamp")
	}
}

// chipOf is the code a photo gives of natural granulate with a share of another
// melted in.
func (b *book) chipOf(code string, scatters, share float64) string {
	surface := colour.PhotoSurface()
	natural, err := colour.BodyOf(b.curveOf(trulyNatural), bagScatters, surface)
	b.stop(err)
	tint, err := colour.BodyOf(b.curveOf(code), scatters, surface)
	b.stop(err)
	if b.err != nil {
		return ""
	}
	mix, err := colour.Mixed([]colour.Body{natural, tint}, []float64{1 - share, share}, surface)
	b.stop(err)
	rgb, err := colour.ScreenOf(mix)
	b.stop(err)
	for _, v := range []*float64{&rgb.R, &rgb.G, &rgb.B} {
		*v = min(1, max(0, *v+b.scatter(snap/255)))
	}
	seen, _ := rgb.Hex()
	return seen
}

// printDamp prints PETG as it lay about, and it fails.
func (b *book) printDamp() {
	b.printedNow(20, 10, jonas, "school lab, moisture balance", shop.Printed{From: "R7", Into: "P19", Print: "plant labels", Mass: 0.072, Purged: known(0.008),
		Moisture: known(0.0016), Good: shop.No, Why: "strings and bubbles: nobody had dried it"})
}

// Wanted is a part of a colour no bin has, so that it has to be blended.
func Wanted() shop.Need {
	return shop.Need{Name: "lamp foot, dull orange", Polymer: "PLA", RGB: "#c98a5c", From: "typed", Mass: known(0.130)}
}
