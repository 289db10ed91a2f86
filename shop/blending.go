package shop

import (
	"fmt"
	"hopperful/fact"
)

// Blended mixes material out of several lots into one.
type Blended struct {
	From    []Portion `json:"from"`
	Into    LotID     `json:"into,omitempty"` // empty: a new blend
	Name    string    `json:"name,omitempty"`
	Polymer string    `json:"polymer,omitempty"` // empty: that of the lots, if they agree
	Colour  string    `json:"colour,omitempty"`
	RGB     string    `json:"rgb,omitempty"`
}

// Portion is what one lot gives to a blend.
type Portion struct {
	Lot  LotID   `json:"lot"`
	Mass float64 `json:"mass_kg"`
}

// Kind is "blended".
func (*Blended) Kind() string { return "blended" }

func (b *Blended) labels() []LotID { return []LotID{b.Into} }

func (b *Blended) relabelled(old Body, next func(Class) LotID) Body {
	c := *b
	if o, ok := old.(*Blended); ok && c.Into == "" {
		c.Into = o.Into
	}
	if c.Into == "" {
		c.Into = next(Blend)
	}
	return &c
}

func (b *Blended) check(s *State, _ Record) error {
	if len(b.From) == 0 {
		return invalid("from", fact.Say("shop.blend_of_nothing"), fact.Say("shop.do_name_lots"))
	}
	seen := map[LotID]bool{}
	for i, p := range b.From {
		field := fmt.Sprintf("from.%d.", i)
		if _, err := s.lotNamed(p.Lot, field+"lot"); err != nil {
			return err
		}
		if seen[p.Lot] {
			return invalid(field+"lot", fact.Say("shop.lot_twice", fact.Name("lot", string(p.Lot))), fact.Say("shop.add_its_masses"))
		}
		seen[p.Lot] = true
		if err := s.joins(b.Into, Blend, b.like(s).Polymer, "into", p.Lot); err != nil {
			return err
		}
	}
	return checkRGB(b.RGB, "rgb")
}

// like is what the blend is: what was said of it, else what its lots agree on.
func (b *Blended) like(s *State) Lot {
	var like Lot
	for i, p := range b.From {
		l, ok := s.Lot(p.Lot)
		switch {
		case !ok: // check says so
		case i == 0:
			like = *l
		default:
			like.mixWith(*l)
		}
	}
	like.Name = b.Name
	if b.Polymer != "" {
		like.Polymer, like.Sure = b.Polymer, nil
	}
	if b.Colour != "" {
		like.Colour, like.RGB = b.Colour, b.RGB
	}
	return like
}

func (b *Blended) apply(s *State, r Record) {
	like := b.like(s)
	for _, p := range b.From {
		s.take(r, p.Lot, p.Mass)
		s.put(r, b.Into, p.Mass, like)
		s.link(r, p.Lot, b.Into, p.Mass)
	}
}
