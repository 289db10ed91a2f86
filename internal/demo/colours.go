package demo

import "hopperful/shop"

// takeColours takes the colours of three bins of granulate and of a print, on one
// bright afternoon. The codes are near to those of the scrap, off as a photo is.
func (b *book) takeColours() {
	for i, c := range []struct {
		lot  shop.LotID
		code string
	}{{"R2", "#efebdf"}, {"R4", "#d26f2a"}, {"R5", "#83868a"}, {"P12", "#7e8184"}} {
		at := b.at(1, 14, 5*i)
		b.write(shop.Record{At: at, NotedAt: at, By: mira, Note: "by the north window", Body: &shop.Coloured{Lot: c.lot, How: shop.CardPhoto, RGB: c.code}})
	}
}
