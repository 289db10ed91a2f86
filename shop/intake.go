package shop

// TakenIn brings material in from outside: a bin of scrap, a bag of virgin.
// Taken into a lot that is there already, it adds to it.
type TakenIn struct {
	Lot     LotID    `json:"lot,omitempty"` // empty: the next free label of the class
	Class   Class    `json:"class"`
	Name    string   `json:"name,omitempty"`
	Polymer string   `json:"polymer,omitempty"`
	Sure    *float64 `json:"sure,omitempty"`
	Colour  string   `json:"colour,omitempty"`
	RGB     string   `json:"rgb,omitempty"`
	Halogen YesNo    `json:"halogen,omitempty"`
	Pieces  Pieces   `json:"pieces"`
	Metal   string   `json:"metal,omitempty"`
	Mass    float64  `json:"mass_kg"`
	Price   *float64 `json:"price,omitempty"` // paid for all of it
}

// Kind is "taken_in".
func (*TakenIn) Kind() string { return "taken_in" }

func (b *TakenIn) labels() []LotID { return []LotID{b.Lot} }

func (b *TakenIn) relabelled(old Body, next func(Class) LotID) Body {
	c := *b
	if o, ok := old.(*TakenIn); ok && c.Lot == "" && o.Lot.Class() == c.Class {
		c.Lot = o.Lot
	}
	if c.Lot == "" && letters[c.Class] != 0 {
		c.Lot = next(c.Class)
	}
	return &c
}

func (b *TakenIn) check(s *State, _ Record) error {
	if err := checkRGB(b.RGB, "rgb"); err != nil {
		return err
	}
	if err := b.Pieces.check("pieces."); err != nil {
		return err
	}
	if err := s.joins(b.Lot, b.Class, b.Polymer, "lot"); err != nil {
		return err
	}
	return s.keptForPrints(b.Lot, "lot")
}

func (b *TakenIn) apply(s *State, r Record) {
	like := Lot{Name: b.Name, Polymer: b.Polymer, Sure: b.Sure, Colour: b.Colour, RGB: b.RGB,
		Halogen: b.Halogen, Pieces: b.Pieces, Metal: b.Metal}
	if l, ok := s.Lot(b.Lot); ok {
		like = l.unsaid(like)
	}
	s.put(r, b.Lot, b.Mass, like)
	s.came += b.Mass
}

// Discarded throws material away.
type Discarded struct {
	Lot  LotID   `json:"lot"`
	Mass float64 `json:"mass_kg"`
	Why  string  `json:"why" text:"2000"`
}

// Kind is "discarded".
func (*Discarded) Kind() string { return "discarded" }

func (b *Discarded) check(s *State, _ Record) error {
	_, err := s.lotNamed(b.Lot, "lot")
	return err
}

func (b *Discarded) apply(s *State, r Record) {
	s.take(r, b.Lot, b.Mass)
	s.lose(r, ThrownAway, b.Lot, b.Mass)
}
