package traceability

import (
	"errors"
	"math"

	"hopperful/answer"
	"hopperful/process/sieve"
	"hopperful/shop"
)

// DustLeft is the share of a lot finer than [answer.FinesLimit] [1], by a sieve
// analysis of it and the dust taken off since.
func DustLeft(lot *shop.Lot, e shop.Entry[*shop.Sieved]) (float64, error) {
	a, err := Analysis(e.Body)
	if err != nil {
		return 0, err
	}
	return dustLeft(lot, e, a)
}

// Analysis reads a recorded stack.
func Analysis(r *shop.Sieved) (sieve.Discrete, error) {
	forms := map[shop.Holes]sieve.Form{shop.RoundHoles: sieve.PlateRound, shop.SquareHoles: sieve.PlateSquare}
	masses, pan := r.Net()
	stack := sieve.Stack{Portions: []sieve.Portion{{Charge: r.Charge}}}
	for i, x := range r.Sieves {
		form, ok := forms[r.Holes]
		if !ok {
			form = sieve.Woven
		}
		one, err := sieve.Own(x.Opening, form)
		if err != nil {
			return sieve.Discrete{}, err
		}
		stack.Sieves = append(stack.Sieves, one)
		stack.Portions[0].Rows = append(stack.Portions[0].Rows, sieve.Row{Mass: masses[i]})
	}
	stack.Portions[0].Rows = append(stack.Portions[0].Rows, sieve.Row{Mass: pan})
	a, err := sieve.Weigh(stack)
	if err != nil {
		return sieve.Discrete{}, err
	}
	return a.Distribution(sieve.Bounds{})
}

// dustLeft books what each dusting took out of what the lot held then. A sieve
// finer than the limit takes dust only; through a coarser one larger grains fall
// too, as the analysis says.
func dustLeft(lot *shop.Lot, e shop.Entry[*shop.Sieved], a sieve.Discrete) (float64, error) {
	share, err := below(a, answer.FinesLimit)
	if err != nil {
		return 0, err
	}
	for _, d := range lot.Dustings {
		if !later(d.Record, e.Record) || d.Before <= d.Body.Dust {
			continue
		}
		dust := d.Body.Dust
		if o := d.Body.Opening; o != nil && *o > answer.FinesLimit {
			fell, err := below(a, *o)
			if err != nil {
				return 0, err
			}
			if fell > 0 {
				dust *= math.Min(1, share/fell)
			}
		}
		share = math.Max(0, (share*d.Before-dust)/(d.Before-d.Body.Dust))
	}
	return share, nil
}

// later reports whether a record stands after another.
func later(a, b shop.Record) bool {
	return a.At.After(b.At) || a.At.Equal(b.At) && a.ID > b.ID
}

// below is the share finer than a size; in the pan, all of the pan.
func below(d sieve.Discrete, size float64) (float64, error) {
	share, err := d.Cumulative(size)
	var beyond *sieve.BeyondError
	if errors.As(err, &beyond) {
		if beyond.Side == "above" {
			return 1 - beyond.Held, nil
		}
		return beyond.Held, nil
	}
	return share, err
}
