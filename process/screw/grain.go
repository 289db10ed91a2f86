package screw

// Grains, screen and nozzle: what does not go together, said plainly.

// Passage is what the material has to pass.
type Passage struct {
	Grain     float64 // size that 95 % of the granulate is finer than [m], 1e-5 to 0.1
	Hole      float64 // hole of the last screen it passed [m], 1e-5 to 0.1
	Bore      float64 // of the nozzle [m], 5e-5 to 0.05
	FeedDepth float64 // depth of the screw's feed channel [m], 1e-4 to 0.1
}

// Fault names a misfit.
type Fault string

// The faults, worst first.
const (
	GrainAboveChannel Fault = "grain above channel" // grains do not enter the screw
	NozzleBelowScreen Fault = "nozzle below screen" // what the screen passes can be wider than the nozzle
	NozzleBelowGrain  Fault = "nozzle below grain"  // a grain that comes through unmelted blocks it
	GrainFillsChannel Fault = "grain fills channel" // grains wedge between screw and barrel
	NozzleNearScreen  Fault = "nozzle near screen"  // two or three hard bits can bridge the nozzle
)

// Finding is one misfit and its measures.
type Finding struct {
	Fault  Fault
	Wide   float64 // what is too wide [m]
	Narrow float64 // for what [m]
	Stops  bool    // it will not run; else it may
}

// Depth of a small screw's feed channel over its bore [–], median and 10 to 90 %.
// Judgement: a deeper one leaves too thin a core.
const (
	UsualFeedDepth, LeastFeedDepth, MostFeedDepth = 0.2, 0.15, 0.26
)

// Throat is the grain a screw's feed takes [m].
type Throat struct {
	Runs   float64 // no grain wedges up to this
	Enters float64 // none enters above this
}

// FeedTakes returns the grain size that a screw takes.
//
//	depth  of the feed channel [m], 1e-4 to 0.1; unknown, a share of the bore, see UsualFeedDepth
//
// Equation: enters up to depth, runs up to depth/2.
// Holds for: compact grains; long ones go in end-on and wedge later.
// Source: common practice, no source.
// Errors: RangeError for an argument out of range.
// Checks: FeedTakes rows of checks.csv (1 common practice, 1 refusal).
func FeedTakes(depth float64) (Throat, error) {
	if err := within(limit{"depth of the feed channel", depth, 1e-4, 0.1, "m"}); err != nil {
		return Throat{}, err
	}
	return Throat{Runs: depth / 2, Enters: depth}, nil
}

// bridging is how many bits wide an opening must be that they do not bridge.
const bridging = 3

// Fits returns what does not go together between grains, screen, nozzle and
// screw, worst first; none where all do.
//
//	p  see its fields
//
// Equation: grain ≥ channel depth, or above half of it; nozzle < hole, or < grain, or < 3 holes.
// Holds for: grains that melt are no trouble to the nozzle; the screen hole bounds the hard bits that do not (metal, dirt, a plastic that melts later).
// Long chips pass a hole end-on and are longer than it.
// Source: common practice, no source.
// Errors: RangeError for a field out of range.
// Checks: Fits rows of checks.csv (5 common practice, 1 refusal).
func Fits(p Passage) ([]Finding, error) {
	if err := within(limit{"grain size", p.Grain, 1e-5, 0.1, "m"}, limit{"screen hole", p.Hole, 1e-5, 0.1, "m"},
		limit{"nozzle bore", p.Bore, 5e-5, 0.05, "m"}, limit{"depth of the feed channel", p.FeedDepth, 1e-4, 0.1, "m"}); err != nil {
		return nil, err
	}
	var all []Finding
	if p.Grain >= p.FeedDepth {
		all = append(all, Finding{GrainAboveChannel, p.Grain, p.FeedDepth, true})
	}
	if p.Bore < p.Hole {
		all = append(all, Finding{NozzleBelowScreen, p.Hole, p.Bore, false})
	}
	if p.Bore < p.Grain && p.Bore >= p.Hole {
		all = append(all, Finding{NozzleBelowGrain, p.Grain, p.Bore, false})
	}
	if p.Grain > p.FeedDepth/2 && p.Grain < p.FeedDepth {
		all = append(all, Finding{GrainFillsChannel, p.Grain, p.FeedDepth, false})
	}
	if p.Bore >= p.Hole && p.Bore < bridging*p.Hole {
		all = append(all, Finding{NozzleNearScreen, p.Hole, p.Bore, false})
	}
	return all, nil
}
