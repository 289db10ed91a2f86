package shop

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"hopperful/fact"
	"hopperful/quantity"
)

// Sieved is a sieve analysis of a sample of a lot, coarsest sieve first. The
// sample goes back: nothing leaves the lot.
type Sieved struct {
	Lot       LotID     `json:"lot"`
	Run       RecordID  `json:"run,omitempty"` // the run of the mill it came out of; 0: not said
	Charge    float64   `json:"charge_kg"`     // put on the stack
	Series    Series    `json:"series"`
	Holes     Holes     `json:"holes"`
	Sieves    []OnSieve `json:"sieves"` // coarsest first
	Pan       float64   `json:"pan_kg"`
	PanTare   *float64  `json:"pan_tare_kg,omitempty"`
	Gross     bool      `json:"gross,omitempty"`    // masses are with the sieve, the pan with the pan
	Portions  int       `json:"portions,omitempty"` // the masses are of so many portions together; 0: one
	Hole      *float64  `json:"hole_m,omitempty"`   // of the mill's screen in use
	LongFound *int      `json:"long,omitempty"`     // grains longer than two screen holes; nil: nobody looked

	Photo *Photographed `json:"photo,omitempty"` // no sieve stood: the masses are reckoned from pictures
}

// Photographed says how grains were measured in pictures instead of on sieves.
type Photographed struct {
	Pictures  int     `json:"pictures"`
	Grains    int     `json:"grains"`                          // measured in them
	Effective float64 `json:"effective"`                       // so many grains of equal mass would tell as much
	Largest   float64 `json:"largest_share"`                   // of the mass, in one grain
	Shape     float64 `json:"shape"`                           // hole a grain falls through over its width, as assumed
	Spread    float64 `json:"spread"`                          // standard deviation of the logarithm of all sizes together
	Seen      float64 `json:"seen_m"`                          // finer grains are not seen
	Weighed   bool    `json:"weighed,omitempty"`               // the charge was weighed, not reckoned
	Card      bool    `json:"card,omitempty"`                  // a bank card gave the scale
	Struck    int     `json:"struck,omitempty"`                // grains struck out by hand
	Parted    int     `json:"parted,omitempty"`                // grains parted by hand
	Picture   string  `json:"picture,omitempty" text:"160000"` // JPEG with the outlines, in base64
}

// Kept is the picture kept with an analysis, as JPEG; nil where none was.
func (b *Sieved) Kept() []byte {
	if b.Photo == nil || b.Photo.Picture == "" {
		return nil
	}
	jpeg, err := base64.StdEncoding.DecodeString(b.Photo.Picture)
	if err != nil {
		return nil // refused when it was written down
	}
	return jpeg
}

// OnSieve is what one sieve kept back.
type OnSieve struct {
	Opening float64  `json:"opening_m"`
	Mass    float64  `json:"mass_kg"`
	Tare    *float64 `json:"tare_kg,omitempty"` // of the empty sieve
}

// Series names the standard a stack's openings are from.
type Series string

// The series. R 20/3 is the principal one of ISO 565, the other two supplement it.
const (
	R20x3   Series = "ISO 3310-1 R20/3"
	R40x3   Series = "ISO 3310-1 R40/3"
	R20     Series = "ISO 3310-1 R20"
	ASTME11 Series = "ASTM E11"
	OwnSet  Series = "own"
)

// Holes is the form of the openings of sieves.
type Holes string

// The forms.
const (
	WovenWire   Holes = "woven"
	RoundHoles  Holes = "round"
	SquareHoles Holes = "square"
)

// mostSieves bounds a stack, far above what one shaker carries. Judgement.
const mostSieves = 40

// absurdSum times the charge is more than any slip of the scale can find on the
// sieves: a tare was forgotten. Judgement.
const absurdSum = 2

// Kind is "sieved".
func (*Sieved) Kind() string { return "sieved" }

func (b *Sieved) check(s *State, _ Record) error {
	l, err := s.lotNamed(b.Lot, "lot")
	if err != nil {
		return err
	}
	if err := s.cameFrom(l, b.Run); err != nil {
		return err
	}
	if err := b.order(); err != nil {
		return err
	}
	if err := b.pictured(); err != nil {
		return err
	}
	if err := b.tared(); err != nil {
		return err
	}
	return b.adds()
}

