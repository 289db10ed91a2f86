package shop

import (
	"slices"

	"hopperful/fact"
)

// CampaignBegun opens a campaign on a mill: the charges that make what one or
// several prints want. From then on every run of the mill on that plastic is a
// charge of it, until it is ended or taken back. The number of this record is the
// campaign's.
type CampaignBegun struct {
	Mill    string   `json:"mill"`
	Needs   []string `json:"needs,omitempty"` // the prints it is for
	Polymer string   `json:"polymer"`
	Colour  string   `json:"colour,omitempty"` // only lots of it; empty: any
	Lots    []LotID  `json:"lots,omitempty"`   // only these; empty: whatever fits
	Wanted  float64  `json:"wanted_kg"`        // granulate that is enough
	Cycle   Cycle    `json:"cycle"`            // as planned when it began
	Key     string   `json:"key,omitempty"`    // of the device that sent it
}

// Cycle is what a plan says of the next charge and those after it.
type Cycle struct {
	Charge  float64 `json:"charge_kg"`
	Level   *int    `json:"level,omitempty"` // of the controller
	Run     float64 `json:"run_s"`
	Rest    float64 `json:"rest_s"`  // from a stop to the next start
	Charges int     `json:"charges"` // still to grind, this one included

	Expect *float64 `json:"expect_kg,omitempty"`    // that comes out of it
	Wall   *float64 `json:"wall_limit_k,omitempty"` // the wall stays below
}

// CampaignMarked is one thing that happened in a campaign, said with one touch.
type CampaignMarked struct {
	Campaign RecordID    `json:"campaign"`
	What     Mark        `json:"what"`
	Ticked   []SheetItem `json:"ticked,omitempty"` // of the sheet before the first charge
	Cycle    *Cycle      `json:"cycle,omitempty"`  // of a start: what the plan then said
	Key      string      `json:"key,omitempty"`    // of the device that sent it
}

// Mark is what may happen in a campaign.
type Mark string

// The marks.
const (
	SheetTicked   Mark = "sheet ticked"
	SheetSkipped  Mark = "sheet skipped"
	RunStarted    Mark = "started"
	RunStopped    Mark = "stopped"
	RunStalled    Mark = "stalled" // and so it stopped
	StrangeNoise  Mark = "strange noise"
	ChargeNoted   Mark = "charge recorded" // beside the run's own record; carries the key
	PausedMark    Mark = "paused"
	ResumedMark   Mark = "resumed"
	EndedMark     Mark = "ended"
	TakenBackMark Mark = "taken back" // it was begun by mistake; its runs stay
)

// Marks are all of them.
func Marks() []Mark {
	return []Mark{SheetTicked, SheetSkipped, RunStarted, RunStopped, RunStalled, StrangeNoise, ChargeNoted, PausedMark, ResumedMark, EndedMark, TakenBackMark}
}

// SheetItem is a line of the sheet before the first charge.
type SheetItem string

// The lines, in the order a person walks round the mill.
const (
	EarthItem  SheetItem = "earth"
	LidItem    SheetItem = "lid switch"
	ScreenItem SheetItem = "screen"
	PlateItem  SheetItem = "plate"
	MagnetItem SheetItem = "magnet"
	EarsItem   SheetItem = "ears"
	EyesItem   SheetItem = "eyes"
	DustItem   SheetItem = "dust"
)

// SheetItems are the lines of the sheet.
func SheetItems() []SheetItem {
	return []SheetItem{EarthItem, LidItem, ScreenItem, PlateItem, MagnetItem, EarsItem, EyesItem, DustItem}
}

// keyed is a body that carries the key of the device it was typed on, so that the
// same one sent twice is written once.
type keyed interface{ key() string }

func (b *CampaignBegun) key() string  { return b.Key }
func (b *CampaignMarked) key() string { return b.Key }

// Kind is "campaign_begun".
func (*CampaignBegun) Kind() string { return "campaign_begun" }

func (b *CampaignBegun) check(s *State, _ Record) error {
	if _, err := s.millNamed(b.Mill); err != nil {
		return err
	}
	for _, id := range b.Lots {
		if _, err := s.lotNamed(id, "lots"); err != nil {
			return err
		}
	}
	if b.Polymer == "" {
		return Refuse(Invalid, "polymer", fact.Say("shop.campaign_no_polymer"), fact.Say("shop.campaign_name_polymer"))
	}
	if c, ok := s.Running(b.Mill); ok {
		return Refuse(Conflict, "mill", fact.Say("shop.campaign_open", fact.Name("mill", b.Mill), fact.Count("n", int(c.ID))), fact.Say("shop.campaign_end_first"))
	}
	return nil
}

func (b *CampaignBegun) apply(s *State, r Record) {
	c := Campaign{ID: r.ID, Begun: r.At, Latest: r.At, CampaignBegun: *b, Now: b.Cycle, Stage: SheetOpen}
	if c.By = r.By; b.Cycle.Charges == 0 {
		c.Now.Charges = 1
	}
	s.Campaigns = append(s.Campaigns, c)
}

// Kind is "campaign_marked".
func (*CampaignMarked) Kind() string { return "campaign_marked" }

// check asks that the campaign was written down. One struck out since leaves its
// marks without effect, so that striking out is never refused for their sake.
func (b *CampaignMarked) check(s *State, _ Record) error {
	if _, ok := s.Campaign(b.Campaign); ok {
		return nil
	}
	if i := s.written(b.Campaign); i >= 0 {
		if _, was := s.History.At(i).Body.(*CampaignBegun); was {
			return nil
		}
	}
	return Refuse(NotFound, "campaign", fact.Say("shop.campaign_unknown", fact.Count("n", int(b.Campaign))), fact.Say("shop.campaign_list"))
}

func (b *CampaignMarked) apply(s *State, r Record) {
	i := slices.IndexFunc(s.Campaigns, func(c Campaign) bool { return c.ID == b.Campaign })
	if i < 0 {
		return
	}
	s.Campaigns[i].mark(b, r)
}
