package cli

// What the commands that write one record down have in common: they name what they cannot
// do without, read it into the record's body, and keep that.

import (
	"github.com/spf13/cobra"

	"hopperful/quantity"
	"hopperful/shop"
)

// recording is a command that writes one record down.
type recording struct {
	noting
	*cobra.Command
	env   *Env
	needs []string                    // flags that must be given
	reads []func(args []string) error // in their order, once all that is needed is given
}

// lot reads the first word as the label of a lot.
func (r *recording) lot(into *shop.LotID) {
	r.reads = append(r.reads, func(args []string) (err error) {
		*into, err = shop.ParseLot(args[0])
		return err
	})
	completes(r.Command, r.env, lotsOnHand, cobra.ShellCompDirectiveNoFileComp)
}

// mass reads the second word.
func (r *recording) mass(into *float64) {
	r.reads = append(r.reads, func(args []string) (err error) {
		*into, err = quantityArg(r.Command, quantity.Mass, args[1])
		return err
	})
}

// lotVar adds a flag for the label of a lot, which may be left out.
func (r *recording) lotVar(into *shop.LotID, flag string) {
	text := ""
	r.Flags().StringVar(&text, flag, "", "")
	completesFlag(r.Command, r.env, flag, lotsOnHand)
	r.reads = append(r.reads, func([]string) (err error) {
		*into, err = optionalLot(text)
		return err
	})
}

// known adds a flag for a quantity that must be known.
func (r *recording) known(into *float64, flag string, kind quantity.Kind) {
	var typed *float64
	quantityVar(r.Command, &typed, flag, kind)
	r.needs = append(r.needs, flag)
	r.reads = append(r.reads, func([]string) (err error) {
		*into, err = given(r.Command, flag, typed)
		return err
	})
}

// keeping is the command that keeps this body as it was read.
func (r *recording) keeping(b shop.Body) *cobra.Command {
	return r.making(func(*shop.State) (shop.Body, error) { return b, nil })
}

// making is the command that keeps what body makes of the shop as it is.
func (r *recording) making(body func(*shop.State) (shop.Body, error)) *cobra.Command {
	r.RunE = func(_ *cobra.Command, args []string) error {
		if err := needed(r.Command, r.needs...); err != nil {
			return err
		}
		for _, read := range r.reads {
			if err := read(args); err != nil {
				return err
			}
		}
		return r.write(r.Command, r.env, body)
	}
	r.flags(r.Command, r.env)
	shopFlag(r.Command)
	return r.Command
}
