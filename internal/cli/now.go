package cli

import (
	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/plan/campaign"
	"hopperful/shop"
)

func nowCommand(env *Env) *cobra.Command {
	var mill string
	c := &cobra.Command{
		Use: "now",
		Example: `  hopperful now
  hopperful campaign begin vase --mill Grumble
  hopperful now --json`,
		Args: takes(0, 0, "takes.flags_only"),
		RunE: func(c *cobra.Command, _ []string) error {
			state, err := readShop(c, env)
			if err != nil {
				return err
			}
			if mill == "" && len(state.Campaigning()) != 1 {
				return answers(c, env, speaks(env, state), campaign.Now(state, env.Now()))
			}
			one, err := campaignAt(c, env, state, mill)
			if err != nil {
				return err
			}
			return tellCampaign(c, env, speaks(env, state), state, one.ID)
		},
	}
	c.Flags().StringVar(&mill, "mill", "", "")
	shopFlag(c)
	completesFlag(c, env, "mill", millsInUse)
	return c
}

// tellCampaign answers where a campaign stands, its rest planned anew.
func tellCampaign(c *cobra.Command, env *Env, p *say.Printer, state *shop.State, id shop.RecordID) error {
	ahead, err := campaign.Plan(state, id, env.Now())
	if err != nil {
		return err
	}
	doc, err := campaign.Of(state, id, env.Now(), ahead)
	if err != nil {
		return err
	}
	return answers(c, env, p, doc)
}

// campaignAt is the campaign that goes on at a mill, or the only one, as it stands now.
func campaignAt(c *cobra.Command, env *Env, state *shop.State, mill string) (shop.Campaign, error) {
	open := state.Campaigning()
	switch {
	case mill != "":
		if one, ok := state.Running(mill); ok {
			return one.On(env.Now()), nil
		}
		return shop.Campaign{}, &failure{what: fact.Say("cli.campaign_none_at", fact.Name("mill", mill)), advice: fact.Say("cli.do_campaign_or_now")}
	case len(open) == 1:
		return open[0].On(env.Now()), nil
	case len(open) == 0:
		return shop.Campaign{}, &failure{what: fact.Say("cli.campaign_none"), advice: fact.Say("cli.do_campaign_begin")}
	}
	var mills []string
	for _, one := range open {
		mills = append(mills, one.Mill)
	}
	return shop.Campaign{}, usagef(c, fact.Say("cli.campaign_which", fact.Name("mills", joined(mills))))
}
