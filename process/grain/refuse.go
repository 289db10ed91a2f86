package grain

import "fmt"

// Code says why a picture cannot be measured. Edges have the sentence and the
// remedy.
type Code string

// The reasons.
const (
	Covered    Code = "covered"     // a heap or a bed: grains lie on grains
	Faint      Code = "faint"       // grains hardly differ from the ground
	Noisy      Code = "noisy"       // they do, but noise is as large
	TooFine    Code = "too_fine"    // too few pixels a grain
	Unscaled   Code = "unscaled"    // neither marks nor a card
	Blurred    Code = "blurred"     // out of focus or shaken
	WideAngle  Code = "wide_angle"  // the marks lie in no plane: lens, or a bent sheet
	Tilted     Code = "tilted"      // seen too much from the side
	NoGrains   Code = "no_grains"   // nothing lies there
	TooLarge   Code = "too_large"   // more than is worth reading
	TooSmall   Code = "too_small"   // a thumbnail
	NotRead    Code = "not_read"    // no picture, or a broken one
	OtherScale Code = "other_scale" // the line measured is not the line printed
)

// Refusal is a picture that cannot be measured.
type Refusal struct {
	Code  Code
	Value float64 // what was found, in Unit
	Limit float64 // what it may be
	Unit  string  // SI unit symbol, "px" for pixels, "" for a share or number
}

// Error is for programmers; edges word the code.
func (e *Refusal) Error() string {
	return fmt.Sprintf("picture refused: %s: %.3g against %.3g %s", e.Code, e.Value, e.Limit, e.Unit)
}

func refuse(c Code, value, limit float64, unit string) error {
	return &Refusal{c, value, limit, unit}
}

// What is refused, and from where on it is told. The limits of cover, contrast
// and pixels are those at which the rendered pictures of the tests go wrong; see
// docs/models/grain.md.
const (
	MostCover   = 0.25 // share of the field under grains
	MuchCover   = 0.20
	LittleCover = 0.01
	LeastFaint  = 0.12 // difference of grain and ground, of full scale
	LeastClear  = 4.0  // the same, in standard deviations of the noise
	LeastPixels = 8.0  // width of the grain at half the mass, and of grains told apart
	GoodPixels  = 13.0 // from here on d50 is within 3 %
	MostBlur    = 0.15 // standard deviation of the edges' blur, of the width at half the mass
	MuchBlur    = 0.11
	LargestMass = 0.03 // share of the mass in one grain above which d90 is not told
)
