package shop

import "fmt"

// Ground is one run of a mill on one charge.
//
// Charge and what earlier runs left mix in the mill; product, sweepings and
// what is left are taken to be of that mixture. A product that was not weighed
// stays booked in the mill until its lot is weighed or a later run into the
// same lot tells. Where what was left was not weighed, it is taken to be no
// more than was left before; the rest is lost in grinding.
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
	Hole         *float64 `json:"hole_m,omitempty"` // screen in use, when not the mill's
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

// densestCharge is more than a charge can weigh for each volume of chamber: solid
// plastic of 1300 kg/m³, above the usual printing polymers (common practice, no
// source), filling 0.64 of the space as shaken spheres do (from memory). Pieces
// of prints pack far looser, so only a slip is caught.
const densestCharge = 1300 * 0.64 // kg/m³

func (b *Ground) check(s *State, _ Record) error {
	i, err := s.millNamed(b.Mill, "mill")
	if err != nil {
		return err
	}
	m := s.Mills[i]
	from, err := s.lotNamed(b.From, "from")
	if err != nil {
		return err
	}
	if err := b.fits(m.Mill); err != nil {
		return err
	}
	if err := s.enough(from, b.Charge, "charge_kg", "The charge"); err != nil {
		return err
	}
	flow := b.flow(m)
	if err := s.joins(b.Into, Regrind, from.Polymer, "into", b.From); err != nil {
		return err
	}
	for _, p := range flow.input {
		if err := s.joins(b.Into, Regrind, "", "into", p.lot); err != nil {
			err.Hint = "The mill still holds some of lot " + string(p.lot) + ": " + err.Hint
			return err
		}
	}
	return b.closes(s, flow)
}

// fits says whether the charge and the setting are possible in that mill.
func (b *Ground) fits(m Mill) error {
	if m.Chamber != nil && b.Charge > *m.Chamber*densestCharge {
		return invalid("charge_kg", fmt.Sprintf("A charge of %s does not fit the chamber of %s: packed as densely as can be it holds %s.",
			grams(b.Charge), volume(*m.Chamber), grams(*m.Chamber*densestCharge)), "Check the charge and the mill's chamber.")
	}
	switch {
	case b.Level == nil:
	case m.Controller == nil:
		return invalid("level", fmt.Sprintf("The mill %s has no controller, so there is no level %d.", m.Name, *b.Level),
			"Leave the level empty, or describe the controller first.")
	case *b.Level > m.Controller.Levels:
		return invalid("level", fmt.Sprintf("Level %d is outside the controller's levels 1 to %d.", *b.Level, m.Controller.Levels), "")
	}
	return nil
}

// milled is how the mass of one run parts.
type milled struct {
	input   mix     // charge, what was left before, and what waits to be weighed with it
	before  float64 // of it: not the charge [kg]
	product float64
	swept   float64
	left    float64 // stays as residue
	rest    float64 // waits to be weighed, or is lost; negative: weighing difference
}

// flow reckons input = product + left + swept + rest.
func (b *Ground) flow(m MillState) milled {
	f := milled{swept: value(b.Swept)}
	residue := m.residue.mass()
	before := m.residue
	if w := m.waitingFor(b.Into); b.Product != nil && w >= 0 {
		before = before.plus(m.waiting[w].mix)
	}
	f.input, f.before = before.plus(mix{{b.From, b.Charge}}), before.mass()
	f.rest = f.input.mass() - f.swept
	switch {
	case b.Left != nil:
		f.left = *b.Left
	case b.Product != nil:
		f.left = max(0, min(residue, f.rest-*b.Product))
	}
	f.product = value(b.Product)
	f.rest -= f.left + f.product
	return f
}

// closes refuses a run out of which more came than went in.
func (b *Ground) closes(s *State, f milled) error {
	in := f.input.mass()
	weighings, field, what := 1.0, "product_kg", "The product "+grams(f.product)
	for _, w := range []struct {
		p     *float64
		field string
		words string
	}{{b.Left, "left_kg", "left in the mill"}, {b.Swept, "swept_kg", "swept up"}} {
		if w.p != nil {
			weighings++
			what += fmt.Sprintf(" with %s %s", grams(*w.p), w.words)
			if b.Product == nil {
				field = w.field
			}
		}
	}
	if b.Product != nil {
		weighings++
	}
	if -f.rest <= weighings*2*s.Resolution(in)+slack*in {
		return nil
	}
	return conflict(field, fmt.Sprintf("%s is heavier than the charge %s and %s held in the mill before.",
		what, grams(b.Charge), grams(f.before)),
		"Check the tare. If material was left in the mill by an earlier run, correct that run first.")
}

func (b *Ground) apply(s *State, r Record) {
	i := s.millIndex(b.Mill)
	m := s.Mills[i]
	from := *s.Lots[b.From]
	f := b.flow(m)
	s.take(r, b.From, b.Charge)
	s.put(r, b.Into, f.product, Lot{Polymer: from.Polymer, Sure: from.Sure, Colour: from.Colour, RGB: from.RGB,
		Halogen: from.Halogen, Metal: from.Metal})
	for _, p := range f.input.scaled(f.product) {
		s.tint(b.Into, *s.Lots[p.lot])
		s.link(r, p.lot, b.Into, p.mass)
	}
	s.lose(r, SweptUp, b.From, f.swept)
	if f.left > 0 {
		m.HeldOf = b.From
	}
	m.residue = f.input.scaled(f.left)
	if b.Product != nil {
		m.forget(b.Into)
		s.lose(r, restName(f.rest), b.From, f.rest)
	} else if f.rest > 0 {
		m.wait(b.Into, f.input.scaled(f.rest))
		m.HeldOf = b.From
	} else {
		s.lose(r, Difference, b.From, f.rest)
	}
	m.Ground += b.Charge
	m.Runs = append(m.Runs, r.ID)
	m.tally()
	s.Mills[i] = m
}

// restName names what a run did not account for.
func restName(rest float64) string {
	if rest < 0 {
		return Difference
	}
	return LostGrinding
}
