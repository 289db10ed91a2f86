package cli

import (
	"bytes"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/internal/exchange"
	"hopperful/shop"
)

func exportCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use: "export FILE",
		Example: `  hopperful export all.jsonl
  hopperful export all.xlsx`,
		Args: takes(1, 1, "takes.the_file_to_write_or"),
		RunE: func(c *cobra.Command, args []string) error {
			if asJSON(c) {
				return usagef(c, fact.Say("cli.export_no_json"))
			}
			write, err := exporting(c, args[0])
			if err != nil {
				return err
			}
			state, err := readShop(c, env)
			if err != nil {
				return err
			}
			if args[0] == "-" {
				env.raw = true
				return write(env.Out, state)
			}
			var text bytes.Buffer
			if err := write(&text, state); err != nil {
				return err
			}
			size := text.Len()
			if err := newFile(args[0], &text); err != nil {
				return err
			}
			plain(env.Out, "%s", env.speaks().Line("cli.file_size_named", fact.Name("word", args[0]), fact.Count("n", int(state.History.Len())), fact.Count("word2", int((size+999)/1000))))
			return nil
		},
	}
	shopFlag(c)
	return c
}

// exporting is what writes a file of that name.
func exporting(c *cobra.Command, name string) (func(io.Writer, *shop.State) error, error) {
	switch low := strings.ToLower(name); {
	case low == "-" || strings.HasSuffix(low, ".jsonl"):
		return func(w io.Writer, s *shop.State) error { return exchange.WriteLines(w, s.History.List()) }, nil
	case strings.HasSuffix(low, ".csv"):
		return func(w io.Writer, s *shop.State) error {
			return exchange.WriteRecordsCSV(w, s, s.Shop.DecimalComma)
		}, nil
	case strings.HasSuffix(low, ".xlsx"):
		return exchange.WriteRecordsXLSX, nil
	}
	return nil, usagef(c, fact.Say("cli.export_ending", fact.Name("name", name)))
}
