package shop

import (
	"math"
	"slices"

	"hopperful/quantity"
)

// Ask is a question about a record that stands: what one of its fields says can
// hardly be so. The record is kept as it was written; until a person says that
// it is so ([Confirmed]) or corrects it, nothing is learned from it.
type Ask struct {
	Record RecordID
	Code   AskCode
	Field  string        // JSON name of the field the slip is likeliest in
	Kind   quantity.Kind // of the values below
	Value  float64       // what the field says
	Bound  float64       // the most, or the least, it could be
	Meant  *float64      // what was meant, where a usual slip explains it all
	Swap   string        // the field it was likely swapped with, "" for none
	Or     *Reading      // another usual slip, in another field, that explains it as well
	Over   float64       // of more out than in: by how much
	Lot    LotID         // whose mass it is about, "" for none
	Other  RecordID      // the record it cannot stand beside, 0 for none
	Unsafe bool          // on the dangerous side: limits believe it while it is open

	Answered RecordID // the record that says it is so; 0: open
	per      float64  // of a bound that goes with the chamber [kg/m³]
	mill     string   // of a run: where it was,
	told     int      // and the description it was ground under
	because  RecordID // a record whose own question explains this one while it is open
}

// Reading is a field that may hold the slip: what it says, and what was meant.
type Reading struct {
	Field        string
	Value, Meant float64
}

// AskCode says what is asked; package plan/plausibility has the words.
type AskCode string

// What is asked of a run.
const (
	ChargeOverChamber AskCode = "charge_over_chamber" // more than fits loosely
	ChargeOverUsual   AskCode = "charge_over_usual"   // far more than any charge on record
	ChargeUnderUsual  AskCode = "charge_under_usual"  // far less than any, or than a mill is run for
	MoreOutThanIn     AskCode = "more_out_than_in"    // more than went in and can have been inside
	LittleOut         AskCode = "little_out"          // far less came out than ever
	MassMissing       AskCode = "mass_missing"        // all was weighed, and much of it is nowhere
	LevelOverLast     AskCode = "level_over_last"     // the controller has fewer levels, or there is none
	RunLong           AskCode = "run_long"            // hours, where minutes are usual
	RunsOverlap       AskCode = "runs_overlap"        // the run before was still going
	RestTooLong       AskCode = "rest_too_long"       // longer than the time since the run before
	DayTooShort       AskCode = "day_too_short"       // more hours of running than the day has
	ColderAfter       AskCode = "colder_after"        // running does not cool
	ColderThanRoom    AskCode = "colder_than_room"    // nor below the room
	HotterThanPower   AskCode = "hotter_than_power"   // more heat than the motor can have given
	EnergyOverPower   AskCode = "energy_over_power"   // more than the motor can have drawn
	EnergyUnderIdle   AskCode = "energy_under_idle"   // less than anything that turns draws
)

// What is asked of a lot.
const (
	MoreThanLot      AskCode = "more_than_lot"       // more than the books say the lot has
	MoreThanGround   AskCode = "more_than_ground"    // a product heavier than what can have come out
	HeavierDried     AskCode = "heavier_dried"       // it gained in the dryer
	MuchDriedOff     AskCode = "much_dried_off"      // more than water can be
	TappedLighter    AskCode = "tapped_lighter"      // less in the jar after filling up
	JarTooDense      AskCode = "jar_too_dense"       // denser than loose grains can be
	ColourOfNoParent AskCode = "colour_of_no_parent" // asked by plan/plausibility, which knows what colours give
)

// asking is a body that can say things which are hardly so. It is asked after
// it was found sound, before it is folded in.
type asking interface {
	asks(s *State, r Record) []Ask
}

// Asks are the open questions, in the order of their records.
func (s *State) Asks() []Ask {
	return slices.DeleteFunc(slices.Clone(s.asked), func(a Ask) bool { return !s.open(a) })
}

// AsksOf are the open questions about a record.
func (s *State) AsksOf(id RecordID) []Ask {
	var list []Ask
	for _, a := range s.questions(id) {
		if s.open(a) {
			list = append(list, a)
		}
	}
	return list
}

// Confirmed reports whether a person said of a record, as it stands, that it is so in that
// respect.
func (s *State) Confirmed(id RecordID, code AskCode) bool {
	r, ok := s.Record(id)
	return ok && s.confirmedBy(r, code) != 0
}

