package demo

import "hopperful/shop"

// pieces describes scrap by its largest piece [m], wall [m] and infill share.
func pieces(largest, wall, infill float64) shop.Pieces {
	return shop.Pieces{Largest: known(largest), Wall: known(wall), Infill: known(infill)}
}

// takeInScrap fills the bins, S1 to S9 and V1, and sorts the mixed ones.
func (b *book) takeInScrap() {
	day := 91
	for i, t := range []shop.TakenIn{
		{Lot: "S1", Class: shop.Scrap, Name: "failed brackets and brims, broken up", Polymer: "PLA", Sure: known(0.98),
			Colour: "black", RGB: "#1d1d1f", Pieces: pieces(34e-3, 1.2e-3, 0.15), Mass: 1.940},
		{Lot: "S2", Class: shop.Scrap, Name: "lamp shades, supports, broken up", Polymer: "PLA", Sure: known(0.95),
			Colour: "white", RGB: "#f1efe9", Pieces: pieces(32e-3, 0.9e-3, 0.10), Mass: 0.924},
		{Lot: "S3", Class: shop.Scrap, Name: "school club bin, orange and grey", Polymer: "PLA", Sure: known(0.9),
			Colour: "mixed", Pieces: pieces(35e-3, 1.2e-3, 0.20), Mass: 0.783},
		{Lot: "S4", Class: shop.Scrap, Name: "clear housings, broken up", Polymer: "PETG", Sure: known(0.95),
			Colour: "clear", RGB: "#dfe6e4", Pieces: pieces(34e-3, 1.2e-3, 0.20), Mass: 1.386},
		{Lot: "S5", Class: shop.Scrap, Name: "blue clips and rafts", Polymer: "PETG", Sure: known(0.9),
			Colour: "blue", RGB: "#2b5a9b", Pieces: pieces(48e-3, 1.6e-3, 0.30), Mass: 0.628},
		{Lot: "S6", Class: shop.Scrap, Name: "fan ducts", Polymer: "ABS", Sure: known(0.9),
			Colour: "black", RGB: "#222222", Pieces: pieces(33e-3, 1.6e-3, 0.20), Mass: 0.561},
		{Lot: "S7", Class: shop.Scrap, Name: "bin without a label", Colour: "mixed",
			Pieces: shop.Pieces{Largest: known(95e-3)}, Mass: 0.842},
		{Lot: "S8", Class: shop.Scrap, Name: "old switch box, may hold flame retardant", Colour: "ivory", RGB: "#e6dfc8",
			Halogen: shop.Yes, Pieces: shop.Pieces{Largest: known(110e-3), Wall: known(3e-3)}, Mass: 0.214},
		{Lot: "S9", Class: shop.Scrap, Name: "motor mounts with brass inserts", Polymer: "PLA", Sure: known(0.98),
			Colour: "black", RGB: "#1d1d1f", Pieces: pieces(64e-3, 2e-3, 0.35), Metal: "brass inserts", Mass: 0.438},
		{Lot: "V1", Class: shop.Virgin, Name: "natural granulate, one bag", Polymer: "PLA", Sure: known(1.0),
			Colour: "natural", RGB: "#e9e4d2", Mass: 2.000, Price: known(14.0)},
	} {
		b.note(b.at(day, 10, 4*i), ada, &t)
	}
	b.note(b.at(88, 17, 20), mira, &shop.Sorted{From: "S3", Into: []shop.Part{
		{Lot: "S10", Name: "orange", Polymer: "PLA", Sure: known(0.9), Colour: "orange", RGB: "#d9772b", Pieces: pieces(35e-3, 1.2e-3, 0.20), Mass: 0.402},
		{Lot: "S11", Name: "grey", Polymer: "PLA", Sure: known(0.9), Colour: "grey", RGB: "#8b8d8f", Pieces: pieces(35e-3, 1.2e-3, 0.20), Mass: 0.369},
	}, Waste: known(0.012)})
	b.note(b.at(85, 18, 5), jonas, &shop.Sorted{From: "S9", Into: []shop.Part{
		{Lot: "S12", Name: "motor mounts, inserts cut out", Polymer: "PLA", Sure: known(0.98), Colour: "black", RGB: "#1d1d1f",
			Pieces: pieces(36e-3, 2e-3, 0.35), Mass: 0.247},
	}, Metal: known(0.031)})
}

// takeInMore is what comes in during the three months.
func (b *book) takeInMore() {
	b.note(b.at(56, 11, 0), mira, &shop.TakenIn{Lot: "S13", Class: shop.Scrap, Name: "black offcuts, repair evening",
		Polymer: "PLA", Sure: known(0.9), Colour: "black", RGB: "#242426", Pieces: pieces(36e-3, 1.2e-3, 0.15), Mass: 1.212})
}
