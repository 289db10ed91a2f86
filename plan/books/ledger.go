package books

import (
	"math"
	"slices"
	"time"

	"hopperful/shop"
)

// Stream is material that went from one kind of place to another.
type Stream struct {
	From, To Place
	Mass     float64 // [kg]
}

// Place is a kind of lot, or where what is no lot any more went.
type Place string

// The places, in the order material goes through them.
const (
	ScrapPlace   Place = "scrap"
	VirginPlace  Place = "virgin"
	RegrindPlace Place = "regrind"
	BlendPlace   Place = "blend"
	PrintPlace   Place = "print"
	LostPlace    Place = "lost"
	MillPlace    Place = "mill" // still inside
)

// ledger is what a time held.
type ledger struct {
	before, after shop.Balance
	taken         map[shop.Class]float64 // came in from outside [kg]
	losses        map[string]float64     // by name [kg]
	streams       []Stream
	printed       float64 // into prints [kg]
	scrap         float64 // ground [kg]
	charged       float64 // into mills in runs whose product was weighed [kg]
	product       float64 // out of them [kg]
	byPolymer     map[string]float64
	energies      []perRun // of runs whose energy and product were noted
	work          float64  // at the mill, runs with their handling [s]
	worked        float64  // product of them [kg]
	runs          int
	doubted       []shop.RecordID // runs that are asked about: they teach nothing
	paid, bought  float64         // for virgin granulate with a price on record: money and kg
}

// perRun is one run's energy with what came out.
type perRun struct{ energy, product float64 }

// read goes through the records of a time once.
func read(s *shop.State, from, to time.Time) (*ledger, error) {
	l := &ledger{taken: map[shop.Class]float64{}, losses: map[string]float64{}, byPolymer: map[string]float64{}}
	var err error
	if l.before, err = s.Whereabouts(from); err != nil {
		return nil, err
	}
	if l.after, err = s.Whereabouts(to); err != nil {
		return nil, err
	}
	l.prices(s)
	first, end := s.Records.Began(from), s.Records.Began(to)
	named := map[shop.LotID]bool{} // by what happened in the time
	for i := first; i < end; i++ {
		r := s.Records.At(i)
		for _, id := range shop.Mentioned(r.Body) {
			named[id] = true
		}
		switch b := r.Body.(type) {
		case *shop.TakenIn:
			l.taken[b.Class] += b.Mass
		case *shop.Ground:
			l.runs++
			l.scrap += b.Charge
			if believed, ok := s.Believed(r, b); ok {
				l.ground(s, &believed)
			} else {
				l.doubted = append(l.doubted, r.ID)
			}
		}
	}
	in := s.Records.Between(first, end)
	for x := range s.Losses.Between(s.Records.Numbers(first, end)) {
		if in(x.Record) {
			l.losses[x.Name] += x.Mass
			l.flow(placeOf(x.Lot.Class()), LostPlace, x.Mass)
		}
	}
	for _, id := range s.Order {
		if !named[id] {
			continue
		}
		lot := s.Lots.At(id)
		for _, e := range lot.Parents {
			if in(e.Record) {
				l.flow(placeOf(e.Lot.Class()), placeOf(lot.Class), e.Mass)
				if lot.Class == shop.Print {
					l.printed += e.Mass
				}
			}
		}
	}
	if inside := l.after.InMills - l.before.InMills; inside > 0 {
		l.flow(ScrapPlace, MillPlace, inside)
	}
	return l, nil
}

// ground takes a run up.
func (l *ledger) ground(s *shop.State, b *shop.Ground) {
	if b.Product == nil {
		return
	}
	l.charged, l.product = l.charged+b.Charge, l.product+*b.Product
	polymer := ""
	if lot, ok := s.Lot(b.From); ok {
		polymer = lot.Polymer
	}
	l.byPolymer[polymer] += *b.Product
	each := handling
	if h := s.Shop.Handling; h != nil {
		each = *h
	}
	l.work, l.worked = l.work+b.Run+each, l.worked+*b.Product
	if b.Energy != nil && *b.Product > 0 {
		l.energies = append(l.energies, perRun{*b.Energy, *b.Product})
	}
}

// flow adds to a stream.
func (l *ledger) flow(from, to Place, mass float64) {
	if mass == 0 || from == "" || to == "" {
		return
	}
	i := slices.IndexFunc(l.streams, func(x Stream) bool { return x.From == from && x.To == to })
	if i < 0 {
		l.streams = append(l.streams, Stream{From: from, To: to})
		i = len(l.streams) - 1
	}
	l.streams[i].Mass += mass
}

// placeOf is the place of a class.
func placeOf(c shop.Class) Place {
	switch c {
	case shop.Scrap:
		return ScrapPlace
	case shop.Virgin:
		return VirginPlace
	case shop.Regrind:
		return RegrindPlace
	case shop.Blend:
		return BlendPlace
	case shop.Print:
		return PrintPlace
	}
	return ""
}

// prices adds up what was paid for virgin granulate, at any time: prices hold over the
// months.
func (l *ledger) prices(s *shop.State) {
	var virgin []shop.LotID
	for _, id := range s.Order {
		if id.Class() == shop.Virgin {
			virgin = append(virgin, id)
		}
	}
	for _, r := range s.RecordsOf(virgin[max(0, len(virgin)-mostBought):], (*shop.TakenIn)(nil)) {
		if b := r.Body.(*shop.TakenIn); b.Price != nil && b.Mass > 0 {
			l.paid, l.bought = l.paid+*b.Price, l.bought+b.Mass
		}
	}
}

// mostBought is how many lots of virgin granulate, the latest, tell what it costs. Judgement.
const mostBought = 128

// perKilogram is the energy a kilogram of product takes, with the ends of its 80 %
// range: the ratio of the sums, and how much the runs differ.
func (l *ledger) perKilogram() (mean, low, high float64, ok bool) {
	var e, m float64
	for _, r := range l.energies {
		e, m = e+r.energy, m+r.product
	}
	if m <= 0 {
		return
	}
	mean = e / m
	n := float64(len(l.energies))
	if n < 2 {
		return mean, mean / oneRun, mean * oneRun, true
	}
	square := 0.0
	for _, r := range l.energies {
		d := r.energy - mean*r.product
		square += d * d
	}
	wide := z90 * math.Sqrt(square/(n*(n-1))) / (m / n)
	return mean, math.Max(0, mean-wide), mean + wide, true
}
