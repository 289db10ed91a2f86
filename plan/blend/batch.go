package blend

import (
	"context"

	"hopperful/shop"
)

// Weighed are masses of lots in the order they are weighed.
type Weighed []shop.Portion

// Total is all of it [kg].
func (w Weighed) Total() float64 {
	sum := 0.0
	for _, x := range w {
		sum += x.Mass
	}
	return sum
}

// Of is the mass of a lot, false where it is not among them.
func (w Weighed) Of(lot shop.LotID) (float64, bool) {
	for _, x := range w {
		if x.Lot == lot {
			return x.Mass, true
		}
	}
	return 0, false
}

// Batch is a recipe being weighed out.
type Batch struct {
	Take   Weighed // as the recipe has it, in order
	Put    Weighed // in the bucket
	Now    Weighed // as it is to be, what is in the bucket as it is
	Last   Blending
	Broken bool // what is in the bucket breaks a limit; the answer of Last says which

	request Request
	state   *shop.State
}

// Batch makes the rest of a recipe up around what is in the bucket, so that the
// limits hold; where none does, in the proportions of the recipe.
func (h *Shelf) Batch(ctx context.Context, s *shop.State, req Request, take, put Weighed) (Batch, error) {
	b := Batch{Take: take, Put: put, request: req, state: s}
	whole, none := take.Total(), 0.0
	fixed := put
	if len(put) == 0 {
		fixed = take
	}
	if b.Finished() {
		whole, req.Step = put.Total(), 1e-5 // as it was weighed
	}
	req.Soon, req.WhyNot, req.Without, req.Lots, req.Reserve = true, nil, nil, nil, &none
	req.Need.Mass, req.Need.Volume = &whole, nil
	for _, x := range take {
		req.Lots = append(req.Lots, x.Lot)
	}
	req.Weighed = []shop.Portion(fixed)
	req.MostLots = max(req.MostLots, len(take))
	var err error
	if b.Last, err = h.Find(ctx, req); err == nil && !b.Last.Possible {
		forgive(&req)
		b.Last, err = h.Find(ctx, req)
	}
	if err != nil {
		return b, err
	}
	b.Broken = !b.Last.Possible
	switch {
	case len(put) == 0:
		b.Now = take
	case b.Last.Possible:
		b.Now = b.inOrder(b.Last.Recipes[0])
	default:
		b.Now = b.inProportion(whole)
	}
	return b, nil
}

// forgive lets every limit go by a two-hundredth: a limit that binds is met to the
// last digit, and nobody weighs that closely. Judgement.
func forgive(req *Request) {
	const more = 1.005
	for _, v := range []**float64{&req.MeanAge, &req.Fines, &req.Moisture, &req.Metal, &req.FlowHigh, &req.WithinDE} {
		if *v != nil {
			wider := **v * more
			*v = &wider
		}
	}
	if req.FlowLow != nil {
		wider := *req.FlowLow / more
		req.FlowLow = &wider
	}
}

// Finished reports whether nothing is left to weigh.
func (b *Batch) Finished() bool {
	for _, x := range b.Take {
		if _, in := b.Put.Of(x.Lot); !in {
			return false
		}
	}
	return true
}

func (b *Batch) inOrder(r Recipe) Weighed {
	var now Weighed
	for _, x := range b.Take {
		mass := 0.0
		for _, p := range r.Portions {
			if p.Lot == x.Lot {
				mass = p.Mass.Value
			}
		}
		now = append(now, shop.Portion{Lot: x.Lot, Mass: mass})
	}
	return now
}

// inProportion makes the rest up as the recipe had it, as far as each lot goes.
func (b *Batch) inProportion(whole float64) Weighed {
	rest := 0.0
	for _, x := range b.Take {
		if _, in := b.Put.Of(x.Lot); !in {
			rest += x.Mass
		}
	}
	now := append(Weighed{}, b.Take...)
	for i, x := range now {
		if mass, in := b.Put.Of(x.Lot); in {
			now[i].Mass = mass
		} else {
			now[i].Mass = min(max(0, whole-b.Put.Total())*x.Mass/rest, b.state.Lots.At(x.Lot).Mass)
		}
	}
	return now
}

// BatchRow is a lot to weigh in.
type BatchRow struct {
	Lot     *shop.Lot
	Planned float64  // as the recipe has it [kg]
	Mass    float64  // as it is now [kg]
	Running float64  // what the scale shows then [kg]
	Within  float64  // how far it may be off: a step, a digit of the scale, or a hundredth of it [kg]
	Put     *float64 // weighed in already [kg]
}

// Rows are the lots in the order they are weighed.
func (b *Batch) Rows() []BatchRow {
	var rows []BatchRow
	running := 0.0
	for i, x := range b.Now {
		running += x.Mass
		row := BatchRow{Lot: b.state.Lots.At(x.Lot), Planned: b.Take[i].Mass, Mass: x.Mass, Running: running,
			Within: max(b.request.Step, b.state.Resolution(x.Mass), 0.01*x.Mass)}
		if mass, in := b.Put.Of(x.Lot); in {
			row.Put = &mass
		}
		rows = append(rows, row)
	}
	return rows
}

// Shows is the mass of a lot just weighed in, by what the scale shows in all;
// far reports that it is far more than planned.
func (b *Batch) Shows(lot shop.LotID, all float64) (mass float64, far bool) {
	planned, _ := b.Take.Of(lot)
	mass = all - b.Put.Total()
	return mass, mass > 10*planned+1
}
