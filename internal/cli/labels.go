package cli

import (
	"bytes"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/fact"
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
				return usagef(c, fact.Say("cli.not_an_address", fact.Name("address", address)))
			}
			if !strings.HasSuffix(strings.ToLower(out), ".pdf") {
				return usagef(c, fact.Say("cli.out_not_pdf", fact.Name("out", out)))
			}
			paper, _ := drawn.SizeOf(size)
			if skip < 0 || skip >= paper.PerPage() {
				return usagef(c, fact.Say("cli.gone_over_sheet", fact.Count("skip", skip), fact.Count("per_page", int(paper.PerPage()))))
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
		return &failure{what: fact.Say("cli.nothing_to_label"), advice: fact.Say("cli.do_take_in_or_name")}
	}
	p := speaks(env, state)
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
		return &failure{what: fact.Say("cli.code_too_fine", fact.Name("link", fine.Link), fact.Name("dots", fmt.Sprintf("%.2f mm", fine.Module)), fact.Name("size", fine.Size.String())), advice: fact.Say("cli.do_larger_labels"), err: err}
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
	plain(env.Out, "%s", env.speaks().Line("cli.labels_pages", fact.Name("out", out), fact.Count("n", len(ids)), fact.Name("paper", paper.String()), fact.Count("pages", sheets.Pages())))
	return nil
}
