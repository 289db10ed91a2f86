package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"hopperful/shop"
	"hopperful/shop/fields"
)

// asks adds the flags of a kind of record from the table of its fields, in its
// order; into says where each answer goes, by its path. A field of the table that
// has a flag and no place, or the other way round, is a slip of the program and
// stops the first command that is built.
func asks(c *cobra.Command, env *Env, kind string, into map[string]any) {
	placed := 0
	for _, f := range fields.Of(kind) {
		at, ok := into[f.Path]
		switch {
		case f.Flag == "" || c.Flags().Lookup(f.Flag) != nil:
			continue
		case !ok:
			panic(fmt.Sprintf("%s has no place for %s of %s", c.CommandPath(), f.Path, kind))
		}
		placed++
		flagOf(c, env, f, at)
	}
	if placed != len(into) {
		panic(fmt.Sprintf("%s has places for what %s does not ask", c.CommandPath(), kind))
	}
}

// flagOf adds the flag of one field.
func flagOf(c *cobra.Command, env *Env, f fields.Field, at any) {
	switch at := at.(type) {
	case **float64:
		c.Flags().Var(quantityFlag{f.Kind, at}, f.Flag, f.Usage)
	case **int:
		c.Flags().Var(levelFlag{at}, f.Flag, f.Usage)
	case *int:
		c.Flags().IntVar(at, f.Flag, 0, f.Usage)
	case *bool:
		c.Flags().BoolVar(at, f.Flag, false, f.Usage)
	case *shop.YesNo:
		c.Flags().Var(yesNoFlag{at}, f.Flag, f.Usage)
	case *[]shop.LevelWatts:
		c.Flags().Var(wattsFlag{at}, f.Flag, f.Usage)
	case *string:
		if f.As != fields.Pick {
			c.Flags().StringVar(at, f.Flag, *at, f.Usage)
			return
		}
		var words []string
		for _, o := range f.Pick {
			if o.Value != "" {
				words = append(words, o.Value)
			}
		}
		if len(words) < len(f.Pick) {
			words = append(words, "") // said last: it takes the answer away
		}
		wordVar(c, env, at, f.Flag, words)
		c.Flags().Lookup(f.Flag).Usage = f.Usage
	default:
		panic(fmt.Sprintf("--%s cannot be put into a %T", f.Flag, at))
	}
}
