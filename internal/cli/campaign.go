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
		Use:   "campaign",
		Short: "Work through a plan charge by charge: begin, start, stop, record, pause, end",
		Long: `A campaign is the series of charges that covers one print, or several that share
it. It is begun from a plan, kept with the shop's records, and planned anew after
every charge; hopperful now says where it stands. There is one for each mill.`,
		Example: `  hopperful campaign begin vase --mill Grumble`,
		Args:    unknownCommand,
		RunE:    func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	simple := func(use, before, short string, mark shop.Mark) *cobra.Command {
		return marking(env, use, short, "", "  hopperful campaign begin vase --mill Grumble\n"+before+"  hopperful campaign "+use, func(string) (shop.CampaignMarked, error) {
			return shop.CampaignMarked{What: mark}, nil
		})
	}
	c.AddCommand(beginCommand(env), sheetCommand(env), markCommand(env), chargeCommand(env),
		simple("pause", "", "Leave it for now; everything stays where it is", shop.PausedMark),
		simple("resume", "  hopperful campaign pause\n", "Go on after a pause", shop.ResumedMark),
		simple("end", "", "It is enough, or will not go on", shop.EndedMark),
		simple("take-back", "", "It was begun by mistake; its runs stay on record", shop.TakenBackMark))
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
		Use:   "begin NEED...",
		Short: "Begin a campaign from its plan, for one print or several that share it",
		Long: `Plans as hopperful plan does, and begins a campaign with it. NEED is a file, "-",
a mass or the name of a saved need; several prints of one plastic share a campaign.`,
		Example: `  hopperful campaign begin vase --mill Grumble
  hopperful campaign begin 400g 200g --polymer PETG --mill Rattle`,
		Args: takes(1, 20, "at least one need: a file, a mass such as 240g, or a saved need's name"),
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
	f.StringArrayVar(&lotWords, "lot", nil, "only this lot; may be given several times")
	f.StringVar(&mill, "mill", "", "name of the mill; empty: the first in use")
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
	c.Flags().Var(whenFlag{now: env.Now, into: &n.at}, "at", "when it happened: 16:40 (today), \"2026-11-20 16:40\"; empty: now")
	c.Flags().StringVar(&n.by, "by", "", "who did it")
	c.Flags().StringVar(&n.note, "note", "", "anything worth knowing later")
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
	if err := tellCampaign(c, env, speaks(c, env, after), after, id); err != nil || asJSON(c) {
		return err
	}
	ask(env, questionsOut(env.speaks(), plausibility.Of(after, kept.ID)))
	return nil
}

// marking is a command that says one thing of the campaign at a mill. long may be
// empty; word is the command's, "" where it takes none.
func marking(env *Env, use, short, long, example string, mark func(word string) (shop.CampaignMarked, error)) *cobra.Command {
	var common noting
	var mill string
	words := 0
	if strings.Contains(use, " ") {
		words = 1
	}
	c := &cobra.Command{
		Use: use, Short: short, Long: long, Example: example,
		Args: takes(words, words, "what happened, and flags"),
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
	c.Flags().StringVar(&mill, "mill", "", "name of the mill; may be left out when one campaign goes on")
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
