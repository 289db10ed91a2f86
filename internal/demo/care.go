package demo

import (
	"math"
	"slices"

	"hopperful/shop"
)

// care is something looked after or looked at between the grinding days.
type care struct {
	day int
	do  func(*book)
}

// cares are what the shop sieved, dried, weighed, tested, mended and mourned.
func cares() []care {
	return []care{
		{83, func(b *book) { b.sieve(83, ada, "R1", 0) }},
		{82, func(b *book) { b.magnet(82, ada, "R1", 0.396, 0) }},
		{81, func(b *book) { b.jar(81, ada, "R1", 525) }},
		{79, func(b *book) { b.flow(79, ada, "R1", 205, 30, 1.24) }},
		{73, func(b *book) {
			b.note(b.at(73, 18, 40), ada, &shop.Happened{What: shop.BridgedHopper, Printer: puddle, Lot: "R2"})
		}},
		{69, func(b *book) { b.sieve(69, jonas, "R3", 0) }},
		{68, func(b *book) { b.dust(68, jonas, "R3", 0.25e-3) }},
		{62, func(b *book) { b.look(62, mira, "under a lamp, no torn web") }},
		{53, func(b *book) { b.dry(53, jonas, "R3", shop.Oven, 65, 5) }},
		{48, func(b *book) { b.magnet(48, ada, "R1", 0.140, 0.0001) }},
		{46, func(b *book) {
			b.write(shop.Record{At: b.at(46, 19, 40), NotedAt: b.at(46, 20, 5), By: ada, Note: "a dark speck, burnt plastic by the look of it",
				Body: &shop.Happened{What: shop.BlockedNozzle, Printer: puddle, Lot: "R1", Since: known(0.398)}})
		}},
		{41, func(b *book) { b.sieve(41, ada, "R1", 1) }},
		{32, func(b *book) { b.sharpen(32) }},
		{20, func(b *book) { b.jar(20, jonas, "R3", 575) }},
		{18, func(b *book) { b.dry(18, jonas, "R3", shop.Dehydrator, 65, 6) }},
		{15, func(b *book) { b.flow(15, jonas, "R3", 240, 30, 1.27) }},
		{14, func(b *book) { b.look(14, ada, "") }},
		{10, func(b *book) { b.sieve(10, ada, "R1", 0) }},
	}
}

// lot is a lot as the books have it, nil once the books are spoiled.
func (b *book) lot(id shop.LotID) *shop.Lot {
	l, ok := b.state.Lot(id)
	if b.err != nil || !ok {
		return nil
	}
	return l
}

// openings is the shop's stack of sieves, of series R 20/3 (ISO 565) [m].
var openings = []float64{2.8e-3, 2e-3, 1.4e-3, 1e-3, 710e-6, 500e-6, 355e-6, 250e-6, 125e-6}

// How the shop sieves: error of a sieve's share, and what stays in the meshes.
const (
	sieving = 0.03
	crumbs  = 0.001
	sample  = 0.045 // kg
)

// sieve puts a sample of the latest run's product on the sieves.
func (b *book) sieve(day int, who string, id shop.LotID, long int) {
	if b.lot(id) == nil {
		return
	}
	mill := b.truths[rattle]
	finer, err := mill.finer(mill.newest, rising())
	if err != nil {
		b.stop(err)
		return
	}
	b.note(b.at(day, 18, 30), who, b.onSieves(&shop.Sieved{Lot: id, Run: b.latestRun(), Charge: sample, LongFound: known(long)}, finer))
}

// onSieves fills a sheet with what lies on the sieves, of which so much is finer.
func (b *book) onSieves(body *shop.Sieved, finer []float64) *shop.Sieved {
	body.Series, body.Holes, body.Hole = shop.R20x3, shop.WovenWire, known(2e-3)
	shares, above := []float64{}, 1.0 // of each sieve, then of the pan
	for i := range openings {
		below := finer[len(finer)-1-i]
		shares = append(shares, (above-below)*(1+b.scatter(sieving)))
		above = below
	}
	shares = append(shares, above*(1+b.scatter(sieving)))
	tenth := func(i int) float64 { // as the letter scale shows it
		return math.Round(body.Charge*(1-crumbs)*shares[i]/sum(shares)*1e4) / 1e4
	}
	for i, opening := range openings {
		body.Sieves = append(body.Sieves, shop.OnSieve{Opening: opening, Mass: tenth(i)})
	}
	body.Pan = tenth(len(openings))
	return body
}

