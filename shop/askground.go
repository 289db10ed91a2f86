package shop

import (
	"cmp"
	"math"
	"slices"

	"hopperful/estimate"
	"hopperful/process/bulk"
	"hopperful/quantity"
)

// What is asked of a run: first whether its masses can be, then its level and times,
// then what the instruments showed. Thresholds are judgement where no source is named;
// they are meant to let every truthful record pass.
const (
	overUsual  = 2.5  // times the largest charge on record
	underUsual = 0.25 // of the smallest, with a few on record
	few        = 3    // records from which the smallest says something
	couple     = 2    // yields from which they do
	crumbsOnly = 1.0  // kg/m³ of chamber: a charge below it is no charge
	hardlyAny  = 0.25 // of the usual yield
	nothing    = 0.1  // of the charge, before such yields are known: a digit lost from the first product is less
	nowhere    = 0.30 // of what went in, missing although all was weighed
	atLeast    = 0.01 // kg of it
	astray     = 0.10 // of what went in, that two weighings may miss and still bear each other out
)

func (b *Ground) asks(s *State, r Record) []Ask {
	m := s.Mills[s.millIndex(b.Mill)]
	var list []Ask
	if a, odd := b.massAsk(s, &m); odd {
		list = append(list, a)
	}
	list = append(list, s.moreThanLot(b.From, b.Charge, "charge_kg")...)
	if a, odd := b.levelAsk(m.Mill); odd {
		list = append(list, a)
	}
	if b.Product != nil && m.Jar != nil {
		for _, a := range s.jarAsk(b.From, *b.Product, *m.Jar, "product_kg") {
			a.Unsafe = true // fuller than a jar can be: believed of the jar
			list = append(list, a)
		}
	}
	list = append(list, b.timeAsks(&m, r)...)
	list = append(list, b.heatAsks(m.Mill)...)
	for i := range list {
		list[i].mill, list[i].told = b.Mill, len(m.told)-1
	}
	return list
}

// massAsk is the one question about the masses of a run: the first that the
// scale, the chamber or the records give reason for.
func (b *Ground) massAsk(s *State, m *MillState) (Ask, bool) {
	a := Ask{Field: "charge_kg", Kind: quantity.Mass, Value: b.Charge}
	usual := m.charge()
	if fits := b.loosely(s, m.Mill); b.Charge > fits {
		a.Code, a.Bound, a.per = ChargeOverChamber, fits, fits / *m.Chamber
	}
	switch u := &m.usual; {
	case u.charges > 0 && b.Charge > overUsual*m.fullest() && a.Code == "":
		a.Code, a.Bound = ChargeOverUsual, u.most
	case u.charges >= few && b.Charge < underUsual*u.lightest:
		a.Code, a.Bound = ChargeUnderUsual, u.lightest
	case m.Chamber != nil && b.Charge < crumbsOnly**m.Chamber:
		a.Code, a.Bound = ChargeUnderUsual, crumbsOnly**m.Chamber
	}
	if a.Code != "" {
		a.Meant = b.rather(usual)
		return a, true
	}
	f := b.flow(*m)
	in := f.input.mass()
	if -f.rest > s.tolerance(in, b.weighings())+m.drift {
		return b.tooMuch(s, m, f), true
	}
	if b.Emptied && b.Swept == nil { // nobody weighed what was taken out before it
		in, f.rest = b.Charge, f.rest-f.before
	}
	if missing := f.rest; b.Left != nil && b.Product != nil && missing > nowhere*in && missing > atLeast {
		return b.tooLittle(s, m, in), true
	}
	if b.Product == nil || b.Stalled {
		return a, false
	}
	little := m.usual.least(b)
	if *b.Product >= little || *b.Product == 0 && len(m.usual.yields) < couple || b.addsUp(in, f.rest, s.tolerance(in, b.weighings())) {
		return a, false
	}
	a = Ask{Code: LittleOut, Field: "product_kg", Kind: quantity.Mass, Value: *b.Product, Bound: little}
	for _, slip := range [...]float64{10, 1000} {
		if y := *b.Product * slip / b.Charge; y > hardlyAny && y <= 1.2 {
			a.Meant = known(*b.Product * slip)
		}
	}
	return a, true
}

// addsUp reports whether what came out and what was found inside are all that went in: two
// weighings that bear each other out. A digit lost from the product would be missing.
func (b *Ground) addsUp(in, missing, tolerance float64) bool {
	return b.Left != nil && missing <= math.Max(tolerance, astray*in)
}

// loosely is the most that fits loosely into the chamber [kg], without end where
// nobody knows it: scrap as hollow prints lie (the high end of the books' belief),
// grains as loose chips do.
func (b *Ground) loosely(s *State, m Mill) float64 {
	if m.Chamber == nil {
		return math.Inf(1)
	}
	share := scrapPacking
	if b.From.Class() != Scrap {
		share = bulk.LooseChipsHigh
	}
	return *m.Chamber * share * s.solidDensity(s.Lots.At(b.From).Polymer)
}

// scrapPacking is the high end of what loose scrap weighs against solid plastic.
var scrapPacking = estimate.Prior()[estimate.ScrapPacking].High

// pointSlips are the usual ways a number goes wrong: the point, or the unit.
var pointSlips = [...]float64{0.1, 10, 0.001, 1000}

// rather is the charge that was meant, when a usual slip explains it.
func (b *Ground) rather(usual float64) *float64 {
	if usual <= 0 {
		return nil
	}
	best, far := 0.0, math.Log(3.5)
	for _, by := range pointSlips {
		if d := math.Abs(math.Log(b.Charge * by / usual)); d < far {
			best, far = b.Charge*by, d
		}
	}
	if best == 0 {
		return nil
	}
	return &best
}

