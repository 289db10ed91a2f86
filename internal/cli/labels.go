package cli

import (
	"bytes"
	"errors"
	"strings"

	"github.com/spf13/cobra"

	drawn "hopperful/internal/label"
	"hopperful/plan/label"
	"hopperful/shop"
)

func labelsCommand(env *Env) *cobra.Command {
	var size, address, out string
	var skip int
	var keys []string
	for _, s := range drawn.Sizes {
		keys = append(keys, s.Key)
	}
	c := &cobra.Command{
		Use: "labels [LOT]...",
		Example: `  hopperful labels R1 R2 --address http://192.168.1.20:8614 --out labels.pdf
  hopperful labels --size 62x29 --address http://workshop.local:8614 --out roll.pdf`,
		RunE: func(c *cobra.Command, args []string) error {
			if err := needed(c, "address", "out"); err != nil {
				return err
			}
			base, ok := drawn.Base(address)
			if !ok {
				return usagef(c, "--address %s is no address; write it as a phone reaches the pages: http://192.168.1.20:8614.", address)
			}
			if !strings.HasSuffix(strings.ToLower(out), ".pdf") {
				return usagef(c, "--out %s does not end in .pdf.", out)
			}
			paper, _ := drawn.SizeOf(size)
			if skip < 0 || skip >= paper.PerPage() {
				return usagef(c, "--gone %d: a sheet has %d labels.", skip, paper.PerPage())
			}
			return writeLabels(c, env, args, paper, skip, base, out)
		},
	}
	size = keys[0]
	wordVar(c, env, &size, "size", keys)
	c.Flags().IntVar(&skip, "gone", 0, "")
	c.Flags().StringVar(&address, "address", "", "")
	c.Flags().StringVar(&out, "out", "", "")
	shopFlag(c)
	completes(c, env, lotsOnHand, cobra.ShellCompDirectiveNoFileComp)
	return c
}

func writeLabels(c *cobra.Command, env *Env, args []string, paper drawn.Size, skip int, base, out string) error {
	state, err := readShop(c, env)
	if err != nil {
		return err
	}
	ids, err := lots(args)
	if err != nil {
		return err
	}
	if len(ids) == 0 {
		for _, id := range state.Order {
			if state.Lots.At(id).Mass > 0 {
				ids = append(ids, id)
			}
		}
	}
	if len(ids) == 0 {
		return &failure{say: "There is nothing on hand to label.", hint: "Take something in, or name the lots."}
	}
	p := speaks(c, env, state)
	var stickers []drawn.Sticker
	for _, id := range ids {
		l, err := label.Of(state, id, env.Now())
		if err != nil {
			return err
		}
		stickers = append(stickers, drawn.Worded(p, l, base))
	}
	sheets, err := drawn.Draw(stickers, paper, skip)
	var fine *drawn.TooLong
	if errors.As(err, &fine) {
		return &failure{say: sentence(capital(err.Error())), hint: "Take larger labels, or a shorter address.", err: err}
	}
	if err != nil {
		return err
	}
	if err := newFile(out, bytes.NewReader(sheets.PDF())); err != nil {
		return err
	}
	if asJSON(c) {
		return writeJSON(env, struct {
			File   string       `json:"file"`
			Lots   []shop.LotID `json:"lots"`
			Pages  int          `json:"pages"`
			Labels string       `json:"paper"`
		}{out, ids, sheets.Pages(), paper.Key})
	}
	plain(env.Out, "%s: %d labels, %s, pages: %d.", out, len(ids), paper, sheets.Pages())
	return nil
}

// capital begins a sentence.
func capital(text string) string { return strings.ToUpper(text[:1]) + text[1:] }
