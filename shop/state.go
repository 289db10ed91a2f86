package shop

import (
	"maps"
	"slices"
	"sync/atomic"
	"time"
)

// State is what follows from a shop's records. It is never changed once it is
// handed out: [State.With] returns a new one, so readers need no lock.
type State struct {
	Shop      ShopSet
	People    []PersonSet
	Mills     []MillState
	Scales    []Scale
	Printers  []Printer
	Dryers    []Dryer
	Materials []MaterialSet
	Needs     []Need
	Lots      Lots
	Order     []LotID    // lots in the order they came
	Losses    Losses     // every gram that left other than into a lot
	Records   Log        // that stand, by the time they happened; a corrected one keeps its ID and has its new body
	Campaigns []Campaign // in the order they began
	History   Log        // every record as written, by ID
	Last      time.Time  // of the latest record that stands

	needed map[string]time.Time // when each need was saved last

	asked     []Ask                            // of the records that stand, those of one record together
	askedOf   map[RecordID]span                // where in it the questions of each record lie
	confirmed map[RecordID][]Entry[*Confirmed] // answers that stand, by the record they are about

	pictured map[picturedOf]int // photographs of each
	album    int                // of all

	came   float64   // taken in from outside [kg]
	months []month   // of the records that move mass, each as it began
	moved  time.Time // when the latest of them was

	relabelled bool   // prints got labels that their records do not have, see printlabel.go
	base       *State // the kept state this one continues, nil for none; its own base
	carried    *carried
	goneOn     *atomic.Bool // another state has its lists' memory

	own   map[LotID]bool // lots this state may still change in place, while it is made
	given counters       // labels given so far
}

// MillState is a mill and what it still holds.
type MillState struct {
	Mill
	Held     float64 // inside: left by earlier runs, or ground and not weighed yet [kg]
	HeldMost float64 // with what was counted as lost and may lie in it, since nobody weighed it [kg]
	HeldOf   LotID   // the lot the latest of it came from
	Ground   float64 // everything it has ground [kg]
	Runs     []RecordID

	residue mix      // what earlier runs left, ready to mix with the next
	waiting []lot    // ground, but the product not weighed yet
	maybe   mix      // counted as lost, and may lie in it
	drift   float64  // how far the balance may be off by rounding since what was left was last weighed [kg]
	usual   usage    // what its runs are like
	lost    RecordID // the record because of which nobody knows what lies in it, 0 for none

	told []described // what was said of it, the first description first
}

// lot is a mix on its way into a lot.
type lot struct {
	into  LotID
	mix   mix
	maybe mix     // counted as lost, and may have come out with it
	fresh float64 // of the mix: may still lie in the mill, since nobody weighed what was left after it [kg]
}

// Loss is mass that went nowhere else, by name.
type Loss struct {
	Name   string // one of the names below
	Lot    LotID
	Mass   float64 // kg; negative for a gain
	Record RecordID
}

// The names of losses.
const (
	LostGrinding = "lost in grinding"    // dust and what stayed in the mill unweighed
	SweptUp      = "swept up"            // dust and spill gathered and thrown away
	MetalCut     = "metal cut out"       // inserts, screws, tape
	ThrownAway   = "thrown away"         // by sorting or on purpose
	Purged       = "purged"              // purge, skirts and spill of a print
	MetalCaught  = "metal caught"        // by the magnet
	DustTaken    = "dust taken off"      // by the sieve or by air
	DriedOff     = "dried off"           // water
	TestExtruded = "extruded in a test"  // by flow tests
	Recount      = "recount"             // what a later weighing found missing, or, negative, found
	Difference   = "weighing difference" // within the scale's resolution
)

// Lot is the lot of that label.
func (s *State) Lot(id LotID) (*Lot, bool) {
	l := s.Lots.At(id)
	return l, l != nil
}

// Mill is the mill of that name.
func (s *State) Mill(name string) (MillState, bool) {
	i := s.millIndex(name)
	if i < 0 {
		return MillState{}, false
	}
	return s.Mills[i], true
}

// Need is the need of that name.
func (s *State) Need(name string) (Need, bool) {
	i := slices.IndexFunc(s.Needs, func(n Need) bool { return n.Name == name })
	if i < 0 {
		return Need{}, false
	}
	return s.Needs[i], true
}

// Record is the record of that number as it stands; false when there is none
// or it was struck out.
func (s *State) Record(id RecordID) (Record, bool) {
	i := s.Records.place(id)
	if i < 0 {
		return Record{}, false
	}
	return s.Records.At(i), true
}

// ActiveMills are the mills still in use.
func (s *State) ActiveMills() []MillState {
	var in []MillState
	for _, m := range s.Mills {
		if !m.Retired {
			in = append(in, m)
		}
	}
	return in
}

func (s *State) millIndex(name string) int {
	return slices.IndexFunc(s.Mills, func(m MillState) bool { return m.Name == name })
}

func empty() *State {
	return &State{Lots: Lots{new: map[LotID]*Lot{}}, own: map[LotID]bool{}, given: counters{}, askedOf: map[RecordID]span{}, carried: &carried{}, goneOn: new(atomic.Bool)}
}

// clone is a state that can be changed without the old one noticing. Lists that only
// grow go on in the same memory the first time that a state is gone on from; a second
// time they are clipped, so that the first append moves them.
func (s *State) clone() *State {
	c, _ := s.goOn()
	return c
}

// goOn is clone, and says whether s was not gone on from before.
func (s *State) goOn() (*State, bool) {
	c := *s
	c.carried = &carried{}
	c.People, c.Scales, c.Printers, c.Dryers = slices.Clone(s.People), slices.Clone(s.Scales), slices.Clone(s.Printers), slices.Clone(s.Dryers)
	c.Materials, c.Needs, c.Mills = slices.Clone(s.Materials), slices.Clone(s.Needs), slices.Clone(s.Mills)
	for i := range c.Mills {
		c.Mills[i].waiting = slices.Clone(c.Mills[i].waiting)
	}
	c.Campaigns = slices.Clone(s.Campaigns)
	c.askedOf, c.needed, c.pictured = maps.Clone(s.askedOf), maps.Clone(s.needed), maps.Clone(s.pictured)
	c.Lots, c.own, c.given = s.Lots.clone(), map[LotID]bool{}, maps.Clone(s.given)
	c.goneOn = new(atomic.Bool)
	first := s.goneOn != nil && s.goneOn.CompareAndSwap(false, true)
	if !first {
		c.clip()
	}
	return &c, first
}

// clip ends the lists that only grow where they end.
func (s *State) clip() {
	for i := range s.Mills {
		s.Mills[i].Runs = slices.Clip(s.Mills[i].Runs)
	}
	for i := range s.Campaigns {
		s.Campaigns[i].Runs = slices.Clip(s.Campaigns[i].Runs)
	}
	s.asked, s.Order, s.months = slices.Clip(s.asked), slices.Clip(s.Order), slices.Clip(s.months)
	s.Losses, s.Records, s.History = s.Losses.clipped(), s.Records.clipped(), s.History.clipped()
}

// change returns the lot for writing: its own copy the first time.
func (s *State) change(id LotID) *Lot {
	l := s.Lots.At(id)
	if s.own[id] {
		return l
	}
	c := *l
	c.Records, c.Parents, c.Children = slices.Clip(l.Records), slices.Clip(l.Parents), slices.Clip(l.Children)
	c.Dustings = slices.Clip(l.Dustings)
	s.own[id] = true
	s.Lots.set(id, &c)
	return &c
}
