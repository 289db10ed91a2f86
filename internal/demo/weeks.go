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
	on(56, b.takeInMore)
	on(35, b.correctACharge)
	on(33, b.takeBackFailures)
	on(30, b.recount)
	on(19, func() {
		b.note(b.at(19, 12, 0), ada, &shop.Discarded{Lot: "S8", Mass: 0.214,
			Why: "may hold a halogenated flame retardant: given to the recycling yard, not ground"})
	})
	on(2, b.takeBackLater)
	slices.SortStableFunc(events, func(x, y event) int { return y.day - x.day })
	for _, e := range events {
		e.do()
	}
}

// prints are the shop's prints from its own granulate, good and failed.
func prints() []printed {
	return []printed{
		{80, 19, ada, shop.Printed{From: "R1", Print: "drawer fronts", Mass: 0.186, Purged: known(0.014), Good: shop.Yes}},
		{73, 18, ada, shop.Printed{From: "R2", Print: "lamp shade", Mass: 0.142, Purged: known(0.011), Good: shop.No, Why: "ran dry: the hopper bridged"}},
		{66, 18, jonas, shop.Printed{From: "R3", Print: "rain cover", Mass: 0.164, Purged: known(0.022), Good: shop.No, Why: "bubbles: the granulate was damp"}},
		{59, 20, mira, shop.Printed{From: "R4", Print: "seed trays", Mass: 0.098, Purged: known(0.009), Good: shop.Yes}},
		{52, 18, jonas, shop.Printed{From: "R3", Print: "rain cover, second try", Mass: 0.131, Purged: known(0.010), Good: shop.Yes}},
		{46, 19, ada, shop.Printed{From: "R1", Print: "tool holder", Mass: 0.212, Purged: known(0.012), Good: shop.No, Why: "nozzle blocked by a dark speck"}},
		{40, 20, ada, shop.Printed{From: "R1", Print: "shelf brackets", Mass: 0.232, Purged: known(0.012), Good: shop.Yes}},
		{38, 17, mira, shop.Printed{From: "R2", Print: "letter box flap", Mass: 0.121, Purged: known(0.010), Good: shop.Yes}},
		{25, 18, jonas, shop.Printed{From: "R6", Print: "fan duct", Mass: 0.118, Purged: known(0.013), Good: shop.Yes}},
		{16, 19, ada, shop.Printed{From: "R1", Print: "tool holder, second try", Mass: 0.228, Purged: known(0.012), Good: shop.Yes}},
		{12, 19, jonas, shop.Printed{From: "R3", Print: "window latch", Mass: 0.121, Purged: known(0.011), Good: shop.Yes}},
		{9, 18, mira, shop.Printed{From: "R5", Print: "cable trough", Mass: 0.094, Purged: known(0.009), Good: shop.Yes}},
		{3, 18, jonas, shop.Printed{From: "R3", Print: "sluice gate", Mass: 0.173, Purged: known(0.012), Good: shop.No, Why: "lifted off the bed"}},
		{2, 20, ada, shop.Printed{From: "R1", Print: "bench feet", Mass: 0.338, Purged: known(0.012), Good: shop.Yes}},
	}
}

// takeBackFailures turns the failed prints of the first half into scrap again.
func (b *book) takeBackFailures() {
	b.note(b.at(33, 17, 0), mira, &shop.TakenIn{Lot: "S14", Class: shop.Scrap, Name: "failed lamp shade, printed once before",
		Polymer: "PLA", Sure: known(0.98), Colour: "white", RGB: "#efede6", Pieces: pieces(60e-3, 0.9e-3, 0.1), Mass: 0.130})
	b.note(b.at(33, 17, 5), mira, &shop.TakenIn{Lot: "S15", Class: shop.Scrap, Name: "failed tool holder, printed once before",
		Polymer: "PLA", Sure: known(0.98), Colour: "black", RGB: "#1d1d1f", Pieces: pieces(66e-3, 1.6e-3, 0.2), Mass: 0.199})
	b.note(b.at(33, 17, 10), mira, &shop.TakenIn{Lot: "S16", Class: shop.Scrap, Name: "failed rain cover, full of bubbles",
		Polymer: "PETG", Sure: known(0.95), Colour: "clear", RGB: "#dbe3e1", Pieces: pieces(58e-3, 1.2e-3, 0.15), Mass: 0.141})
}

// takeBackLater is the last failure, a thick one.
func (b *book) takeBackLater() {
	b.note(b.at(2, 9, 30), jonas, &shop.TakenIn{Lot: "S17", Class: shop.Scrap, Name: "failed sluice gate, nearly solid",
		Polymer: "PETG", Sure: known(0.95), Colour: "clear", RGB: "#dbe3e1", Pieces: pieces(130e-3, 5e-3, 0.9), Mass: 0.160})
}

// correctACharge mends a slip: a product written down a gram too heavy.
func (b *book) correctACharge() {
	if b.err != nil {
		return
	}
	for _, r := range slices.Backward(b.state.History) {
		g, ok := r.Body.(*shop.Ground)
		if !ok || g.Product == nil || g.Left == nil {
			continue
		}
		mended := *g
		mended.Product = known(gram(*g.Product - 0.001))
		b.write(shop.Record{At: r.At, NotedAt: b.at(35, 8, 40), By: jonas, Corrects: r.ID,
			Note: "read the scale again from the photo: one gram less", Body: &mended})
		return
	}
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
