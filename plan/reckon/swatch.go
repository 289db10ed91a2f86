package reckon

// Colours as an answer shows them: a patch with its code, its name, its numbers.

import (
	"hopperful/fact"
	"hopperful/process/colour"
)

// Swatch is one colour an answer speaks of.
type Swatch struct {
	Key   string
	Name  fact.Saying // what it is the colour of
	Word  string      // the colour in plain words, as package colour names it
	RGB   string      // as a screen shows it
	Exact bool        // a screen can show it
	Lab   [3]float64  // L*, a*, b* under daylight, two degrees
	Share float64     // 0: of nothing
}

// swatch adds a colour to the answer and returns how it looks.
func (r *reckoning) swatch(key string, name fact.Saying, c colour.Curve, share float64) (Swatch, error) {
	look, err := colour.LookOf(c)
	if err != nil {
		return Swatch{}, err
	}
	s := Swatch{Key: key, Name: name, Word: look.Name, Lab: [3]float64{look.Lab.L, look.Lab.A, look.Lab.B}, Share: share}
	s.RGB, s.Exact = look.Screen.Hex()
	r.out.Swatches = append(r.out.Swatches, s)
	return s, nil
}

// Shade is the code of the colour in words.
func (s Swatch) Shade() string { return fact.TermCode("shade", s.Word) }

// Numbers are its L*, a* and b*.
func (s Swatch) Numbers() fact.Saying {
	return fact.Say("reckon.lab", fact.Count("l", round(s.Lab[0])), fact.Count("a", round(s.Lab[1])), fact.Count("b", round(s.Lab[2])))
}

// fact is the colour in words with its code: "dark grey (#3f3a38)".
func (s Swatch) fact(name string) fact.Fact {
	return fact.Parts(name, fact.Say("reckon.shade", fact.Word("word", s.Shade()), fact.Name("code", s.RGB)))
}
