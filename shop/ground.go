package shop

import (
	"hopperful/fact"
	"hopperful/quantity"
	"math"
)

// Ground is one run of a mill on one charge.
//
// Charge and what earlier runs left mix in the mill; product, sweepings and
// what is left are taken to be of that mixture. A product that was not weighed
// stays booked in the mill until its lot is weighed or a later run into the
// same lot tells. What was left and not weighed is unknown: between nothing and
// all that did not come out. It is booked as no more than was left before, the
// rest as lost in grinding, until a later run brings it to light.
type Ground struct {
	Mill         string   `json:"mill"`
	From         LotID    `json:"from"`
	Into         LotID    `json:"into,omitempty"` // empty: a new regrind lot of the same polymer and colour
	Charge       float64  `json:"charge_kg"`
	Product      *float64 `json:"product_kg,omitempty"` // nil: not weighed
	Left         *float64 `json:"left_kg,omitempty"`    // stayed in the mill
	Swept        *float64 `json:"swept_kg,omitempty"`   // dust and spill gathered and thrown away
	Run          float64  `json:"run_s"`
	Level        *int     `json:"level,omitempty"` // of the controller
	ChargeBefore *float64 `json:"charge_before_k,omitempty"`
	ChargeAfter  *float64 `json:"charge_after_k,omitempty"`
	WallBefore   *float64 `json:"wall_before_k,omitempty"`
	WallAfter    *float64 `json:"wall_after_k,omitempty"`
	Room         *float64 `json:"room_k,omitempty"`
	RestBefore   *float64 `json:"rest_before_s,omitempty"` // since the last run's end
	Energy       *float64 `json:"energy_j,omitempty"`      // by the plug-in meter
	Stalled      bool     `json:"stalled,omitempty"`
	Emptied      bool     `json:"emptied,omitempty"` // before it, of what earlier charges had left
	Hole         *float64 `json:"hole_m,omitempty"`  // screen in use, when not the mill's
}

// Kind is "ground".
func (*Ground) Kind() string { return "ground" }

func (b *Ground) labels() []LotID { return []LotID{b.Into} }

func (b *Ground) relabelled(old Body, next func(Class) LotID) Body {
	c := *b
	if o, ok := old.(*Ground); ok && c.Into == "" {
		c.Into = o.Into
	}
	if c.Into == "" {
		c.Into = next(Regrind)
	}
	return &c
}

// densestFill is the share of a chamber that solid plastic can take up at the
// most: shaken spheres fill 0.64 of a space (RandomClosePack2026), pieces of
// prints far less. It may not be lowered: a record kept under it would no longer
// fold, and its shop no longer open.
const densestFill = 0.64

func (b *Ground) check(s *State, _ Record) error {
	i, err := s.millNamed(b.Mill)
	if err != nil {
		return err
	}
	m := s.Mills[i]
	from, err := s.lotNamed(b.From, "from")
	if err != nil {
		return err
	}
	if err := b.fits(s, m.Mill, from); err != nil {
		return err
	}
	flow := b.flow(m)
	if err := s.joins(b.Into, Regrind, from.Polymer, "into", b.From); err != nil {
		return err
	}
	for _, p := range flow.input {
		if err := s.joins(b.Into, Regrind, "", "into", p.lot); err != nil {
			err.Advice = fact.Say("shop.mill_still_holds", fact.Name("lot", string(p.lot)), fact.Parts("advice", err.Advice))
			return err
		}
	}
	return nil
}

// fits refuses a charge that no chamber of that size can hold.
func (b *Ground) fits(s *State, m Mill, from *Lot) error {
	if m.Chamber == nil {
		return nil
	}
	most := *m.Chamber * densestFill * s.solidDensity(from.Polymer)
	if b.Charge <= most {
		return nil
	}
	return invalid("charge_kg", fact.Say("shop.charge_over_chamber", fact.Weighed("charge", b.Charge), fact.Measured("chamber", quantity.Volume, *m.Chamber), fact.Weighed("most", most)),
		fact.Say("shop.do_check_charge_or_chamber"))
}

// milled is how the mass of one run parts.
type milled struct {
	input   mix     // charge, what was left before, and what waits to be weighed with it
	found   mix     // of it: counted as lost by earlier runs, and yet it lay in the mill
	lent    []lot   // of it: waits to be weighed in other lots, but stayed in the mill
	before  float64 // of it: not the charge [kg]
	product float64
	swept   float64
	left    float64 // stays as residue
	rest    float64 // waits to be weighed, or is lost; negative: weighing difference
}

