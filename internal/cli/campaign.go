package cli

import (
	"cmp"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/plan"
	"hopperful/plan/campaign"
	"hopperful/plan/plausibility"
	"hopperful/shop"
)

func campaignCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use:     "campaign",
		Example: `  hopperful campaign begin vase --mill Grumble`,
		Args:    unknownCommand,
		RunE:    func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	simple := func(use, before string, mark shop.Mark) *cobra.Command {
		return marking(env, use, "  hopperful campaign begin vase --mill Grumble\n"+before+"  hopperful campaign "+use, func(string) (shop.CampaignMarked, error) {
			return shop.CampaignMarked{What: mark}, nil
		})
	}
	c.AddCommand(beginCommand(env), sheetCommand(env), markCommand(env), chargeCommand(env),
		simple("pause", "", shop.PausedMark),
		simple("resume", "  hopperful campaign pause\n", shop.ResumedMark),
		simple("end", "", shop.EndedMark),
		simple("take-back", "", shop.TakenBackMark))
	return c
}

// offerCampaign says how the campaign of a plan is begun with what it was asked for,
// or that one goes on.
func offerCampaign(env *Env, state *shop.State, g plan.Grinding, need string, req plan.Request) {
	if one, open := state.Running(g.Mill); open {
		plain(env.Out, "%s", env.speaks().Line("plan.goes_on", fact.Name("mill", g.Mill), fact.Name("command", quoted([]string{"now", "--mill", one.Mill}))))
		return
	}
	if g.Setting.Charges.Value >= 1 && need != "-" {
		words := []string{"campaign", "begin", need, "--polymer", g.Polymer, "--mill", g.Mill}
		if colour := cmp.Or(req.Colour, req.Need.Colour); colour != "" {
			words = append(words, "--colour", colour)
		}
		for _, l := range req.Lots {
			words = append(words, "--lot", string(l))
		}
		plain(env.Out, "%s", env.speaks().Line("plan.work_through", fact.Name("command", quoted(words))))
	}
}

func beginCommand(env *Env) *cobra.Command {
	var reading readingFlags
	var common noting
	var lotWords []string
	var mill string
	c := &cobra.Command{
		Use: "begin NEED...",
		Example: `  hopperful campaign begin vase --mill Grumble
  hopperful campaign begin 400g 200g --polymer PETG --mill Rattle`,
		Args: takes(1, 20, "takes.at_least_one_need_a"),
		RunE: func(c *cobra.Command, args []string) error {
			state, err := readShop(c, env)
			if err != nil {
				return err
			}
			req := plan.Request{Mill: mill, Colour: reading.colour, Now: env.Now()}
			if req.Lots, err = lots(lotWords); err != nil {
				return err
			}
			for i, word := range args {
				found, err := reading.find(c, env, state, word)
				if err != nil {
					return err
				}
				if i == 0 {
					req.Need = found.Need
				} else {
					req.Also = append(req.Also, found.Need)
				}
			}
			g, err := plan.Grind(state, req)
			if err != nil {
				return err
			}
			b, err := campaign.Begin(g, req, "")
			if err != nil {
				return err
			}
			return writeCampaign(c, env, common, b, 0)
		},
	}
	reading.flags(c)
	f := c.Flags()
	f.StringArrayVar(&lotWords, "lot", nil, "")
	f.StringVar(&mill, "mill", "", "")
	whenAndWho(c, env, &common)
	completes(c, env, openNeeds, cobra.ShellCompDirectiveDefault)
	completesFlag(c, env, "lot", lotsOnHand)
	completesFlag(c, env, "mill", millsInUse)
	completesFlag(c, env, "polymer", knownMaterials)
	return c
}

// whenAndWho adds the flags that every record of a campaign has; none of them
// corrects another.
func whenAndWho(c *cobra.Command, env *Env, n *noting) {
	c.Flags().Var(whenFlag{now: env.Now, into: &n.at}, "at", "")
	c.Flags().StringVar(&n.by, "by", "", "")
	c.Flags().StringVar(&n.note, "note", "", "")
	shopFlag(c)
}

// writeCampaign keeps a record and tells where the campaign then stands; of the
// record that begins one, its own.
func writeCampaign(c *cobra.Command, env *Env, n noting, b shop.Body, id shop.RecordID) error {
	books, err := openShop(c, env)
	if err != nil {
		return err
	}
	defer books.Close()
	kept, after, err := books.Append(c.Context(), shop.Record{At: n.at, By: n.by, Note: n.note, Body: b})
	if err != nil {
		return err
	}
	if id == 0 {
		id = kept.ID
	}
	if err := tellCampaign(c, env, speaks(env, after), after, id); err != nil || asJSON(c) {
		return err
	}
	ask(env, questionsOut(env.speaks(), plausibility.Of(after, kept.ID)))
	return nil
}

// marking is a command that says one thing of the campaign at a mill; word is the
// command's, "" where it takes none.
func marking(env *Env, use, example string, mark func(word string) (shop.CampaignMarked, error)) *cobra.Command {
	var common noting
	var mill string
	words := 0
	if strings.Contains(use, " ") {
		words = 1
	}
	c := &cobra.Command{
		Use: use, Example: example,
		Args: takes(words, words, "takes.what_happened_and_flags"),
		RunE: func(c *cobra.Command, args []string) error {
			state, err := readShop(c, env)
			if err != nil {
				return err
			}
			one, err := campaignAt(c, env, state, mill)
			if err != nil {
				return err
			}
			b, err := mark(strings.Join(args, ""))
			if err != nil {
				return usage(c, err)
			}
			b.Campaign = one.ID
			if err := campaign.Fits(one, b.What); err != nil {
				return err
			}
			if b.What == shop.RunStarted {
				if b.Cycle, err = startedCycle(state, one, env.Now()); err != nil {
					return err
				}
			}
			return writeCampaign(c, env, common, &b, one.ID)
		},
	}
	c.Flags().StringVar(&mill, "mill", "", "")
	whenAndWho(c, env, &common)
	completesFlag(c, env, "mill", millsInUse)
	return c
}

// startedCycle is what the plan says of the charge that starts.
func startedCycle(state *shop.State, one shop.Campaign, now time.Time) (*shop.Cycle, error) {
	ahead, err := campaign.Plan(state, one.ID, now)
	if err != nil {
		return nil, err
	}
	cycle := campaign.Charge(one, ahead)
	return &cycle, nil
}
