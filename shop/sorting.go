package shop

import (
	"fmt"
	"hopperful/fact"
)

// Sorted splits a lot: by polymer, by colour, or metal cut out. Heaps, metal
// and waste leave the lot; what is not mentioned stays in it. Heaps are of the
// lot's own class, but prints become scrap again.
type Sorted struct {
	From  LotID    `json:"from"`
	Into  []Part   `json:"into"`
	Metal *float64 `json:"metal_kg,omitempty"` // inserts, screws, tape cut out
	Waste *float64 `json:"waste_kg,omitempty"` // thrown away
}

// Part is one heap a lot was sorted into. What it does not say is as in the
// lot it came from.
type Part struct {
	Lot     LotID    `json:"lot,omitempty"` // empty: a new lot
	Name    string   `json:"name,omitempty"`
	Polymer string   `json:"polymer,omitempty"`
	Sure    *float64 `json:"sure,omitempty"`
	Colour  string   `json:"colour,omitempty"`
	RGB     string   `json:"rgb,omitempty"`
	Halogen YesNo    `json:"halogen,omitempty"` // suspected halogenated; "no" clears nothing
	Pieces  Pieces   `json:"pieces"`
	Mass    float64  `json:"mass_kg"`
}

// Kind is "sorted".
func (*Sorted) Kind() string { return "sorted" }

func (b *Sorted) labels() []LotID {
	ids := make([]LotID, len(b.Into))
	for i, p := range b.Into {
		ids[i] = p.Lot
	}
	return ids
}

func (b *Sorted) relabelled(old Body, next func(Class) LotID) Body {
	c := *b
	o, _ := old.(*Sorted)
	c.Into = append([]Part(nil), b.Into...)
	for i := range c.Into {
		switch class := heapClass(b.From.Class(), ""); {
		case c.Into[i].Lot != "":
		case o != nil && i < len(o.Into) && o.Into[i].Lot.Class() == heapClass(b.From.Class(), o.Into[i].Lot):
			c.Into[i].Lot = o.Into[i].Lot
		case class != "":
			c.Into[i].Lot = next(class)
		}
	}
	return &c
}

// heapClass is the class of a heap sorted out of a lot: the lot's own, but scrap
// for prints unless the heap's label says that they stay prints.
func heapClass(from Class, heap LotID) Class {
	if from == Print && heap.Class() != Print {
		return Scrap
	}
	return from
}

func (b *Sorted) total() float64 {
	sum := value(b.Metal) + value(b.Waste)
	for _, p := range b.Into {
		sum += p.Mass
	}
	return sum
}

func (b *Sorted) check(s *State, _ Record) error {
	from, err := s.lotNamed(b.From, "from")
	if err != nil {
		return err
	}
	if b.total() == 0 {
		return invalid("into", fact.Say("shop.nothing_sorted", fact.Name("from", string(b.From))), fact.Say("shop.do_add_heap"))
	}
	seen := map[LotID]bool{}
	for i, p := range b.Into {
		path := fmt.Sprintf("into.%d.", i)
		if seen[p.Lot] {
			return invalid(path+"lot", fact.Say("shop.two_heaps_one_lot", fact.Name("lot", string(p.Lot))), fact.Say("shop.do_weigh_together"))
		}
		seen[p.Lot] = true
		if err := checkRGB(p.RGB, path+"rgb"); err != nil {
			return err
		}
		if err := p.Pieces.check(path + "pieces."); err != nil {
			return err
		}
		if p.Halogen == No && from.Suspected() {
			_, instead := from.Bar().Says()
			return invalid(path+"halogen", fact.Say("shop.sorting_keeps_chlorine", fact.Name("from", string(b.From))), fact.Say("shop.where_a_slip", fact.Parts("instead", instead)))
		}
		if err := s.joins(p.Lot, heapClass(from.Class, p.Lot), b.like(*from, p).Polymer, path+"lot", b.From); err != nil {
			return err
		}
		if err := s.keptForPrints(p.Lot, path+"lot"); err != nil {
			return err
		}
	}
	return nil
}

// like is what a heap is: what was said of it, else as the lot it came from.
func (b *Sorted) like(from Lot, p Part) Lot {
	l := Lot{Name: p.Name, Polymer: p.Polymer, Sure: p.Sure, Colour: p.Colour, RGB: p.RGB, Pieces: p.Pieces, Halogen: from.Halogen}
	if p.Polymer == "" {
		l.Polymer, l.Sure = from.Polymer, from.Sure
	}
	if p.Colour == "" {
		l.Colour, l.RGB = from.Colour, from.RGB
	}
	if p.Halogen != Unknown {
		l.Halogen = p.Halogen
	}
	if p.Pieces == (Pieces{}) {
		l.Pieces = from.Pieces
	}
	if value(b.Metal) == 0 {
		l.Metal = from.Metal
	}
	return l
}

func (b *Sorted) apply(s *State, r Record) {
	from := *s.Lots.At(b.From)
	s.take(r, b.From, b.total())
	for _, p := range b.Into {
		s.put(r, p.Lot, p.Mass, b.like(from, p))
		s.link(r, b.From, p.Lot, p.Mass)
		if p.Colour != "" && p.Colour != from.Colour { // what stays is not what it was
			s.untaken(b.From)
		}
	}
	s.lose(r, MetalCut, b.From, value(b.Metal))
	s.lose(r, ThrownAway, b.From, value(b.Waste))
}

// value is what a pointer holds, 0 for unknown.
func value(p *float64) float64 {
	if p == nil {
		return 0
	}
	return *p
}