// open says whether a question waits for an answer: it has none, and no other
// open question explains it.
func (s *State) open(a Ask) bool {
	return a.Answered == 0 && !s.settledBy(a) && (a.because == 0 || a.because == a.Record || !s.pending(a.because))
}

// settledBy says whether what was later said of the mill answers the question: that its
// chamber is larger, or that its controller has that level.
func (s *State) settledBy(a Ask) bool {
	if a.Code != ChargeOverChamber && a.Code != LevelOverLast {
		return false
	}
	i := s.millIndex(a.mill)
	if i < 0 {
		return false
	}
	m := s.Mills[i].at(a.told)
	switch {
	case a.Code == LevelOverLast:
		return m.Controller != nil && a.Value <= float64(m.Controller.Levels)
	}
	return m.Chamber == nil || a.Value <= a.per**m.Chamber
}

// pending says whether any question of a record has no answer yet.
func (s *State) pending(id RecordID) bool {
	return slices.ContainsFunc(s.questions(id), func(a Ask) bool { return a.Answered == 0 })
}

// span is a stretch of a list.
type span struct{ from, to int }

// questions are all that was asked of a record, answered or not. They are found
// without looking at those of other records: every run that is folded in looks, and
// a shop in which much is asked would else grow with the square of its records.
func (s *State) questions(id RecordID) []Ask {
	at := s.askedOf[id]
	return s.asked[at.from:at.to]
}

// raise writes down what is asked of a record, with the answers given.
func (s *State) raise(r Record, asks []Ask) {
	if len(asks) == 0 {
		return
	}
	s.askedOf[r.ID] = span{len(s.asked), len(s.asked) + len(asks)}
	for _, a := range asks {
		a.Record, a.Answered = r.ID, s.confirmedBy(r, a.Code)
		s.asked = append(s.asked, a)
	}
}

// confirmedBy is the record that says of r, as it stands, that it is so; 0 for none.
func (s *State) confirmedBy(r Record, code AskCode) RecordID {
	for _, c := range s.confirmed[r.ID] {
		if c.ID > r.CorrectedBy && slices.Contains(c.Body.Codes, code) {
			return c.ID
		}
	}
	return 0
}

// lotAsked is the latest record of a lot with a question that has no answer, 0
// for none: a lot out of which a slip took too much seems short ever after.
func (s *State) lotAsked(l *Lot) RecordID {
	for _, id := range slices.Backward(l.Records) {
		if s.pending(id) {
			return id
		}
	}
	return 0
}

// Overstated is the latest record by which a lot may hold less than the books say, because more
// came out or was weighed than there can have been and nobody has answered yet; 0 for none.
func (s *State) Overstated(l *Lot) RecordID {
	for _, id := range slices.Backward(l.Records) {
		if slices.ContainsFunc(s.AsksOf(id), func(a Ask) bool { return a.Code == MoreOutThanIn || a.Code == MoreThanGround }) {
			return id
		}
	}
	return 0
}

// farAbove is how many times too much a mass must be before a slip of the point is
// likelier than a forgotten record. Judgement.
const farAbove = 3

// moreThanLot asks about mass out of a lot, or only looked at, that neither the
// books nor what waits to be weighed can have in it.
func (s *State) moreThanLot(id LotID, mass float64, field string) []Ask {
	l, ok := s.Lot(id)
	if !ok {
		return nil
	}
	have := l.Mass + s.waitingFor(id).mass()
	if mass <= have+s.unsure(l)+1e-12 {
		return nil
	}
	a := Ask{Code: MoreThanLot, Field: field, Kind: quantity.Mass, Value: mass, Bound: have, Lot: id, because: s.lotAsked(l)}
	// Ten times or a thousand times too much is a slip of the point or the unit.
	for _, slip := range [...]float64{10, 1000} {
		if mass > farAbove*a.Bound && mass/slip <= a.Bound && mass/slip > a.Bound/100 {
			a.Meant = known(mass / slip)
			break
		}
	}
	return []Ask{a}
}

// unsure is how far the books of a lot may be off the scale without anybody
// having misread [kg]: a digit of the scale for each record, which add up as
// chance does, and the share that goes astray. Judgement.
func (s *State) unsure(l *Lot) float64 {
	return s.Resolution(l.Mass)*math.Sqrt(float64(len(l.Records))) + slack*l.In
}

func known(x float64) *float64 { return &x }
