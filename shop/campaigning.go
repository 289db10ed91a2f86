package shop

import (
	"slices"
	"time"
)

// Campaign is a campaign as its records tell it: what is done, what goes on, and
// what the plan last said of the next charge.
type Campaign struct {
	ID    RecordID
	Begun time.Time
	By    string
	CampaignBegun

	Stage   Stage
	Paused  bool
	Now     Cycle     // what the plan last said
	Started time.Time // of the latest run
	Stopped time.Time // of the latest run; zero while it goes on
	Ended   time.Time
	Latest  time.Time // anything happened
	Rested  *float64  // before the latest run, where the stop before it is known [s]

	Stalled bool        // the latest run, not recorded yet
	Noise   bool        // heard in the latest run
	Ticked  []SheetItem // of the sheet
	Skipped bool        // the sheet
	Looked  time.Time   // when it was last done with; zero: it is due
	Again   Again       // why it came again

	Runs      []RecordID // its charges
	In, Out   float64    // went in, and came out as far as weighed [kg]
	Unweighed int        // charges whose product was not weighed, or is asked about
	Yielded   float64    // went in with the charges that were weighed [kg]
	Into      LotID      // the granulate goes into, "" before the first charge
}

// Stage is where a campaign stands.
type Stage string

// The stages.
const (
	SheetOpen   Stage = "sheet"   // before the first charge of a day, and after the mill was worked on
	ReadyStage  Stage = "ready"   // the next charge may start, once the mill has rested
	RunStage    Stage = "running" // the mill turns
	NoteStage   Stage = "stopped" // its numbers are not written down yet
	OverStage   Stage = "over"
	BackedStage Stage = "taken back"
)

// Open reports whether a campaign still goes on.
func (c *Campaign) Open() bool { return c.Stage != OverStage && c.Stage != BackedStage }

// Done is how many charges are recorded.
func (c *Campaign) Done() int { return len(c.Runs) }

// Planned is how many charges it takes in all, as the plan last said.
func (c *Campaign) Planned() int { return c.Done() + max(c.Now.Charges, 0) }

// Made is the granulate that came out [kg]: what was weighed, and for each charge
// whose product was not, the share of the charge that the others gave; about, when
// there was any such.
func (c *Campaign) Made() (kg float64, about bool) {
	if c.Unweighed == 0 || c.Yielded <= 0 {
		return c.Out, c.Unweighed > 0
	}
	return c.Out + (c.In-c.Yielded)*min(1, c.Out/c.Yielded), true
}

// Enough reports whether what came out is what was wanted.
func (c *Campaign) Enough() bool {
	made, _ := c.Made()
	return made >= c.Wanted-1e-9
}

// Campaign is the campaign of that number.
func (s *State) Campaign(id RecordID) (Campaign, bool) {
	i := slices.IndexFunc(s.Campaigns, func(c Campaign) bool { return c.ID == id })
	if i < 0 {
		return Campaign{}, false
	}
	return s.Campaigns[i], true
}

// Running is the campaign that goes on at a mill; there is one at the most.
func (s *State) Running(mill string) (Campaign, bool) {
	for _, c := range slices.Backward(s.Campaigns) {
		if c.Mill == mill && c.Open() {
			return c, true
		}
	}
	return Campaign{}, false
}

// Campaigning are the campaigns that go on, the latest begun first.
func (s *State) Campaigning() []Campaign {
	var all []Campaign
	for _, c := range slices.Backward(s.Campaigns) {
		if c.Open() {
			all = append(all, c)
		}
	}
	return all
}

// mark folds one mark in. A mark that does not fit where the campaign stands
// changes nothing: two devices may say the same, and a correction may have taken
// away what came before it.
func (c *Campaign) mark(b *CampaignMarked, r Record) {
	if !c.Open() {
		return
	}
	c.Latest = r.At
	switch b.What {
	case SheetTicked, SheetSkipped:
		c.look(b, r.At)
	case RunStarted:
		if c.Stage != RunStage {
			c.Rested = nil
			if !c.Stopped.IsZero() {
				c.Rested = known(r.At.Sub(c.Stopped).Seconds())
			}
			c.Stage, c.Started, c.Stopped, c.Stalled, c.Noise, c.Paused = RunStage, r.At, time.Time{}, false, false, false
			if b.Cycle != nil {
				c.Now = *b.Cycle
			}
		}
	case RunStopped, RunStalled:
		if c.Stage == RunStage {
			c.Stage, c.Stopped, c.Stalled = NoteStage, r.At, b.What == RunStalled
		}
	case StrangeNoise:
		c.Noise = true
	case PausedMark:
		c.Paused = c.Stage != RunStage
	case ResumedMark:
		c.Paused = false
	case EndedMark:
		c.Stage, c.Ended, c.Paused = OverStage, r.At, false
	case TakenBackMark:
		c.Stage, c.Ended, c.Paused = BackedStage, r.At, false
	}
}

// charged counts a run of the mill to the campaign that goes on there.
func (s *State) charged(r Record, b *Ground, polymer string) {
	for i := len(s.Campaigns) - 1; i >= 0; i-- {
		c := &s.Campaigns[i]
		if c.Mill != b.Mill || !c.Open() || r.At.Before(c.Begun) || polymer != c.Polymer {
			continue
		}
		c.Runs = append(c.Runs, r.ID)
		c.In += b.Charge
		if b.Product != nil && !s.Doubted(r.ID, "product_kg") {
			c.Out, c.Yielded = c.Out+*b.Product, c.Yielded+b.Charge
		} else {
			c.Unweighed++
		}
		if c.Now.Charges--; c.Stopped.IsZero() || c.Stopped.Before(r.At) {
			c.Stopped = r.At
		}
		c.Stage, c.Into, c.Latest, c.Paused = ReadyStage, b.Into, r.At, false
		c.Stalled, c.Noise = false, false
		return
	}
}

// Doubted reports an open question about a field of a record: what it says is not
// counted on before it is answered.
func (s *State) Doubted(id RecordID, field string) bool {
	return slices.ContainsFunc(s.questions(id), func(a Ask) bool { return a.Field == field && a.Answered == 0 })
}

func union(all, more []SheetItem) []SheetItem {
	all = slices.Clip(all)
	for _, x := range more {
		if !slices.Contains(all, x) {
			all = append(all, x)
		}
	}
	return all
}

// Keyed is the record that was written with a key, struck out or not: what is
// sent again was written once already.
func (s *State) Keyed(key string) (Record, bool) {
	if key == "" {
		return Record{}, false
	}
	for _, r := range s.History.LatestOf((*CampaignBegun)(nil), (*CampaignMarked)(nil)) {
		if b, ok := r.Body.(keyed); ok && b.key() == key && r.Corrects == 0 {
			return r, true
		}
	}
	return Record{}, false
}
