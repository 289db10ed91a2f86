package cli

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"strings"

	"github.com/spf13/cobra"

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
	f.StringVar(&t.series, "template", "", "print an empty table: mill for sieves that suit your mill's screen, a series ("+exchange.SeriesNames()+"), or your own sieves: \"4mm 2mm 1mm\"")
	f.BoolVar(&t.gross, "gross", false, "--template: with columns for the full and the empty sieve")
	f.StringVar(&t.out, "out", "", "--template: write it to this file instead, .csv or .xlsx")
}

// write prints the table, or makes a file of it. It overwrites nothing.
func (t *sieveTemplate) write(c *cobra.Command, env *Env) error {
	if asJSON(c) {
		return usagef(c, "--template writes a table; leave --json out.")
	}
	sieves, err := t.sieves(c, env)
	if err != nil {
		return err
	}
	format := exchange.CSV
	switch low := strings.ToLower(t.out); {
	case t.out == "":
		env.raw = true
		return exchange.WriteTemplate(env.Out, sieves, t.gross, format)
	case strings.HasSuffix(low, ".xlsx"):
		format = exchange.XLSX
	case !strings.HasSuffix(low, ".csv"):
		return usagef(c, "--out %s ends neither in .csv nor in .xlsx.", t.out)
	}
	var text bytes.Buffer
	if err := exchange.WriteTemplate(&text, sieves, t.gross, format); err != nil {
		return err
	}
	file, err := os.OpenFile(t.out, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, os.ErrExist) {
		return &failure{say: fmt.Sprintf("There is a file %s already.", t.out), hint: "Give another name; nothing was overwritten."}
	}
	if err != nil {
		return err
	}
	_, err = text.WriteTo(file)
	if err = errors.Join(err, file.Close()); err != nil {
		return err
	}
	plain(env.Out, "Wrote a table of %d sieves and the pan to %s.", len(sieves), t.out)
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