// rising are the openings of the sieves, the finest first.
func rising() []float64 {
	s := slices.Clone(openings)
	slices.Reverse(s)
	return s
}

// latestRun is the number of the latest run of the mill that does nearly all
// the work.
func (b *book) latestRun() shop.RecordID {
	m, ok := b.state.Mill(rattle)
	if !ok || len(m.Runs) == 0 {
		return 0
	}
	return m.Runs[len(m.Runs)-1]
}

// magnet lets a lot run over the magnet.
func (b *book) magnet(day int, who string, id shop.LotID, most, metal float64) {
	if l := b.lot(id); l != nil {
		b.note(b.at(day, 18, 15), who, &shop.PassedMagnet{Lot: id, Passed: known(gram(min(most, l.Mass))), Metal: metal})
	}
}

// jar fills a quarter-litre jar with grains of a bulk density [kg/m³].
func (b *book) jar(day int, who string, id shop.LotID, bulk float64) {
	const jar = 0.25e-3
	poured := gram(jar * b.about(bulk, 0.02))
	b.note(b.at(day, 18, 45), who, &shop.JarWeighed{Lot: id, Jar: jar, Poured: poured, Tapped: known(gram(poured * b.about(1.12, 0.01)))})
}

// flow lets the printer run on a lot for two minutes [°C, turns a minute, g/cm³].
func (b *book) flow(day int, who string, id shop.LotID, hot, turns, density float64) {
	const perTurn, time = 0.085, 120.0 // cm³ of melt a turn of this screw; s
	grams := turns * time / 60 * perTurn * density
	b.note(b.at(day, 19, 0), who, &shop.FlowTested{Lot: id, Printer: puddle, Temperature: known(celsius(hot)),
		Screw: known(rpm(turns)), Time: known(time), Extruded: known(math.Round(b.about(grams, 0.03)*10) / 1e4)})
}

// dust takes off what falls through a fine sieve.
func (b *book) dust(day int, who string, id shop.LotID, opening float64) {
	l := b.lot(id)
	if l == nil {
		return
	}
	finer, err := b.truths[rattle].finer(b.classes[id], []float64{opening})
	if err != nil {
		b.stop(err)
		return
	}
	off := finer[0] * b.about(0.9, 0.03) // shaking by hand leaves a tenth
	b.note(b.at(day, 18, 20), who, &shop.Dedusted{Lot: id, Dust: gram(l.Mass * off), Opening: &opening})
}

// dry dries all of a lot, weighed before and after [°C, h].
func (b *book) dry(day int, who string, id shop.LotID, way shop.Way, hot, hours float64) {
	l := b.lot(id)
	if l == nil {
		return
	}
	const moist = 0.004 // of what lay open for weeks
	in := gram(l.Mass)
	b.note(b.at(day, 12, 0), who, &shop.Dried{Lot: id, Way: way, Temperature: celsius(hot), Time: hours * 3600,
		In: &in, Out: known(gram(in * (1 - b.about(moist, 0.2)))), Bed: known(25e-3)})
}

// look inspects the screen of the mill that does nearly all the work.
func (b *book) look(day int, who, how string) {
	b.write(shop.Record{At: b.at(day, 17, 30), NotedAt: b.at(day, 17, 35), By: who, Note: how,
		Body: &shop.Serviced{Mill: rattle, Part: shop.ScreenPart, What: shop.Inspected, Sound: shop.Yes}})
}

// sharpen takes the blade of that mill out, and it breaks again as on the first
// day.
func (b *book) sharpen(day int) {
	b.note(b.at(day, 16, 0), jonas, &shop.Serviced{Mill: rattle, Part: shop.BladePart, What: shop.Sharpened, Sound: shop.Yes,
		Before: known(0.1883), After: known(0.1871)})
	b.truths[rattle].since = 0
}
