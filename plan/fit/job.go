package fit

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/plan/eats"
	"hopperful/plan/lineage"
	"hopperful/polymer"
	"hopperful/process"
	"hopperful/process/melt"
	"hopperful/process/moisture"
	"hopperful/quantity"
	"hopperful/shop"
)

// job is a request on its way to an answer.
type job struct {
	state       *shop.State
	req         Request
	lot         *shop.Lot
	facts       lotFacts
	polymer     polymer.Polymer
	table       *polymer.Table
	want        eats.Wanting // granulate the print takes
	printer     shop.Printer
	temperature float64 // of the melt [K]
	law         meltLaw
	strength    lineage.Strength // what its age leaves of it
	beliefs     beliefs
	rows        [][]float64
	runs        []run
	doubts      []answer.Spoiler // entries that cannot be true
}

// Judge checks whether a lot is fit for a print, question by question. A request
// that makes no sense is a [shop.Error]; a lot that must not be melted is an
// answer, with Refused set. What nobody knows is taken widely, so that nothing
// is certain that nothing was measured for.
func Judge(s *shop.State, req Request) (Fitness, error) {
	req = req.filled()
	lot, ok := s.Lot(req.Lot)
	if !ok {
		return Fitness{}, &shop.Error{Code: shop.NotFound, Field: "lot", Say: fmt.Sprintf("There is no lot %s.", req.Lot),
			Hint: "The stock lists the lots."}
	}
	if err := req.check(); err != nil {
		return Fitness{}, err
	}
	j := &job{state: s, req: req, lot: lot, facts: factsOf(s, lot)}
	var err error
	if j.printer, err = pickPrinter(s, req.Printer); err != nil {
		return Fitness{}, err
	}
	if j.table, err = s.Table(); err != nil {
		return Fitness{}, err
	}
	if block, err := j.material(); err != nil || block != nil {
		return j.refused(block), err
	}
	if err := j.draw(); err != nil {
		return Fitness{}, beyond(err)
	}
	f, err := j.answer()
	return f, beyond(err)
}

func (r Request) filled() Request {
	if r.Draws == 0 {
		r.Draws = fitDraws
	}
	if r.Seed == 0 {
		r.Seed = answer.Seed
	}
	if r.Strength == nil {
		usual := fitStrength
		r.Strength = &usual
	}
	return r
}

// check refuses numbers no print has.
func (r Request) check() error {
	bad := func(field, say, hint string) error {
		return &shop.Error{Code: shop.Invalid, Field: field, Say: say, Hint: hint}
	}
	switch n := r.Need; {
	case r.Draws < 1 || r.Draws > mostFitDraws:
		return bad("draws", fmt.Sprintf("%d draws are outside 1 to %d.", r.Draws, mostFitDraws), "")
	case n.Mass == nil && n.Volume == nil:
		return bad("mass_kg", fmt.Sprintf("The need %q has neither a mass nor a volume.", n.Name), "Type a mass such as 240 g, or give the file to be printed.")
	case n.Mass != nil && !(*n.Mass > 0 && *n.Mass <= mostPrint):
		return bad("mass_kg", fmt.Sprintf("A print of %s is outside 0 to %s.", quantity.Mass.Show(*n.Mass), quantity.Mass.Plain(mostPrint)), "Check the unit.")
	case n.Volume != nil && !(*n.Volume > 0 && *n.Volume <= mostPrint/1000):
		return bad("volume_m3", fmt.Sprintf("A print of %s is outside 0 to %s.", quantity.Volume.Show(*n.Volume), quantity.Volume.Plain(mostPrint/1000)), "Check the unit.")
	case n.MeanFlow != nil && !(*n.MeanFlow >= 1e-12 && *n.MeanFlow <= 1e-4), n.PeakFlow != nil && !(*n.PeakFlow >= 1e-12 && *n.PeakFlow <= 1e-4):
		return bad("mean_flow_m3_s", "The flow of the print is outside what printers give.", "Check the unit.")
	case !(*r.Strength > 0 && *r.Strength <= 1):
		return bad("strength", "The strength the part must keep is a share above 0 and at most 100 %.", "80 % is usual.")
	case r.Nozzle != nil && !(*r.Nozzle >= 1e-4 && *r.Nozzle <= 0.05):
		return bad("nozzle_m", fmt.Sprintf("A nozzle of %s is outside 0.1 to 50 mm.", quantity.Length.Show(*r.Nozzle)), "Give the bore of its opening.")
	case r.Temperature != nil && !(*r.Temperature >= 373.15 && *r.Temperature <= 773.15):
		return bad("temperature_k", fmt.Sprintf("A melt of %s is outside 100 to 500 °C.", quantity.Temperature.Show(*r.Temperature)), "")
	}
	return nil
}

// mostPrint bounds a print [kg].
const mostPrint = 5000

// beyond turns a number no formula holds for into a refusal in the user's words.
func beyond(err error) error {
	var out *process.RangeError
	if errors.As(err, &out) {
		return &shop.Error{Code: shop.Invalid, Field: "need", Say: answer.Sentence(answer.Capital(out.Error())), Hint: "Check need, printer and lot: one of them is beyond what can be reckoned."}
	}
	return err
}

// pickPrinter finds the printer by name, or the first in use; a shop without
// one gets one of which nothing is known.
func pickPrinter(s *shop.State, name string) (shop.Printer, error) {
	var names []string
	for _, p := range s.Printers {
		if name != "" && p.Name == name || name == "" && !p.Retired {
			return p, nil
		}
		if !p.Retired {
			names = append(names, p.Name)
		}
	}
	if name == "" {
		return shop.Printer{}, nil
	}
	return shop.Printer{}, &shop.Error{Code: shop.NotFound, Field: "printer",
		Say: fmt.Sprintf("The shop has no printer called %q.", name), Hint: "It has: " + answer.OrNone(names) + "."}
}

