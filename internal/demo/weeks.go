package demo

import (
	"slices"

	"hopperful/shop"
)

// printed is one print of the three months.
type printed struct {
	day, hour int
	who       string
	shop.Printed
}

// workThroughTheWeeks writes the three months in the order they happened.
func (b *book) workThroughTheWeeks() {
	type event struct {
		day int
		do  func()
	}
	var events []event
	on := func(day int, do func()) { events = append(events, event{day, do}) }
	for _, s := range sessions {
		on(s.day, func() { b.grind(s) })
	}
	for _, p := range prints() {
		on(p.day, func() { b.note(b.at(p.day, p.hour, 10), p.who, &p.Printed) })
	}
	for _, c := range cares() {
		on(c.day, func() { c.do(b) })
	}
	on(56, b.takeInMore)
	on(35, b.correctACharge)
	on(33, b.takeBackFailures)
	on(30, b.recount)
	on(19, func() {
		b.note(b.at(19, 12, 0), ada, &shop.Discarded{Lot: "S8", Mass: 0.214,
			Why: "may hold a halogenated flame retardant: given to the recycling yard, not ground"})
	})
	on(1, b.takeBackLater)
	on(1, b.takeColours)
	on(1, b.openDay)
	slices.SortStableFunc(events, func(x, y event) int { return y.day - x.day })
	for _, e := range events {
		e.do()
	}
}

// prints are the shop's prints from its own granulate, good and failed.
func prints() []printed {
	return []printed{
		{80, 19, ada, shop.Printed{From: "R1", Into: "P1", Print: "drawer fronts", Mass: 0.186, Purged: known(0.014), Good: shop.Yes}},
		{73, 18, ada, shop.Printed{From: "R2", Into: "P2", Print: "lamp shade", Mass: 0.142, Purged: known(0.011), Good: shop.No, Why: "ran dry: the hopper bridged"}},
		{66, 18, jonas, shop.Printed{From: "R3", Into: "P3", Print: "rain cover", Mass: 0.146, Purged: known(0.022), Good: shop.No, Why: "bubbles: the granulate was damp"}},
		{59, 20, mira, shop.Printed{From: "R4", Into: "P4", Print: "seed trays", Mass: 0.098, Purged: known(0.009), Good: shop.Yes}},
		{52, 18, jonas, shop.Printed{From: "R3", Into: "P5", Print: "rain cover, smaller", Mass: 0.098, Purged: known(0.010), Good: shop.Yes}},
		{46, 19, ada, shop.Printed{From: "R1", Into: "P6", Print: "tool holder", Mass: 0.212, Purged: known(0.012), Good: shop.No, Why: "nozzle blocked by a dark speck"}},
		{40, 20, ada, shop.Printed{From: "R1", Into: "P7", Print: "shelf brackets", Mass: 0.232, Purged: known(0.012), Good: shop.Yes}},
		{38, 17, mira, shop.Printed{From: "R2", Into: "P8", Print: "letter box flap", Mass: 0.121, Purged: known(0.010), Good: shop.Yes}},
		{25, 18, jonas, shop.Printed{From: "R6", Into: "P9", Print: "fan duct", Mass: 0.118, Purged: known(0.013), Good: shop.Yes}},
		{12, 20, jonas, shop.Printed{From: "R3", Into: "P10", Print: "window latch", Mass: 0.096, Purged: known(0.011), Good: shop.Yes}},
		{11, 19, ada, shop.Printed{From: "R1", Into: "P11", Print: "tool holder, second try", Mass: 0.228, Purged: known(0.012), Good: shop.Yes}},
		{9, 18, mira, shop.Printed{From: "R5", Into: "P12", Print: "cable trough", Mass: 0.094, Purged: known(0.009), Good: shop.Yes}},
		{8, 18, ada, shop.Printed{From: "R1", Into: "P13", Print: "cable clips", Mass: 0.124, Purged: known(0.010), Good: shop.Yes}},
		{3, 18, jonas, shop.Printed{From: "R3", Into: "P14", Print: "sluice gate", Mass: 0.118, Purged: known(0.012), Good: shop.No, Why: "lifted off the bed"}},
		{2, 20, ada, shop.Printed{From: "R1", Into: "P15", Print: "bench feet", Mass: 0.252, Purged: known(0.012), Good: shop.Yes}},
	}
}

// takeBackFailures turns the failed prints of the first half into scrap again.
func (b *book) takeBackFailures() {
	for i, f := range []struct {
		print shop.LotID
		heap  shop.Part
	}{
		{"P2", shop.Part{Lot: "S14", Name: "failed lamp shade, second life", Pieces: pieces(60e-3, 0.9e-3, 0.1)}},
		{"P6", shop.Part{Lot: "S15", Name: "failed tool holder, second life", Pieces: pieces(66e-3, 1.6e-3, 0.2)}},
		{"P3", shop.Part{Lot: "S16", Name: "failed rain cover, full of bubbles", Pieces: pieces(58e-3, 1.2e-3, 0.15)}},
	} {
		b.takeBack(33, 17, 5*i, mira, f.print, f.heap)
	}
}

// takeBackLater is the last failure, a thick one.
func (b *book) takeBackLater() {
	b.takeBack(1, 9, 30, jonas, "P14", shop.Part{Lot: "S17", Name: "failed sluice gate, nearly solid", Pieces: pieces(130e-3, 5e-3, 0.9)})
}

// takeBack sorts a whole print into scrap.
func (b *book) takeBack(day, hour, minute int, who string, print shop.LotID, heap shop.Part) {
	if l, ok := b.state.Lot(print); ok {
		heap.Mass = gram(l.Mass)
	}
	b.note(b.at(day, hour, minute), who, &shop.Sorted{From: print, Into: []shop.Part{heap}})
}

// recount weighs a bin that has stood for a while.
func (b *book) recount() {
	if b.err != nil {
		return
	}
	l, ok := b.state.Lot("S2")
	if !ok {
		return
	}
	b.note(b.at(30, 18, 0), mira, &shop.Weighed{Lot: "S2", Mass: gram(l.Mass - 0.003)})
}
