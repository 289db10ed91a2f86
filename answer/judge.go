package answer

// FinesLimit is the size below which grains are dust for a screw: taken off
// before printing. Judgement.
const FinesLimit = 0.0005

// Ninety is the standard normal quantile of 90 %: ranges are 10–90 %.
const Ninety = 1.2815515655446004

// What is taken where nobody said.
const (
	Seed     = 20     // any fixed number: the same question gives the same answer
	Room     = 295.15 // K
	Humidity = 0.5    // of the room's air
)