// material finds the polymer and the temperature, and says why the lot must not
// be melted, if so.
func (j *job) material() (*answer.Block, error) {
	if bar := j.lot.Bar(); bar != nil {
		return answer.Barred(bar), nil
	}
	var err error
	if j.polymer, err = j.table.Find(j.lot.Polymer); err != nil {
		return nil, &shop.Error{Code: shop.NotFound, Field: "polymer", Say: answer.Sentence(err.Error())}
	}
	if block, err := j.together(); err != nil || block != nil {
		return block, err
	}
	return nil, j.warm()
}

// together refuses what must not be heated together.
func (j *job) together() (*answer.Block, error) {
	for _, x := range j.facts.strays {
		pair, err := j.table.Pair(j.polymer.Name, x.Polymer)
		if err != nil {
			continue // a name of the shop's own: no line, and the general one does not fit either
		}
		if x.Share > pair.Refuse {
			return &answer.Block{Limit: "what may be melted together",
				Why: fmt.Sprintf("%s of it is %s, more than the %s that %s bears. %s", quantity.Share.Rough(x.Share), pair.Stray,
					quantity.Share.Plain(pair.Refuse), pair.Host, answer.Sentence(pair.Sentence)),
				Nearest: "Set the lot aside; it cannot be taken apart again."}, nil
		}
	}
	return nil, nil
}

// warm settles the temperature of the melt and refuses one at which the polymer
// breaks down.
func (j *job) warm() error {
	usual, err := j.polymer.Value(polymer.PrintTemperature)
	switch {
	case j.req.Temperature != nil:
		j.temperature = *j.req.Temperature
	case err == nil:
		j.temperature = usual.Value
	default:
		j.temperature = DefaultMelt
	}
	ceiling, err := j.polymer.Value(polymer.MeltCeiling)
	if err == nil && j.temperature > ceiling.Value {
		hot := &melt.TooHotError{Temperature: j.temperature, Ceiling: ceiling.Value}
		e := &shop.Error{Code: shop.Invalid, Field: "temperature_k", Say: answer.Sentence(hot.Error())}
		for _, c := range j.polymer.Cautions() {
			if c.Kind == polymer.Fumes {
				e.Hint = answer.Sentence(c.Text)
				break
			}
		}
		return e
	}
	j.law, err = LawOf(j.polymer, j.temperature)
	return err
}

// DefaultMelt is a melt of which nothing is known [K]; judgement.
const DefaultMelt = 483.15

// room is the shop's temperature and humidity, the usual ones where nobody said.
func (j *job) room() (temperature, humidity float64) { return roomOf(j.state) }

func roomOf(s *shop.State) (temperature, humidity float64) {
	temperature, humidity = answer.Room, answer.Humidity
	if s.Shop.RoomTemperature != nil {
		temperature = *s.Shop.RoomTemperature
	}
	if s.Shop.RoomHumidity != nil {
		humidity = *s.Shop.RoomHumidity
	}
	return temperature, humidity
}

// draw gathers the beliefs and runs every draw through the chain.
func (j *job) draw() error {
	var err error
	if j.want, err = eats.Want(j.state, j.polymer, j.req.Need); err != nil {
		return err
	}
	j.beliefs = prior()
	j.believeMaterial()
	j.believePrinter()
	j.believeNeed()
	if err := j.believeLot(); err != nil {
		return err
	}
	if err := j.age(); err != nil {
		return err
	}
	j.believeFlow()
	if err := j.believeDry(); err != nil {
		return err
	}
	j.rows, err = estimate.Hypercube(j.beliefs[:], j.req.Draws, rand.New(rand.NewPCG(j.req.Seed, j.req.Seed)))
	if err != nil {
		return fmt.Errorf("drawing the ranges: %w", err)
	}
	if err := j.possible(); err != nil {
		return err
	}
	j.runs, err = j.chain(j.rows)
	return err
}

// possible refuses a printer that cannot be.
func (j *job) possible() error {
	b := &j.beliefs
	if b[fNozzle].FromUser && b[fScrew].FromUser && b[fNozzle].Median >= b[fScrew].Median {
		return &shop.Error{Code: shop.Invalid, Field: "nozzle_m",
			Say:  fmt.Sprintf("A nozzle of %s is as wide as the barrel of %s or wider.", quantity.Length.Plain(b[fNozzle].Median), quantity.Length.Plain(b[fScrew].Median)),
			Hint: "Check both; the nozzle's is the bore of its opening."}
	}
	s := screwOf(j.medians())
	if err := s.Check(); err != nil {
		return &shop.Error{Code: shop.Invalid, Field: "screw_m", Say: answer.Sentence(answer.Capital(err.Error())), Hint: "Check the printer's barrel bore; no screw of these measures can be made."}
	}
	return nil
}

// medians is the draw in which everything is in the middle.
func (j *job) medians() []float64 {
	row := make([]float64, fitParams)
	for i, b := range j.beliefs {
		row[i] = b.Median
	}
	return row
}

// wet is the water of granulate that lies in the shop's air, in a draw.
func (j *job) wet(row []float64) float64 {
	_, humidity := j.room()
	w, err := moisture.EquilibriumWater(sorptionOf(row), math.Min(math.Max(humidity, 0), 1))
	if err != nil {
		return row[fWater] // no draw of a plastic is that far off
	}
	return w
}
