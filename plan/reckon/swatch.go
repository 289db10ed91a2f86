package reckon

// Colours as an answer shows them: a patch with its code, its name, its numbers.

import (
	"hopperful/process/colour"
)

// Swatch is one colour an answer speaks of.
type Swatch struct {
	Key   string     `json:"key"`
	Name  string     `json:"name"`  // what it is the colour of
	Word  string     `json:"word"`  // the colour in plain words
	RGB   string     `json:"rgb"`   // as a screen shows it
	Exact bool       `json:"exact"` // a screen can show it
	Lab   [3]float64 `json:"lab"`   // L*, a*, b* under daylight, two degrees
	Share float64    `json:"share,omitempty"`
}

// swatch adds a colour to the answer and returns how it looks.
func (r *reckoning) swatch(key, name string, c colour.Curve, share float64) (Swatch, error) {
	look, err := colour.LookOf(c)
	if err != nil {
		return Swatch{}, err
	}
	s := Swatch{Key: key, Name: name, Word: look.Name, Lab: [3]float64{look.Lab.L, look.Lab.A, look.Lab.B}, Share: share}
	s.RGB, s.Exact = look.Screen.Hex()
	r.out.Swatches = append(r.out.Swatches, s)
	return s, nil
}

// Shown is the colour in words with its code: "dark grey (#3f3a38)".
func (s Swatch) Shown() string { return s.Word + " (" + s.RGB + ")" }
