package fit

import (
	"errors"
	"math"

	"hopperful/process"
	"hopperful/process/bulk"
	"hopperful/process/melt"
	"hopperful/process/metal"
	"hopperful/process/screw"
	"hopperful/shop"
)

// run is what one draw of everything unknown comes to.
type run struct {
	want      float64 // granulate the printer has to be given [kg]
	mass      float64 // that reaches the nozzle [kg]
	metal     float64 // share of metal left
	rate      float64 // chips that can block the nozzle [1/kg]
	d95       float64 // [m]
	feed      float64 // largest grain the feed takes [m]
	fines     float64
	borne     float64 // most dust the printer bears
	water     float64
	dryLimit  float64
	bridge    bulk.Bridge
	mean      float64 // mass flow while printing [kg/s]
	peak      float64 // over a second [kg/s]
	takesIn   float64 // most the screw takes in [kg/s]
	pumps     float64 // most it pumps against the nozzle [kg/s]
	melts     float64 // most the heat melts [kg/s]
	pressure  float64 // before the nozzle at the peak flow [Pa]
	bears     float64 // what the head bears [Pa]
	warm      bool    // the melt is neither too cold nor beyond its ceiling
	over      float64 // its temperature [K]
	speed     float64 // of the screw at the mean flow [rad/s]
	perTurn   float64 // melt a turn [kg]
	duty      float64 // of the heaters
	volume    float64 // room the melt fills [m³]
	melted    float64 // density of the melt [kg/m³]
	strength  float64 // kept, against a fresh print
	opens     bool    // the nozzle stays open in this draw
	rightOne  bool    // all of it is this polymer
	chanceHit float64 // that the print meets a chip
}

// step is one stretch of the way, in a draw.
type step func(*job, []float64, *run) error

// steps is the whole way.
var steps = []step{(*job).amount, (*job).metalIn, (*job).grains, (*job).dryness, (*job).hopper, (*job).line, (*job).strongEnough}

// chain runs draws through everything a hopperful meets on its way.
func (j *job) chain(rows [][]float64) ([]run, error) {
	runs := make([]run, len(rows))
	for i, row := range rows {
		for _, step := range steps {
			if err := step(j, row, &runs[i]); err != nil {
				return nil, err
			}
		}
	}
	if err := j.learnChips(runs); err != nil {
		return nil, err
	}
	for i, row := range rows {
		r := &runs[i]
		hit, err := metal.Chance(r.rate, r.mass)
		if err != nil {
			return nil, err
		}
		r.chanceHit = hit
		r.opens = luck(row[fLuck]) >= hit
		r.rightOne = luck(row[fRight]) < row[fSure]
	}
	return runs, nil
}

// luck turns a standard normal score into a share of all cases.
func luck(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }

func (j *job) amount(row []float64, r *run) error {
	a := j.want.At(luck(row[fWant]))
	r.mass, r.want = a.Through, a.Want
	return nil
}

// metalIn is the metal left, and how many chips of it can block the nozzle.
func (j *job) metalIn(row []float64, r *run) error {
	screen := 3 * row[fNozzle] // no screen known: no chip is held back that could block
	if j.facts.hole != nil {
		screen = math.Max(*j.facts.hole, 1e-5)
	}
	parts := wearParts
	if j.facts.metal != "" {
		parts = insertParts
		screen = math.Max(screen, row[fNozzle])
	}
	out, err := metal.PrintRisk(metal.Metal{Wear: math.Min(row[fWear], 0.5), Parts: parts, Sizes: metal.Spectrum{Median: math.Min(row[fChip], 0.02), Spread: metal.WearSpectrum.Spread},
		Screen: screen, Slip: 1.5, Passes: min(j.facts.magnets, 20)}, metal.Print{Mass: math.Max(r.mass, 1e-6), Nozzle: row[fNozzle], Share: j.limit(shop.ChipShare)})
	r.metal, r.rate = out.Metal, out.Rate
	return err
}

// What wear and forgotten inserts are made of. Judgement.
var (
	wearParts = []metal.Part{{Kind: metal.Ferritic, Share: 0.7}, {Kind: metal.ColdWorked, Share: 0.2}, {Kind: metal.Brass, Share: 0.05}, {Kind: metal.Aluminium, Share: 0.05}}

	insertParts = []metal.Part{{Kind: metal.Brass, Share: 0.5}, {Kind: metal.Austenitic, Share: 0.3}, {Kind: metal.Ferritic, Share: 0.2}}
)

func (j *job) grains(row []float64, r *run) error {
	r.d95, r.fines, r.borne = row[fTop], row[fFines], row[fBorne]
	r.feed = screwOf(row).FeedDepth
	if j.printer.LargestIn != nil {
		r.feed = *j.printer.LargestIn
	}
	return nil
}

func (j *job) dryness(row []float64, r *run) (err error) {
	r.dryLimit = row[fDryLimit]
	r.water, err = j.water(row)
	return err
}

