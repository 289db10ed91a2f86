package cli

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/plan/campaign"
	"hopperful/shop"
)

// runMarks are the marks of a run as the command takes them.
var runMarks = map[string]shop.Mark{"started": shop.RunStarted, "stopped": shop.RunStopped, "stalled": shop.RunStalled, "noise": shop.StrangeNoise}

func markCommand(env *Env) *cobra.Command {
	words := []string{"started", "stopped", "stalled", "noise"}
	c := marking(env, "mark WHAT", "Say that a run started, stopped or stalled, or that it made a strange noise",
		"Writes down one thing of the run that is on: started, stopped, stalled, or noise for\na strange one. --at says when, if it was not just now.",
		`  hopperful campaign begin vase --mill Grumble
  hopperful campaign sheet --skip
  hopperful campaign mark started
  hopperful campaign mark noise --note "a tick each turn"
  hopperful campaign mark stopped`, func(word string) (shop.CampaignMarked, error) {
			what, ok := runMarks[word]
			if !ok {
				return shop.CampaignMarked{}, fmt.Errorf("%q is none of %s", word, strings.Join(words, ", "))
			}
			return shop.CampaignMarked{What: what}, nil
		})
	completes(c, env, func(*shop.State) []string { return words }, cobra.ShellCompDirectiveNoFileComp)
	return c
}

func sheetCommand(env *Env) *cobra.Command {
	var ticked []string
	var skip bool
	var words []string
	for _, item := range shop.SheetItems() {
		words = append(words, joinedUp(string(item)))
	}
	c := marking(env, "sheet", "Tick the sheet before the first charge off, or skip it",
		"Looks the mill over before the first charge: "+strings.Join(words, ", ")+".\nWithout --ok all of them are ticked. Skipping is written down too.",
		`  hopperful campaign begin vase --mill Grumble
  hopperful campaign sheet --ok earth --ok lid-switch
  hopperful campaign sheet`, func(string) (shop.CampaignMarked, error) {
			b := shop.CampaignMarked{What: shop.SheetTicked}
			if skip {
				return shop.CampaignMarked{What: shop.SheetSkipped}, nil
			}
			for _, item := range shop.SheetItems() {
				if len(ticked) == 0 || slices.Contains(ticked, joinedUp(string(item))) {
					b.Ticked = append(b.Ticked, item)
				}
			}
			for _, word := range ticked {
				if !slices.Contains(words, word) {
					return b, fmt.Errorf("%q is none of %s", word, strings.Join(words, ", "))
				}
			}
			return b, nil
		})
	c.Flags().StringArrayVar(&ticked, "ok", nil, "only this line; may be given several times")
	c.Flags().BoolVar(&skip, "skip", false, "skip it; that is written down")
	completesFlag(c, env, "ok", func(*shop.State) []string { return words })
	return c
}

func chargeCommand(env *Env) *cobra.Command {
	var common noting
	var typed runFlags
	c := &cobra.Command{
		Use:   "record",
		Short: "Write down the charge that ran; what is not given is as planned",
		Long: `Writes the charge down as hopperful record ground does. Mill, lots, charge, level
and run time are filled in from the campaign: usually only what came out is to be
given. The rest is then planned anew.`,
		Example: `  hopperful campaign begin vase --mill Grumble
  hopperful campaign record --product 60g --left 12g --wall-after 31°C`,
		Args: takes(0, 0, "flags only"),
		RunE: func(c *cobra.Command, _ []string) error {
			state, err := readShop(c, env)
			if err != nil {
				return err
			}
			one, err := campaignAt(c, env, state, typed.b.Mill)
			if err != nil {
				return err
			}
			if err := typed.chosen(); err != nil {
				return err
			}
			body, err := laidOver(c, campaign.Filled(state, one, nil), &typed.b)
			if err != nil {
				return err
			}
			if common.at.IsZero() && one.Stage == shop.NoteStage {
				common.at = one.Stopped // when the run ended, not when it was written down
			}
			return writeCampaign(c, env, common, body, one.ID)
		},
	}
	typed.flags(c, env)
	whenAndWho(c, env, &common)
	return c
}
