package fit

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/fact"
	"hopperful/plan/consumption"
	"hopperful/plan/traceability"
	"hopperful/polymer"
	"hopperful/process"
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
	want        consumption.Wanting // granulate the print takes
	printer     shop.Printer
	temperature float64 // of the melt [K]
	law         meltLaw
	strength    traceability.Strength  // what its age leaves of it
	borne       traceability.DustBorne // how much dust the printer bears
	beliefs     beliefs
	rows        [][]float64
	runs        []run
	doubts      []answer.Finding // entries that cannot be true
}

// Judge checks whether a lot is fit for a print, question by question. A request
// that makes no sense is a [shop.Error]; a lot that must not be melted is an
// answer, with Refused or Mixed set. What nobody knows is taken widely, so that nothing
// is certain that nothing was measured for.
func Judge(s *shop.State, req Request) (Fitness, error) {
	req = req.filled(s)
	lot, ok := s.Lot(req.Lot)
	if !ok {
		return Fitness{}, noLot(req.Lot)
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
	if bar := lot.Bar(); bar != nil {
		return j.refused(bar, answer.Finding{}), nil
	}
	if mixed, err := j.material(); err != nil {
		return Fitness{}, err
	} else if !mixed.Empty() {
		return j.refused(nil, mixed), nil
	}
	if err := j.draw(); err != nil {
		return Fitness{}, beyond(err)
	}
	f, err := j.answer()
	return f, beyond(err)
}

func (r Request) filled(s *shop.State) Request {
	if r.Draws == 0 {
		r.Draws = fitDraws
	}
	if r.Seed == 0 {
		r.Seed = answer.Seed
	}
	if r.Strength == nil {
		usual, _ := s.Shop.Limit(shop.LeastStrength)
		r.Strength = &usual
	}
	return r
}

// check refuses numbers no print has.
func (r Request) check() error {
	bad := func(field string, say, hint fact.Saying) error { return shop.Refuse(shop.Invalid, field, say, hint) }
	none, unit := fact.Saying{}, fact.Say("fit.check_unit")
	outside := func(field string, kind quantity.Kind, v, low, high float64, hint fact.Saying) error {
		return bad(field, fact.Say("fit.outside", fact.Word("what", outsideNames[field]), fact.Measured("value", kind, v), fact.Set("low", kind, low), fact.Set("high", kind, high)), hint)
	}
	switch n := r.Need; {
	case r.Draws < 1 || r.Draws > mostFitDraws:
		return tooManyDraws(r.Draws)
	case n.Mass == nil && n.Volume == nil:
		return consumption.NoAmount(n)
	case n.Mass != nil && !(*n.Mass > 0 && *n.Mass <= mostPrint):
		return outside("mass_kg", quantity.Mass, *n.Mass, 0, mostPrint, unit)
	case n.Volume != nil && !(*n.Volume > 0 && *n.Volume <= mostPrint/1000):
		return outside("volume_m3", quantity.Volume, *n.Volume, 0, mostPrint/1000, unit)
	case n.MeanFlow != nil && !(*n.MeanFlow >= 1e-12 && *n.MeanFlow <= 1e-4), n.PeakFlow != nil && !(*n.PeakFlow >= 1e-12 && *n.PeakFlow <= 1e-4):
		return bad("mean_flow_m3_s", fact.Say("fit.no_such_flow"), unit)
	case !(*r.Strength > 0 && *r.Strength <= 1):
		return outside("strength", quantity.Share, *r.Strength, 0, 1, fact.Say("fit.usual_strength"))
	case r.Nozzle != nil && !(*r.Nozzle >= 1e-4 && *r.Nozzle <= 0.05):
		return outside("nozzle_m", quantity.Length, *r.Nozzle, 1e-4, 0.05, fact.Say("fit.give_bore"))
	case r.Temperature != nil && !(*r.Temperature >= 373.15 && *r.Temperature <= 773.15):
		return outside("temperature_k", quantity.Temperature, *r.Temperature, 373.15, 773.15, none)
	}
	return nil
}

// outsideNames are what is outside its bounds, by the field it is asked with.
var outsideNames = map[string]string{"mass_kg": "field.mass", "volume_m3": "field.volume", "strength": "field.strength", "nozzle_m": "field.nozzle",
	"temperature_k": "field.temperature", "bed_m": "field.bed", "dew_point_k": "field.dew_point", "flow_m3_s": "field.air_flow",
	"humidity": "field.box_humidity", "start": "field.start", "limit": "field.limit"}

func noLot(id shop.LotID) error {
	return shop.Refuse(shop.NotFound, "lot", fact.Say("fit.no_lot", fact.Name("lot", string(id))), fact.Say("fit.stock_lists"))
}

func tooManyDraws(n int) error {
	return shop.Refuse(shop.Invalid, "draws", fact.Say("fit.draws_outside", fact.Count("n", n), fact.Count("most", mostFitDraws)), fact.Saying{})
}

// noPolymer passes on what the table of materials says of a name it does not know.
func noPolymer(err error) error {
	return shop.Refused(shop.NotFound, "polymer", err)
}

// mostPrint bounds a print [kg].
const mostPrint = 5000

// beyond turns a number no formula holds for into a refusal in the user's words.
func beyond(err error) error {
	var out *process.RangeError
	if errors.As(err, &out) {
		return shop.Refuse(shop.Invalid, "need", shop.WhyNot(out), fact.Say("fit.beyond"))
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
	hint := fact.Say("fit.has_no_printer")
	if len(names) > 0 {
		hint = fact.Say("fit.has_printers", fact.Names("printers", names))
	}
	return shop.Printer{}, shop.Refuse(shop.NotFound, "printer", fact.Say("fit.no_printer", fact.Name("name", name)), hint)
}

// material finds the polymer and the temperature, and says why the lot must not
// be melted, if so.
func (j *job) material() (mixed answer.Finding, err error) {
	if j.polymer, err = j.table.Find(j.lot.Polymer); err != nil {
		return mixed, noPolymer(err)
	}
	if mixed = j.together(); !mixed.Empty() {
		return mixed, nil
	}
	return mixed, j.warm()
}

// together finds what must not be heated together.
func (j *job) together() answer.Finding {
	for _, x := range j.facts.strays {
		pair, err := j.table.Pair(j.polymer.Name, x.Polymer)
		if err != nil {
			continue // a name of the shop's own: no line, and the general one does not fit either
		}
		if x.Share > pair.Refuse {
			return answer.Found(fact.Say("fit.mixed", fact.About("share", quantity.Share, x.Share), fact.Name("stray", pair.Stray),
				fact.Set("most", quantity.Share, pair.Refuse), fact.Name("host", pair.Host), fact.Word("why", pair.What)), fact.Say("fit.not_apart_again"))
		}
	}
	return answer.Finding{}
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
		hint := fact.Saying{}
		for _, c := range j.polymer.Cautions() {
			if c.Kind == polymer.Fumes {
				hint = c.Says()
				break
			}
		}
		return shop.Refuse(shop.Invalid, "temperature_k", fact.Say("fit.too_hot", fact.Set("at", quantity.Temperature, j.temperature), fact.Set("most", quantity.Temperature, ceiling.Value)), hint)
	}
	j.law, err = LawOf(j.polymer, j.temperature)
	if err == nil && j.law.Lender != "" {
		j.doubts = append(j.doubts, answer.Found(fact.Say("fit.law_lent", polymer.LenderWord("lender", j.law.Lender), fact.Name("polymer", j.polymer.Name))))
	}
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
	if j.want, err = consumption.Want(j.state, j.polymer, j.req.Need); err != nil {
		return err
	}
	j.borne = traceability.DustBorneBy(j.state)
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
		return shop.Refuse(shop.Invalid, "nozzle_m", fact.Say("fit.nozzle_too_wide", fact.Set("nozzle", quantity.Length, b[fNozzle].Median),
			fact.Set("barrel", quantity.Length, b[fScrew].Median)), fact.Say("fit.check_both"))
	}
	s := screwOf(j.medians())
	if err := s.Check(); err != nil {
		return shop.Refuse(shop.Invalid, "screw_m", shop.WhyNot(err), fact.Say("fit.check_barrel"))
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