// flow reckons input = product + left + swept + rest. What came out beyond the
// charge and what is booked in the mill is taken from what earlier runs may have
// left there: nobody weighed it, so it was counted as lost or as waiting.
func (b *Ground) flow(m MillState) milled {
	f := milled{swept: value(b.Swept), product: value(b.Product)}
	residue := m.residue.mass()
	before := m.residue
	if w := m.waitingFor(b.Into); b.Product != nil && w >= 0 {
		before = before.plus(m.waiting[w].mix)
	}
	f.input = before.plus(mix{{b.From, b.Charge}})
	if short := f.swept + f.product + value(b.Left) - f.input.mass(); short > 0 {
		hidden := m.maybe
		if w := m.waitingFor(b.Into); b.Product != nil && w >= 0 {
			hidden = hidden.plus(m.waiting[w].maybe)
		}
		f.found = hidden.scaled(min(short, hidden.mass()))
		short -= f.found.mass()
		before = before.plus(f.found)
		for _, w := range m.waiting {
			if w.into == b.Into || w.fresh <= 0 || short <= 0 {
				continue
			}
			part := lot{into: w.into, mix: w.mix.scaled(min(short, w.fresh, w.mix.mass()))}
			f.lent, before, short = append(f.lent, part), before.plus(part.mix), short-part.mix.mass()
		}
		f.input = before.plus(mix{{b.From, b.Charge}})
	}
	f.before = before.mass()
	f.rest = f.input.mass() - f.swept
	switch {
	case b.Left != nil:
		f.left = *b.Left
	case b.Product != nil:
		f.left = max(0, min(residue, f.rest-*b.Product))
	}
	f.rest -= f.left + f.product
	return f
}

func (b *Ground) apply(s *State, r Record) {
	i := s.millIndex(b.Mill)
	s.take(r, b.From, b.Charge)
	m, from := s.Mills[i], *s.Lots.At(b.From)
	f := b.flow(m)
	s.put(r, b.Into, f.product, Lot{Polymer: from.Polymer, Sure: from.Sure, Colour: from.Colour, RGB: from.RGB,
		Halogen: from.Halogen, Metal: from.Metal})
	for _, p := range f.input.scaled(f.product) {
		s.tint(b.Into, *s.Lots.At(p.lot))
		s.link(r, p.lot, b.Into, p.mass)
	}
	s.lose(r, SweptUp, b.From, f.swept)
	if f.left > 0 {
		m.HeldOf = b.From
	}
	m.settle(s, r, b, f)
	m.residue = f.input.scaled(f.left)
	if b.Product != nil {
		m.forget(b.Into)
		s.lose(r, restName(f.rest), b.From, f.rest)
	} else if f.rest > 0 {
		m.wait(b.Into, f.input.scaled(f.rest), b.Left == nil)
		m.HeldOf = b.From
	} else {
		s.lose(r, Difference, b.From, f.rest)
	}
	m.Ground += b.Charge
	m.Runs = append(m.Runs, r.ID)
	if b.Left != nil {
		m.lost = 0
	}
	if s.pending(r.ID) {
		m.lost = r.ID
	}
	m.ran(s, r, b)
	m.tally()
	s.Mills[i] = m
	s.charged(r, b, from.Polymer)
}

// settle keeps account of what may lie in the mill although it was counted as
// lost: it is found again, or a weighing of what was left says that it is not
// there.
func (m *MillState) settle(s *State, r Record, b *Ground, f milled) {
	for _, p := range f.found {
		s.lose(r, LostGrinding, p.lot, -p.mass)
	}
	for _, l := range f.lent {
		m.waiting[m.waitingFor(l.into)].give(l.mix.mass())
	}
	own := s.tolerance(f.input.mass(), b.weighings())
	m.drift = math.Hypot(m.drift, own)
	m.maybe = m.maybe.scaled(m.maybe.mass() - f.found.mass())
	if b.Left != nil {
		for w := range m.waiting {
			m.waiting[w].fresh = 0
		}
		if b.Product != nil {
			m.maybe, m.drift = nil, own
		} else if m.maybe.mass() > 0 { // it lies there no more, and what of it came out is not weighed yet
			m.wait(b.Into, nil, false)
			w := &m.waiting[m.waitingFor(b.Into)]
			w.maybe, m.maybe = w.maybe.plus(m.maybe).coarse(), nil
		}
		return
	}
	if b.Product != nil && f.rest > 0 {
		m.mayHold(f.input.scaled(f.rest))
	}
}

// mayHold adds to what may lie in the mill uncounted, which is never more than
// fits into the chamber. Where nobody knows the chamber it grows with every run, so
// the lots it is told by are bounded, see [mix.coarse].
func (m *MillState) mayHold(more mix) {
	m.maybe = m.maybe.plus(more).coarse()
	if most := m.roomFor(); m.maybe.mass() > most {
		m.maybe = m.maybe.scaled(most)
	}
}

// roomFor is the most that the chamber can hold of anything [kg]; without end
// when nobody knows its volume.
func (m *MillState) roomFor() float64 {
	if m.Chamber == nil {
		return math.Inf(1)
	}
	return *m.Chamber * densestFill * densestPlastic
}

// weighings is how many masses of the run were weighed.
func (b *Ground) weighings() float64 {
	n := 1.0
	for _, p := range []*float64{b.Product, b.Left, b.Swept} {
		if p != nil {
			n++
		}
	}
	return n
}

// tolerance is how far so many weighings of about a mass may miss a balance
// without anybody having misread [kg].
func (s *State) tolerance(mass, weighings float64) float64 {
	return weighings*2*s.Resolution(mass) + slack*mass
}

// restName names what a run did not account for.
func restName(rest float64) string {
	if rest < 0 {
		return Difference
	}
	return LostGrinding
}
