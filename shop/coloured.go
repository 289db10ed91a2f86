package shop

import (
	"errors"
	"fmt"
	"math"

	"hopperful/fact"
	"hopperful/process"
	"hopperful/process/colour"
)

// Coloured is the colour of a lot as somebody took it: exactly one of a screen
// colour, L*a*b* and a curve of reflectance. The newest holds for the lot, as
// long as nothing of another colour comes into it.
type Coloured struct {
	Lot   LotID       `json:"lot"`
	How   ColourWay   `json:"how"`
	RGB   string      `json:"rgb,omitempty"`   // "#1c1c1c"
	Lab   *TakenLab   `json:"lab,omitempty"`   // as an instrument shows it
	Curve []TakenBand `json:"curve,omitempty"` // rising wavelengths
	// Melted says whether what was looked at had been melted into one: a pressed
	// chip, a strand. Unknown: prints were, granulate and scrap were not.
	Melted YesNo `json:"melted,omitempty"`
}

// ColourWay is how a colour was taken.
type ColourWay string

// The ways.
const (
	CardPhoto  ColourWay = "photo beside a white card"
	Instrument ColourWay = "instrument"
	ByEye      ColourWay = "by eye on a screen"
)

// TakenLab is L*a*b* under daylight D65.
type TakenLab struct {
	L        float64 `json:"l"`
	A        float64 `json:"a"`
	B        float64 `json:"b"`
	Observer int     `json:"observer"` // 2 or 10 degrees
}

// TakenBand is the light sent back at one wavelength.
type TakenBand struct {
	Wavelength float64 `json:"wavelength_m"`
	Light      float64 `json:"reflectance"`
}

// Kind is "coloured".
func (*Coloured) Kind() string { return "coloured" }

func (b *Coloured) check(s *State, _ Record) error {
	if _, err := s.lotNamed(b.Lot, "lot"); err != nil {
		return err
	}
	given := 0
	for _, has := range []bool{b.RGB != "", b.Lab != nil, len(b.Curve) > 0} {
		if has {
			given++
		}
	}
	three := fact.Say("shop.do_one_colour")
	switch {
	case given == 0:
		return invalid("rgb", fact.Say("shop.record_without_colour"), three)
	case given > 1:
		return invalid("rgb", fact.Say("shop.record_two_colours"), three)
	case b.RGB == "" && b.How != Instrument:
		return invalid("how", fact.Say("shop.instrument_only"), fact.Say("shop.do_colour_code_by_eye"))
	}
	if err := checkRGB(b.RGB, "rgb"); err != nil {
		return err
	}
	if b.Lab != nil && b.Lab.Observer != 2 && b.Lab.Observer != 10 {
		return invalid("lab.observer", fact.Say("shop.no_observer", fact.Count("observer", b.Lab.Observer)), fact.Say("shop.do_observers"))
	}
	return b.seen()
}

// seen refuses what no surface can look like. Every screen colour has a curve; working that out for
// each record whenever a shop is opened would be a good part of opening it.
func (b *Coloured) seen() error {
	if b.RGB != "" {
		return nil
	}
	_, _, err := b.Reflectance()
	var no *colour.GuessError
	var out *process.RangeError
	switch {
	case err == nil:
		return nil
	case errors.As(err, &no):
		return invalid("lab", fact.Say("shop.no_such_surface", fact.Name("l", fmt.Sprintf("%.1f", b.Lab.L)), fact.Name("a", fmt.Sprintf("%.1f", b.Lab.A)), fact.Name("b", fmt.Sprintf("%.1f", b.Lab.B))),
			fact.Say("shop.do_check_signs"))
	case len(b.Curve) > 0 && errors.As(err, &out):
		return invalid("curve", b.badCurve(), fact.Say("shop.do_curve_bands"))
	}
	return invalid("rgb", fact.Say("shop.colour_unread", fact.Name("error", err.Error())), fact.Saying{})
}

// badCurve says what is wrong with the bands of a curve.
func (b *Coloured) badCurve() fact.Saying {
	nm := func(x TakenBand) float64 { return math.Round(x.Wavelength * 1e9) }
	first, last := b.Curve[0], b.Curve[len(b.Curve)-1]
	for i, x := range b.Curve[1:] {
		switch gap := nm(x) - nm(b.Curve[i]); {
		case gap <= 0:
			return fact.Say("shop.curve_range", fact.Name("curve", fmt.Sprint(nm(b.Curve[i]))), fact.Name("nm", fmt.Sprint(nm(x))))
		case gap > 20:
			return fact.Say("shop.curve_gap", fact.Name("curve", fmt.Sprint(nm(b.Curve[i]))), fact.Name("nm", fmt.Sprint(nm(x))))
		}
	}
	return fact.Say("shop.curve_bands", fact.Count("n", len(b.Curve)), fact.Name("first", fmt.Sprint(nm(first))), fact.Name("last", fmt.Sprint(nm(last))))
}

// Reflectance is the colour as a curve: as measured, else the smoothest that
// looks like it. lifted says that a part is darker or whiter than a photo can
// tell.
func (b *Coloured) Reflectance() (c colour.Curve, lifted bool, err error) {
	switch {
	case len(b.Curve) > 0:
		var at, light []float64
		for _, x := range b.Curve {
			at, light = append(at, x.Wavelength), append(light, x.Light)
		}
		c, err = colour.Resampled(at, light)
		return c, false, err
	case b.Lab != nil:
		c, err = colour.FromInstrument(colour.Lab{L: b.Lab.L, A: b.Lab.A, B: b.Lab.B}, colour.Observer(b.Lab.Observer))
		return c, false, err
	}
	rgb, err := colour.ParseHex(b.RGB)
	if err != nil {
		return c, false, err
	}
	c, edges, err := colour.FromPhoto(rgb)
	return c, edges > 0, err
}

// OfMelt says whether it is the colour of the melt, in which the parts of a mix
// share the light, and not that of grains side by side.
func (b *Coloured) OfMelt() bool {
	return b.Melted == Yes || b.Melted == Unknown && b.Lot.Class() == Print
}

func (b *Coloured) apply(s *State, r Record) {
	l := s.change(b.Lot)
	l.note(r.ID)
	l.Taken, l.TakenBy = b, r.ID
}

// ColoursTaken are the colours taken of a lot, the newest first, also those
// that no longer hold.
func (s *State) ColoursTaken(id LotID) []Entry[*Coloured] {
	return ofLot(s, id, func(b *Coloured) bool { return b.Lot == id })
}

// tint forgets the colour taken of a lot when material comes in that is not
// known to be of the same colour.
func (s *State) tint(id LotID, more Lot) {
	l, ok := s.Lot(id)
	if !ok || l.Taken == nil || more.ID == id || sameColour(*l, more) {
		return
	}
	s.untaken(id)
}

// untaken forgets the colour taken of a lot.
func (s *State) untaken(id LotID) {
	l := s.change(id)
	l.Taken, l.TakenBy = nil, 0
}

// sameColour says whether two lots are said to be of one colour; two of which
// nothing is said are not.
func sameColour(a, b Lot) bool {
	return a.Colour == b.Colour && a.RGB == b.RGB && a.Colour+a.RGB != ""
}
