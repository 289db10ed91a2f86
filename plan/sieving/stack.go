package sieving

import (
	"fmt"
	"math"

	"hopperful/fact"
	"hopperful/process/sieve"
	"hopperful/shop"
)

// Stack is a sieve analysis, wherever it was written down: on a record, in
// a table, on a form.
type Stack struct {
	sieve.Stack
	Name   string        // what to call it: a file, a record, a lot
	Lot    shop.LotID    // what it is a sample of; may be empty
	Run    shop.RecordID // the run of a mill it came out of; 0: not said
	Record shop.RecordID // 0: not kept yet
	Hole   *float64      // of the mill's screen [m]; nil: as the mill's records say
	Long   *int          // grains longer than two holes; nil: nobody looked
	Notes  []fact.Saying // of whoever read it

	Photo *shop.Photographed // no sieve stood: reckoned from pictures; nil otherwise
}

// StackOf takes a sieve analysis from its record.
func StackOf(s *shop.State, id shop.RecordID) (Stack, error) {
	r, ok := s.Record(id)
	if !ok {
		return Stack{}, shop.Refuse(shop.NotFound, "record", fact.Say("sieving.no_record", fact.Name("record", fmt.Sprint(id))), fact.Say("sieving.records_list"))
	}
	b, ok := r.Body.(*shop.Sieved)
	if !ok {
		return Stack{}, shop.Refuse(shop.NotFound, "record", fact.Say("sieving.no_analysis", fact.Name("record", fmt.Sprint(id))), fact.Say("sieving.records_list"))
	}
	return stackOn(id, b)
}

// NewestStack is the latest sieve analysis of a lot.
func NewestStack(s *shop.State, id shop.LotID) (Stack, error) {
	all := s.Sievings(id)
	if len(all) == 0 {
		return Stack{}, shop.Refuse(shop.NotFound, "lot", fact.Say("sieving.lot_not_sieved", fact.Lot("lot", string(id), "")), fact.Say("sieving.sieve_a_handful"))
	}
	return stackOn(all[0].ID, all[0].Body)
}

func stackOn(id shop.RecordID, b *shop.Sieved) (Stack, error) {
	st := Stack{Name: fmt.Sprintf("%s, record %d", b.Lot, id), Lot: b.Lot, Run: b.Run, Record: id, Hole: b.Hole, Long: b.LongFound, Photo: b.Photo}
	p := sieve.Portion{Charge: b.Charge}
	add := func(mass float64, tare *float64) {
		r := sieve.Row{Mass: mass}
		if b.Gross && tare != nil {
			r.Tare = *tare
		}
		p.Rows = append(p.Rows, r)
	}
	for _, x := range b.Sieves {
		one, err := sieveOf(x.Opening, b.Series, b.Holes)
		if err != nil {
			return st, fmt.Errorf("record %d: %w", id, err)
		}
		st.Sieves = append(st.Sieves, one)
		add(x.Mass, x.Tare)
	}
	add(b.Pan, b.PanTare)
	st.Portions = []sieve.Portion{p}
	return st, nil
}

// forms are the forms of holes as records call them.
var forms = map[shop.Holes]sieve.Form{shop.RoundHoles: sieve.PlateRound, shop.SquareHoles: sieve.PlateSquare, shop.WovenWire: sieve.Woven, "": sieve.Woven}

// seriesOf are the series as records call them, the principal one first.
var seriesOf = []struct {
	kept shop.Series
	of   sieve.Standard
}{{shop.R20x3, sieve.R20x3}, {shop.R40x3, sieve.R40x3}, {shop.R20, sieve.R20}, {shop.ASTME11, sieve.ASTME11}}

// sieveOf finds the sieve of a record: the series' own one of that opening, or
// one of the shop's own.
func sieveOf(opening float64, series shop.Series, holes shop.Holes) (sieve.Sieve, error) {
	form := forms[holes]
	for _, known := range seriesOf {
		if known.kept != series || form != sieve.Woven {
			continue
		}
		for _, one := range sieve.Openings(known.of) {
			if math.Abs(one.Opening/opening-1) < 1e-6 {
				return one, nil
			}
		}
	}
	return sieve.Own(opening, form)
}

// Body is the record to keep of a stack. Several portions are added up, which a
// record of masses without the sieves can hold; nothing else is reckoned.
func (st Stack) Body() (*shop.Sieved, error) {
	if len(st.Sieves) == 0 || len(st.Portions) == 0 {
		return nil, shop.Refuse(shop.Invalid, "sieves", fact.Say("sieving.too_few"), fact.Say("sieving.add_sieves"))
	}
	b := &shop.Sieved{Lot: st.Lot, Run: st.Run, Hole: st.Hole, LongFound: st.Long, Series: st.series(), Holes: st.holes(), Photo: st.Photo}
	if n := len(st.Portions); n > 1 {
		b.Portions = n
	}
	if len(st.Portions) == 1 {
		for _, r := range st.Portions[0].Rows {
			b.Gross = b.Gross || r.Tare > 0
		}
	}
	masses := make([]sieve.Row, len(st.Sieves)+1)
	for i, p := range st.Portions {
		if len(p.Rows) != len(masses) {
			return nil, shop.Refuse(shop.Invalid, "sieves", fact.Say("sieving.wrong_number", fact.Name("portion", fmt.Sprint(i+1)), fact.Name("row", "")), fact.Say("sieving.one_mass_a_sieve"))
		}
		b.Charge += p.Charge
		for k, r := range p.Rows {
			if b.Gross {
				masses[k] = r
			} else {
				masses[k].Mass += r.Mass - r.Tare
			}
		}
	}
	tare := func(r sieve.Row) *float64 {
		if !b.Gross {
			return nil
		}
		return &r.Tare
	}
	for i, one := range st.Sieves {
		b.Sieves = append(b.Sieves, shop.OnSieve{Opening: one.Opening, Mass: masses[i].Mass, Tare: tare(masses[i])})
	}
	pan := masses[len(masses)-1]
	b.Pan, b.PanTare = pan.Mass, tare(pan)
	return b, nil
}

// holes is the form of the stack's holes; a mixed stack goes by its top sieve.
func (st Stack) holes() shop.Holes {
	for kept, form := range forms {
		if kept != "" && form == st.Sieves[0].Form {
			return kept
		}
	}
	return shop.WovenWire
}

// series is the first series that has all of the stack's sieves.
func (st Stack) series() shop.Series {
	for _, known := range seriesOf {
		has := map[float64]bool{}
		for _, one := range sieve.Openings(known.of) {
			has[one.Opening] = true
		}
		all := true
		for _, one := range st.Sieves {
			all = all && has[one.Opening] && one.Form == sieve.Woven
		}
		if all {
			return known.kept
		}
	}
	return shop.OwnSet
}
