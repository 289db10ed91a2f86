package shop

// What must not be ground, dried, warmed or melted: one rule, asked before
// anything else is answered.

import (
	"slices"
	"strings"

	"hopperful/fact"
	"hopperful/polymer"
)

// BarCode says why material is barred.
type BarCode string

// The reasons, the gravest first.
const (
	BarHalogen BarCode = "halogen" // chlorine or another halogen is suspected in the lot
	BarPlastic BarCode = "plastic" // the plastic itself must not be heated
	BarUnknown BarCode = "unknown" // nobody knows what plastic it is
)

// Bar says that something must not be ground, dried, warmed or melted. Where
// there is one, nothing else is answered.
type Bar struct {
	Code    BarCode
	Lot     LotID  // empty: a plastic that is no lot
	Polymer string // as the table writes it
}

// Bar is what keeps the lot from mill, dryer and printer, nil where nothing does.
func (l *Lot) Bar() *Bar {
	b := BarOf(l.Polymer)
	if l.Suspected() && (b == nil || b.Code != BarPlastic) {
		b = &Bar{Code: BarHalogen, Polymer: l.Polymer}
	}
	if b != nil {
		b.Lot = l.ID
	}
	return b
}

// BarOf is what keeps a plastic from mill, dryer and printer; an empty name is a
// plastic nobody knows. A name of the shop's own is taken at its word.
func BarOf(plastic string) *Bar {
	if strings.TrimSpace(plastic) == "" {
		return &Bar{Code: BarUnknown, Polymer: polymer.Unknown}
	}
	p, err := polymer.Find(plastic)
	if err != nil {
		return nil
	}
	if _, refused := p.Refused(); refused {
		return &Bar{Code: BarPlastic, Polymer: p.Name}
	}
	if p.Name == polymer.Unknown {
		return &Bar{Code: BarUnknown, Polymer: p.Name}
	}
	return nil
}

// Plastics are the plastics in stock that nothing bars, each once, in the order of
// their lots.
func (s *State) Plastics() []string {
	var all []string
	for _, l := range s.Stock("") {
		if l.Bar() == nil && !slices.Contains(all, l.Polymer) {
			all = append(all, l.Polymer)
		}
	}
	return all
}

// Suspected reports whether chlorine or a flame retardant is suspected in it.
func (l *Lot) Suspected() bool { return l.Halogen == Yes }

// Uncleared reports whether nobody has said that a lot of used plastic is free
// of chlorine and flame retardants.
func (l *Lot) Uncleared() bool { return l.Halogen == Unknown && l.Class != Virgin }

// Because is the reason as part of a sentence.
func (b *Bar) Because() fact.Saying {
	switch b.Code {
	case BarPlastic:
		return fact.Say("bar.because_plastic", fact.Name("plastic", b.Polymer))
	case BarUnknown:
		return fact.Say("bar.because_unknown")
	}
	return fact.Say("bar.because_halogen")
}

// Says is why the bar stands, and what to do with it.
func (b *Bar) Says() (why, instead fact.Saying) {
	instead = fact.Say("bar.hand_over")
	switch b.Code {
	case BarPlastic:
		return fact.Say("bar.plastic", fact.Name("plastic", b.Polymer)), instead
	case BarUnknown:
		return fact.Say("bar.unknown"), fact.Say("bar.find_out")
	}
	return fact.Say("bar.halogen"), instead
}

// Refusal is the bar as an answer to who asked for it by that field.
func (b *Bar) Refusal(field string) *Error {
	why, instead := b.Says()
	return Refuse(Invalid, field, why, instead)
}
