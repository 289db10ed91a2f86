package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/plan/consumption"
	"hopperful/shop"
)

func needCommand(env *Env) *cobra.Command {
	var reading readingFlags
	var save, done string
	var layers bool
	c := &cobra.Command{
		Use: "need [FILE|MASS|-]...",
		Example: `  hopperful need vase.gcode --polymer PLA
  hopperful need wedge.stl --polymer PETG --wall 1.2mm --infill 20%
  hopperful need vase.gcode 120g --polymer PLA --json
  hopperful need 240g --polymer PETG --colour clear --save "rain cover"
  hopperful need 90g --polymer PLA --rgb "#808080" --save "grey hook"
  hopperful need`,
		RunE: func(c *cobra.Command, args []string) error {
			if done != "" {
				return endNeed(c, env, done)
			}
			if len(args) == 0 {
				return listNeeds(c, env)
			}
			if save != "" && len(args) != 1 {
				return usagef(c, fact.Say("cli.save_one_need", fact.Count("n", len(args))))
			}
			return showNeeds(c, env, &reading, args, save, layers)
		},
	}
	reading.flags(c)
	c.Flags().StringVar(&reading.rgb, "rgb", "", "")
	c.Flags().StringVar(&save, "save", "", "")
	c.Flags().StringVar(&done, "done", "", "")
	c.Flags().BoolVar(&layers, "layers", false, "")
	whyFlag(c, "mass")
	shopFlag(c)
	completesFlag(c, env, "done", openNeeds)
	completesFlag(c, env, "polymer", knownMaterials)
	return c
}

func showNeeds(c *cobra.Command, env *Env, reading *readingFlags, words []string, save string, layers bool) error {
	state, err := readShopIfAny(c, env)
	if err != nil {
		return err
	}
	var all []consumption.Found
	var refused []unread
	for _, w := range words {
		found, err := reading.find(c, env, state, w)
		if err != nil {
			if len(words) == 1 || c.Context().Err() != nil {
				return err
			}
			refused = append(refused, unread{w, err})
			continue
		}
		if save != "" {
			found.Need.Name, found.Kept = save, true
		}
		all = append(all, found)
	}
	if len(all) == 0 {
		return refused[0].err
	}
	ask := consumption.Asked{Layers: layers}
	for _, u := range refused {
		ask.Refused = append(ask.Refused, answer.Found(fact.Say("need.not_read", fact.Name("name", u.word), fact.Name("why", u.refusal(env).Say))))
	}
	if err := tellNeeds(c, env, state, all, ask); err != nil {
		return err
	}
	switch {
	case save != "":
		return saveNeed(c, env, all[0].Need)
	case len(refused) > 0:
		return &partly{refused}
	}
	return nil
}

func tellNeeds(c *cobra.Command, env *Env, state *shop.State, all []consumption.Found, ask consumption.Asked) error {
	table, err := state.Table()
	if err != nil {
		return err
	}
	d, err := consumption.Tell(table, all, ask)
	if err != nil {
		return err
	}
	return answers(c, env, speaks(env, state), d)
}

func listNeeds(c *cobra.Command, env *Env) error {
	state, err := readShop(c, env)
	if err != nil {
		return err
	}
	var all []consumption.Found
	for _, n := range state.Needs {
		all = append(all, consumption.Found{Need: n})
	}
	return tellNeeds(c, env, state, all, consumption.Asked{Saved: true})
}

// saveNeed keeps a need in the shop.
func saveNeed(c *cobra.Command, env *Env, n shop.Need) error {
	books, err := openShop(c, env)
	if err != nil {
		return err
	}
	defer books.Close()
	r, _, err := books.Append(c.Context(), shop.Record{Body: &shop.NeedSet{Need: n}})
	if err != nil {
		return err
	}
	fmt.Fprintln(env.Err, env.speaks().Line("cli.saved_as_record", fact.Name("name", n.Name), fact.Count("id", int(r.ID))))
	return nil
}

// endNeed marks a saved need as done.
func endNeed(c *cobra.Command, env *Env, name string) error {
	var common noting
	return common.write(c, env, func(state *shop.State) (shop.Body, error) {
		n, ok := state.Need(name)
		if !ok {
			return nil, noSuchNeed(state, name)
		}
		n.Done = true
		return &shop.NeedSet{Need: n}, nil
	})
}