// order refuses a stack that cannot stand like that.
func (b *Sieved) order() error {
	switch n := len(b.Sieves); {
	case n == 0:
		return invalid("sieves", fact.Say("shop.stack_without_sieve"), fact.Say("shop.do_enter_sieve_and_pan"))
	case n > mostSieves:
		return invalid("sieves", fact.Say("shop.too_many_sieves", fact.Count("n", n), fact.Count("most_sieves", mostSieves)), fact.Say("shop.do_two_stacks"))
	}
	for i, x := range b.Sieves[1:] {
		above, field := b.Sieves[i].Opening, fmt.Sprintf("sieves.%d.opening_m", i+1)
		switch {
		case x.Opening == above:
			return invalid(field, fact.Say("shop.sieve_twice", fact.Measured("opening", quantity.Length, x.Opening)), fact.Say("shop.do_enter_mass_once"))
		case x.Opening > above:
			return invalid(field, fact.Say("shop.sieve_under_finer", fact.Measured("opening", quantity.Length, x.Opening), fact.Measured("above", quantity.Length, above)),
				fact.Say("shop.do_coarsest_first"))
		}
	}
	return nil
}

// pictured refuses a picture that is none. Whether its grains make sense is a
// matter of the analysis.
func (b *Sieved) pictured() error {
	if b.Photo == nil || b.Photo.Picture == "" {
		return nil
	}
	if head, err := base64.StdEncoding.DecodeString(b.Photo.Picture); err != nil || !bytes.HasPrefix(head, []byte{0xff, 0xd8, 0xff}) {
		return invalid("photo.picture", fact.Say("shop.picture_not_jpeg"), fact.Say("shop.do_keep_without_picture"))
	}
	return nil
}

// tared refuses masses with the sieve that cannot be told from the sieve's own.
func (b *Sieved) tared() error {
	if !b.Gross {
		return nil
	}
	if b.Portions > 1 {
		return invalid("portions", fact.Say("shop.portions_with_sieve"),
			fact.Say("shop.do_tares_or_portions"))
	}
	for i, x := range b.Sieves {
		if err := netOf(x.Mass, x.Tare, fmt.Sprintf("sieves.%d.", i), fact.Say("shop.the_sieve_of", fact.Measured("opening", quantity.Length, x.Opening))); err != nil {
			return err
		}
	}
	return netOf(b.Pan, b.PanTare, "pan_", fact.Say("shop.the_pan"))
}

func netOf(gross float64, tare *float64, field string, which fact.Saying) error {
	what := fact.Parts("what", which)
	switch {
	case tare == nil:
		return invalid(field+"tare_kg", fact.Say("shop.weighed_full_only", what), fact.Say("shop.do_weigh_empty"))
	case *tare > gross && field == "pan_":
		return invalid("pan_kg", fact.Say("shop.weighs_less_full", what, fact.Weighed("gross", gross), fact.Weighed("tare", *tare)), fact.Say("shop.do_weigh_empty_again"))
	case *tare > gross:
		return invalid(field+"mass_kg", fact.Say("shop.weighs_less_full", what, fact.Weighed("gross", gross), fact.Weighed("tare", *tare)), fact.Say("shop.do_weigh_empty_again"))
	}
	return nil
}

// adds refuses a stack on which nothing was found, or far more than was put on.
// What is missing is information, not a fault.
func (b *Sieved) adds() error {
	sieves, pan := b.Net()
	sum := pan
	for _, m := range sieves {
		sum += m
	}
	switch {
	case sum == 0:
		return invalid("sieves", fact.Say("shop.stack_empty"), fact.Say("shop.do_enter_each_sieve"))
	case sum >= absurdSum*b.Charge:
		hint := fact.Say("shop.do_with_sieve_or_check")
		if b.Gross {
			hint = fact.Say("shop.do_check_tares_and_charge")
		}
		return conflict("sieves", fact.Say("shop.stack_over_charge", fact.Weighed("sum", sum), fact.Weighed("charge", b.Charge)), hint)
	}
	return nil
}

// Net is what each sieve and the pan kept back, without the sieves [kg].
func (b *Sieved) Net() (sieves []float64, pan float64) {
	sieves, pan = make([]float64, len(b.Sieves)), b.Pan
	for i, x := range b.Sieves {
		sieves[i] = x.Mass
		if b.Gross {
			sieves[i] -= value(x.Tare)
		}
	}
	if b.Gross {
		pan -= value(b.PanTare)
	}
	return sieves, pan
}

func (b *Sieved) apply(s *State, r Record) { s.change(b.Lot).note(r.ID) }

// Sievings are the size analyses of a lot, sieved or photographed, the newest first.
func (s *State) Sievings(id LotID) []Entry[*Sieved] {
	return ofLot(s, id, func(b *Sieved) bool { return b.Lot == id })
}
