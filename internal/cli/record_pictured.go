package cli

import (
	"encoding/base64"
	"errors"
	"os"

	"github.com/spf13/cobra"

	"hopperful/internal/photo"
	"hopperful/process/grain"
	"hopperful/shop"
)

func picturedCommand(env *Env) *cobra.Command {
	var common noting
	var to int64
	c := &cobra.Command{
		Use: "pictured [LOT] FILE",
		Example: `  hopperful record pictured R1 heap.jpg --note "long flakes"
  hopperful record pictured --record 12 a.jpg`,
		Args: takes(1, 2, "takes.label_and_picture"),
		RunE: func(c *cobra.Command, args []string) error {
			b := shop.Pictured{Record: shop.RecordID(to)}
			if len(args) == 2 {
				var err error
				if b.Lot, err = shop.ParseLot(args[0]); err != nil {
					return err
				}
			}
			file, err := os.Open(args[len(args)-1])
			if err != nil {
				return err
			}
			defer file.Close()
			jpeg, err := photo.Kept(file)
			if refused := (*grain.Refusal)(nil); errors.As(err, &refused) {
				return refusedPicture(speaks(env, nil), args[len(args)-1], err)
			}
			if err != nil {
				return err
			}
			b.Picture = base64.StdEncoding.EncodeToString(jpeg)
			return common.write(c, env, func(*shop.State) (shop.Body, error) { return &b, nil })
		},
	}
	c.Flags().Int64Var(&to, "record", 0, "")
	c.Flags().Var(whenFlag{now: env.Now, into: &common.at}, "at", "")
	c.Flags().StringVar(&common.by, "by", "", "")
	c.Flags().StringVar(&common.note, "note", "", "")
	shopFlag(c)
	return c
}