// hopper asks whether it runs out of the hopper.
func (j *job) hopper(row []float64, r *run) error {
	solid := row[fSolid]
	packing := math.Min(math.Max(row[fBulk]/solid, 0.1), 0.74)
	strength := math.Max(row[fDustStrength], bulk.CoarseStrength)
	g := bulk.Granulate{
		Mix:   bulk.Mixture{Dust: row[fFines] * row[fSticky], Coarse: packing, Fine: 0.35},
		Stick: bulk.Sticking{Coarse: bulk.CoarseStrength, Dust: strength},
		D95:   row[fTop], Mean: row[fMean] * row[fTop], Solid: solid,
	}
	var err error
	r.bridge, err = bulk.Bridging(bulk.Outlet{Width: row[fExit], HalfAngle: math.Pi / 6}, g)
	return err
}

// line is screw, melt and nozzle at the wanted flow.
func (j *job) line(row []float64, r *run) error {
	r.melted = row[fSolid] * row[fMelt]
	r.mean = row[fFlow] * r.melted
	r.peak = r.mean * math.Max(row[fPeak], 1)
	r.over = j.temperature + row[fWarmth]
	r.warm = r.over >= row[fFloor]-coldSlack && r.over <= row[fCeiling]
	r.bears = row[fMostPressure]
	c, err := j.law.Curve(r.over, math.Min(math.Max(row[fRunny], 1e-2), 1e2))
	if err != nil {
		return err
	}
	s := screwOf(row)
	if r.volume, err = screw.MeltVolume(s, math.Min(row[fHead], 1e-3)); err != nil {
		return err
	}
	l := screw.Line{
		Head:    screw.Head{Screw: s, Nozzle: nozzleOf(row), InScrew: c, InNozzle: c, Loss: math.Min(row[fLoss], 50)},
		Feed:    screw.Feed{Bulk: math.Max(row[fBulk], 50), Filling: row[fFilling]},
		Density: r.melted, MostSpeed: math.Min(row[fMostSpeed], 62), MostPressure: r.bears,
		Heating: screw.Heating{Heaters: row[fHeaters], Efficiency: row[fEfficiency], Loss: j.barrelLoss(row, r.over), Heat: row[fHeat]},
	}
	return j.flows(row, l, r)
}

// coldSlack is how far below the lowest usual temperature a melt still prints
// [K]; judgement.
const coldSlack = 10

// flows are the largest flows by each limit, and the setting for the mean one.
func (j *job) flows(row []float64, l screw.Line, r *run) error {
	bounds, err := screw.LargestFlows(l)
	var out *process.RangeError
	switch {
	case errors.As(err, &out): // the melt does not move through this nozzle
		if bounds, err = stuck(l); err != nil {
			return err
		}
	case err != nil:
		return err
	}
	for _, b := range bounds {
		switch b.By {
		case screw.Starve:
			r.takesIn = b.Flow
		case screw.Flood:
			r.pumps = b.Flow
		case screw.Heater:
			r.melts = b.Flow
		}
	}
	if j.measuredTurn() {
		r.takesIn = row[fPerTurn] * r.melted * l.MostSpeed / (2 * math.Pi)
	}
	drop, err := melt.NozzleDrop(l.Head.InNozzle, fixed(l.Head), r.peak/r.melted)
	if err != nil {
		return err
	}
	r.pressure = drop.Total.High
	r.perTurn = r.takesIn / l.MostSpeed * 2 * math.Pi
	r.speed = l.MostSpeed * r.mean / math.Max(math.Min(r.takesIn, r.pumps), 1e-9)
	r.duty, err = screw.HeaterDuty(l.Heating, r.mean)
	return err
}

// stuck are the limits of a line whose nozzle lets nothing through.
func stuck(l screw.Line) ([]screw.Bound, error) {
	in, err := screw.IntakeFlow(l.Head.Screw, l.Feed, l.MostSpeed)
	if err != nil {
		return nil, err
	}
	heat, err := screw.HeaterFlow(l.Heating)
	return []screw.Bound{{By: screw.Starve, Flow: in}, {By: screw.Flood}, {By: screw.Heater, Flow: heat}}, err
}

// fixed is the nozzle with the draw's own entrance loss.
func fixed(h screw.Head) melt.Nozzle {
	z := h.Nozzle
	z.Losses = melt.Span{Low: h.Loss, High: h.Loss}
	return z
}

// draws collects one number of every run.
func (j *job) collect(each func(run) float64) []float64 {
	all := make([]float64, len(j.runs))
	for i, r := range j.runs {
		all[i] = each(r)
	}
	return all
}

// share is the share of runs for which something holds.
func share(runs []run, ok func(run) bool) float64 {
	n := 0.0
	for _, r := range runs {
		if ok(r) {
			n++
		}
	}
	return n / float64(len(runs))
}
