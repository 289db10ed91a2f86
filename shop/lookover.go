package shop

import "time"

// The sheet before the first charge comes again before the first charge of another
// day, and after the mill was worked on: what was in order then need not be now.

// lateNight is how long a mill must have stood for another day's date to begin another
// day of work: who grinds past midnight is not asked in between. Judgement.
const lateNight = time.Hour

// Again is why the sheet comes again.
type Again string

// The reasons.
const (
	NewDay   Again = "day"
	WorkedOn Again = "worked on"
)

// On is the campaign as it stands at a moment: with its sheet open again where it is
// due.
func (c Campaign) On(now time.Time) Campaign {
	if c.Stage == ReadyStage && c.due(now) {
		c.reopen()
	}
	return c
}

// due reports whether the sheet is to be ticked again before the next start.
func (c *Campaign) due(now time.Time) bool {
	if c.Looked.IsZero() {
		return c.Again == WorkedOn
	}
	return !sameDay(c.Looked, now) && now.After(c.Looked) && (c.Stopped.IsZero() || now.Sub(c.Stopped) >= lateNight)
}

func (c *Campaign) reopen() {
	if c.Again == "" {
		c.Again = NewDay
	}
	c.Stage, c.Ticked, c.Skipped, c.Looked = SheetOpen, nil, false, time.Time{}
}

// look folds in what was ticked of the sheet, or that it was skipped.
func (c *Campaign) look(b *CampaignMarked, at time.Time) {
	if c.Stage == ReadyStage && c.due(at) {
		c.reopen()
	}
	c.Ticked = union(c.Ticked, b.Ticked)
	c.Skipped = b.What == SheetSkipped
	if c.Stage == SheetOpen && (c.Skipped || len(c.Ticked) == len(SheetItems())) {
		c.Stage, c.Looked, c.Again = ReadyStage, at, ""
	}
}

// workedOn has the sheet of the campaign at a mill come again.
func (s *State) workedOn(mill string) {
	for i := range s.Campaigns {
		c := &s.Campaigns[i]
		if c.Mill != mill || !c.Open() || c.Stage == SheetOpen && c.Done() == 0 && c.Again == "" {
			continue
		}
		if c.Again = WorkedOn; c.Stage == ReadyStage || c.Stage == SheetOpen {
			c.reopen()
		}
		c.Looked = time.Time{} // and where the mill runs, after this charge
	}
}

// opens reports whether something was done to the mill that a person looks over
// again: a look that found all in order asks for none.
func (b *Serviced) opens() bool { return b.What != Inspected || b.Sound == No }
