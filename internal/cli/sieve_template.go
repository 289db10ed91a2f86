package cli

import (
	"bytes"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/internal/exchange"
	"hopperful/plan/sieving"
	"hopperful/process/sieve"
)

// sieveTemplate is an empty table to fill in.
type sieveTemplate struct {
	series, out string
	gross       bool
}

func (t *sieveTemplate) flags(c *cobra.Command) {
	f := c.Flags()
	f.StringVar(&t.series, "template", "", "")
	tells(c, "template", exchange.SeriesNames())
	f.BoolVar(&t.gross, "gross", false, "")
	f.StringVar(&t.out, "out", "", "")
}

// write prints the table, or makes a file of it. It overwrites nothing.
func (t *sieveTemplate) write(c *cobra.Command, env *Env) error {
	if asJSON(c) {
		return usagef(c, fact.Say("cli.template_no_json"))
	}
	sieves, err := t.sieves(c, env)
	if err != nil {
		return err
	}
	if t.out == "" {
		env.raw = true
		return exchange.WriteTemplate(env.Out, env.speaks().Language, sieves, t.gross, exchange.CSV)
	}
	format, err := tableFormat(c, t.out)
	if err != nil {
		return err
	}
	var text bytes.Buffer
	if err := exchange.WriteTemplate(&text, env.speaks().Language, sieves, t.gross, format); err != nil {
		return err
	}
	if err := newFile(t.out, &text); err != nil {
		return err
	}
	plain(env.Out, "%s", env.speaks().Line("cli.table_written", fact.Count("n", len(sieves)), fact.Name("out", t.out)))
	return nil
}

// sieves are those of the series, of the list, or those that suit the mill.
func (t *sieveTemplate) sieves(c *cobra.Command, env *Env) ([]sieve.Sieve, error) {
	if t.series != "mill" {
		return exchange.SievesNamed(t.series)
	}
	state, err := readShopIfAny(c, env)
	if err != nil {
		return nil, err
	}
	return sieving.UsualStack(state, ""), nil
}