// tooMuch asks about more mass out of a run than went in and can have lain in the mill.
// The slip is looked for where mending it makes the run like the others.
func (b *Ground) tooMuch(s *State, m *MillState, f milled) Ask {
	a := Ask{Code: MoreOutThanIn, Field: "product_kg", Kind: quantity.Mass, Value: f.product, Bound: f.input.mass(), Over: -f.rest, because: m.asked(s)}
	if b.Product == nil {
		a.Field, a.Value = "left_kg", value(b.Left)
		if b.Left == nil || value(b.Swept) > *b.Left {
			a.Field, a.Value = "swept_kg", value(b.Swept)
		}
	}
	b.mend(s, m, &a)
	return a
}

// tooLittle asks about a run of which much is nowhere although all was weighed.
func (b *Ground) tooLittle(s *State, m *MillState, in float64) Ask {
	a := Ask{Code: MassMissing, Field: "product_kg", Kind: quantity.Mass, Value: *b.Product, Bound: (1 - nowhere) * in, because: m.asked(s)}
	b.mend(s, m, &a)
	return a
}

// A slip is one way a run can have been written down wrong.
type slip struct {
	field, swap string
	meant       float64
	unlikely    float64 // as a logarithm
}

// Judgement: how unlikely a slip is before it is looked at, and by how much two differ that
// explain a run equally well; all as logarithms.
const (
	swappedSlip = 0.3
	typedSlip   = 0.5
	wrongSlip   = 3.0
	alikeSlips  = 0.2
)

// mend finds the slip that explains a run best, and what was meant; and another, in another
// field, that explains it as well.
func (b *Ground) mend(s *State, m *MillState, a *Ask) {
	list := b.slips(s, m)
	if len(list) == 0 {
		return
	}
	best := list[0]
	a.Field, a.Swap, a.Meant, a.Value = best.field, best.swap, &best.meant, b.said(best.field)
	for _, other := range list[1:] {
		if other.field != best.field && best.swap == "" && other.swap == "" && other.unlikely < best.unlikely+alikeSlips {
			a.Or = &Reading{other.field, b.said(other.field), other.meant}
			return
		}
	}
}

// slips are the usual slips that would explain a run, the likeliest first.
func (b *Ground) slips(s *State, m *MillState) []slip {
	var list []slip
	try := func(c Ground, x slip) {
		f := c.flow(*m)
		in, usual := f.input.mass(), m.charge()
		off := math.Abs(f.rest) > nowhere*in+atLeast || -f.rest > s.tolerance(in, c.weighings())+m.drift
		if off || c.Charge > c.loosely(s, m.Mill) || c.Charge > b.Charge && len(s.moreThanLot(b.From, c.Charge, x.field)) > 0 {
			return
		}
		if usual > 0 {
			x.unlikely += math.Abs(math.Log(c.Charge / usual))
		}
		if c.Product != nil && *c.Product > 0 {
			x.unlikely += math.Abs(math.Log(*c.Product / c.Charge / m.usual.yield()))
		}
		if x.unlikely < wrongSlip {
			list = append(list, x)
		}
	}
	if b.Product != nil {
		c := *b
		c.Charge, c.Product = *b.Product, known(b.Charge)
		try(c, slip{"product_kg", "charge_kg", b.Charge, swappedSlip})
	}
	for _, by := range pointSlips {
		c := *b
		c.Charge *= by
		try(c, slip{"charge_kg", "", c.Charge, typedSlip})
		for _, x := range []struct {
			field string
			from  *float64
			into  func(*Ground, *float64)
		}{
			{"product_kg", b.Product, func(c *Ground, v *float64) { c.Product = v }},
			{"left_kg", b.Left, func(c *Ground, v *float64) { c.Left = v }},
			{"swept_kg", b.Swept, func(c *Ground, v *float64) { c.Swept = v }},
		} {
			if x.from != nil && *x.from > 0 {
				c := *b
				x.into(&c, known(*x.from*by))
				try(c, slip{x.field, "", *x.from * by, typedSlip})
			}
		}
	}
	slices.SortStableFunc(list, func(x, y slip) int { return cmp.Compare(x.unlikely, y.unlikely) })
	return list
}

// said is what a run says of a mass.
func (b *Ground) said(field string) float64 {
	switch field {
	case "product_kg":
		return value(b.Product)
	case "left_kg":
		return value(b.Left)
	case "swept_kg":
		return value(b.Swept)
	}
	return b.Charge
}

// asked is the record because of which nobody knows what lies in the mill: its
// masses are asked about, and what was left was not weighed since. 0 for none.
func (m *MillState) asked(s *State) RecordID {
	if m.lost != 0 && s.pending(m.lost) {
		return m.lost
	}
	return 0
}

// levelAsk asks about a level that the controller does not have.
func (b *Ground) levelAsk(m Mill) (Ask, bool) {
	a := Ask{Code: LevelOverLast, Field: "level", Kind: quantity.Count}
	if b.Level == nil || m.Controller != nil && *b.Level <= m.Controller.Levels {
		return a, false
	}
	a.Value = float64(*b.Level)
	if m.Controller != nil {
		a.Bound = float64(m.Controller.Levels)
		if low := *b.Level / 10; *b.Level%10 == 0 && low >= 1 && low <= m.Controller.Levels {
			a.Meant = known(float64(low))
		}
	}
	return a, true
}
