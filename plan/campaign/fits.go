package campaign

import (
	"hopperful/fact"
	"hopperful/shop"
)

// Fits refuses a mark that says nothing where a campaign stands. The records would
// take it, since two devices may say the same; a person is told.
func Fits(c shop.Campaign, what shop.Mark) error {
	running := c.Stage == shop.RunStage
	refuse := func(why, advice fact.Saying) error { return shop.Refuse(shop.Conflict, "what", why, advice) }
	switch {
	case !c.Open():
		return refuse(fact.Say("campaign.is_over", fact.Name("mill", c.Mill)), fact.Say("do.begin_campaign"))
	case what == shop.RunStarted && running:
		return refuse(fact.Say("campaign.runs_already"), fact.Say("campaign.see_now"))
	case what == shop.RunStarted && c.Stage == shop.NoteStage:
		return refuse(fact.Say("campaign.not_written_down"), fact.Say("campaign.write_it_down"))
	case what == shop.RunStarted && c.Stage == shop.SheetOpen:
		return refuse(fact.Say("campaign.sheet_open"), fact.Say("campaign.sheet_first"))
	case (what == shop.RunStopped || what == shop.RunStalled) && !running:
		return refuse(fact.Say("campaign.does_not_run"), fact.Say("campaign.see_now"))
	case what == shop.PausedMark && running:
		return refuse(fact.Say("campaign.runs_already"), fact.Say("campaign.stop_first"))
	case what == shop.ResumedMark && !c.Paused:
		return refuse(fact.Say("campaign.not_paused"), fact.Say("campaign.see_now"))
	}
	return nil
}
