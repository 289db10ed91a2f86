package cli

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/plan/campaign"
	"hopperful/shop"
)

// runMarks are the marks of a run as the command takes them.
var runMarks = map[string]shop.Mark{"started": shop.RunStarted, "stopped": shop.RunStopped, "stalled": shop.RunStalled, "noise": shop.StrangeNoise}

func markCommand(env *Env) *cobra.Command {
	words := []string{"started", "stopped", "stalled", "noise"}
	c := marking(env, "mark WHAT",
		`  hopperful campaign begin vase --mill Grumble
  hopperful campaign sheet --skip
  hopperful campaign mark started
  hopperful campaign mark noise --note "a tick each turn"
  hopperful campaign mark stopped`, func(word string) (shop.CampaignMarked, error) {
			what, ok := runMarks[word]
			if !ok {
				return shop.CampaignMarked{}, cannotBe(fact.Say("cli.not_one_of", fact.Name("word", word), fact.Name("words", strings.Join(words, ", "))))
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
	c := marking(env, "sheet",
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
					return b, cannotBe(fact.Say("cli.not_one_of", fact.Name("word", word), fact.Name("words", strings.Join(words, ", "))))
				}
			}
			return b, nil
		})
	tells(c, "", words...)
	c.Flags().StringArrayVar(&ticked, "ok", nil, "")
	c.Flags().BoolVar(&skip, "skip", false, "")
	completesFlag(c, env, "ok", func(*shop.State) []string { return words })
	return c
}

func chargeCommand(env *Env) *cobra.Command {
	var common noting
	var typed runFlags
	c := &cobra.Command{
		Use: "record",
		Example: `  hopperful campaign begin vase --mill Grumble
  hopperful campaign record --product 60g --left 12g --wall-after 31°C`,
		Args: takes(0, 0, "takes.flags_only"),
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
