package screw

// Names of findings, for what the tests print.

import "fmt"

// String says the finding and what to do.
func (f Finding) String() string {
	wide, narrow := 1000*f.Wide, 1000*f.Narrow
	switch f.Fault {
	case GrainAboveChannel:
		return fmt.Sprintf("grains of %.2g mm do not enter a feed channel %.2g mm deep: grind through a finer screen", wide, narrow)
	case NozzleBelowScreen:
		return fmt.Sprintf("the nozzle of %.2g mm is narrower than the screen hole of %.2g mm: any hard bit the screen let pass can block it; sift finer or fit a larger nozzle", narrow, wide)
	case NozzleBelowGrain:
		return fmt.Sprintf("the nozzle of %.2g mm is narrower than the grains of %.2g mm: no harm once they are molten, but one that comes through unmelted blocks it; see that the barrel is long and hot enough", narrow, wide)
	case GrainFillsChannel:
		return fmt.Sprintf("grains of %.2g mm fill more than half of a feed channel %.2g mm deep: they may wedge; sift off the coarse ones", wide, narrow)
	case NozzleNearScreen:
		return fmt.Sprintf("the nozzle of %.2g mm is less than three screen holes of %.2g mm wide: a few hard bits together can bridge it", narrow, wide)
	}
	return string(f.Fault)
}
