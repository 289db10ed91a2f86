package plan

// sureShare is the share of the draws that must keep a limit.
const sureShare = 0.9

// finesLimit is the size below which grains are dust for a screw: taken off
// before printing. Judgement.
const finesLimit = 0.0005

// ninety is the standard normal quantile of 90 %: ranges are 10–90 %.
const ninety = 1.2815515655446004

// What is taken where nobody said.
const (
	defaultSeed = 20     // any fixed number: the same question gives the same answer
	defaultRoom = 295.15 // K
)
