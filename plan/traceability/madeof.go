package traceability

import (
	"maps"
	"math"
	"slices"
	"strings"

	"hopperful/answer"
	"hopperful/shop"
)

// Stray is another plastic in a lot.
type Stray struct {
	Polymer string
	Share   float64
}

// StraysIn are the other plastics a lot was knowingly made of.
func StraysIn(s *shop.State, lot *shop.Lot) []Stray {
	return NewMadeOf(s).Strays(lot, lot.Polymer)
}

// UsualPrice is what new granulate costs a kilogram where nobody wrote it down.
// Judgement.
const UsualPrice = 20.0

// MadeOf derives what every lot is made of and what that cost, each lot once
// however many ways lead to it.
type MadeOf struct {
	s        *shop.State
	paid     map[shop.LotID]float64
	plastics map[shop.LotID]map[string]float64
	Guessed  []shop.LotID // new granulate nobody wrote a price of
}

// NewMadeOf derives what a shop's lots are made of, each once.
func NewMadeOf(s *shop.State) *MadeOf {
	w := &MadeOf{s: s, paid: map[shop.LotID]float64{}, plastics: map[shop.LotID]map[string]float64{}}
	return w
}

// boughtFor is what was paid a kilogram for what of a lot came from outside; false where
// nobody wrote a price.
func (w *MadeOf) boughtFor(id shop.LotID) (float64, bool) {
	paid, mass, priced := 0.0, 0.0, false
	for _, r := range w.s.RecordsOf([]shop.LotID{id}, (*shop.TakenIn)(nil)) {
		if b := r.Body.(*shop.TakenIn); b.Lot == id && b.Price != nil {
			paid, mass, priced = paid+*b.Price, mass+b.Mass, true
		}
	}
	if !priced {
		return 0, false
	}
	return paid / mass, true
}

// Price is what a lot's material cost a kilogram: its parents' by mass. Scrap
// nobody paid for is free.
func (w *MadeOf) Price(l *shop.Lot) float64 {
	if done, ok := w.paid[l.ID]; ok {
		return done
	}
	whole, sum := wholeOf(l), 0.0
	if outside := outsideOf(l); outside > 0 {
		price, ok := w.boughtFor(l.ID)
		if !ok && l.Class == shop.Virgin {
			price = UsualPrice
			w.Guessed = append(w.Guessed, l.ID)
		}
		sum += outside * price
	}
	for _, e := range l.Parents {
		sum += e.Mass * w.Price(w.s.Lots.At(e.Lot))
	}
	price := 0.0
	if whole > 0 {
		price = sum / whole
	}
	w.paid[l.ID] = price
	return price
}

// plasticsIn is what a lot consists of, by what was said of the scrap and bought
// material in it.
func (w *MadeOf) plasticsIn(l *shop.Lot) map[string]float64 {
	if done, ok := w.plastics[l.ID]; ok {
		return done
	}
	shares := map[string]float64{}
	whole := 0.0
	if l.Class != shop.Scrap && l.Class != shop.Virgin {
		for _, e := range l.Parents {
			whole += e.Mass
		}
	}
	outside := math.Max(l.In-whole, 0)
	if outside <= 1e-9*l.In {
		outside = 0
	}
	if whole == 0 {
		outside = 1
	}
	if outside > 0 {
		shares[l.Polymer] = outside / (whole + outside)
	}
	if whole > 0 {
		for _, e := range l.Parents {
			for name, x := range w.plasticsIn(w.s.Lots.At(e.Lot)) {
				shares[name] += x * e.Mass / (whole + outside)
			}
		}
	}
	w.plastics[l.ID] = shares
	return shares
}

// Strays are the plastics in a lot other than the host, with their shares.
func (w *MadeOf) Strays(l *shop.Lot, host string) []Stray {
	shares := w.plasticsIn(l)
	var all []Stray
	for _, name := range slices.Sorted(maps.Keys(shares)) {
		if !strings.EqualFold(name, host) {
			all = append(all, Stray{answer.OrUnnamed(name), shares[name]})
		}
	}
	return all
}
