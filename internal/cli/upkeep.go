package cli

import (
	"encoding/csv"
	"errors"
	"io"
	"os"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/plan/upkeep"
	"hopperful/quantity"
	"hopperful/shop"
)

// mostLivesFile bounds a table of lives, which is read whole.
const mostLivesFile = 1 << 20

func upkeepCommand(env *Env) *cobra.Command {
	var mill, lives string
	var look, spoilt *float64
	c := &cobra.Command{
		Use: "upkeep",
		Example: `  hopperful upkeep
  hopperful upkeep --mill Rattle --look 8min --spoilt 40min
  hopperful upkeep --lives bearings.csv`,
		Args: takes(0, 0, "takes.flags_only"),
		RunE: func(c *cobra.Command, _ []string) error {
			if lives != "" {
				state, err := readShopIfAny(c, env)
				if err != nil {
					return err
				}
				all, err := readLives(lives)
				if err != nil {
					return err
				}
				doc, err := upkeep.OfLives(all)
				if err != nil {
					return err
				}
				return answers(c, env, speaks(env, state), doc)
			}
			state, err := readShop(c, env)
			if err != nil {
				return err
			}
			var o upkeep.Options
			if look != nil {
				o.Look = *look
			}
			if spoilt != nil {
				o.Spoilt = *spoilt
			}
			doc, err := upkeep.Of(state, mill, o)
			if err != nil {
				return err
			}
			return answers(c, env, speaks(env, state), doc)
		},
	}
	c.Flags().StringVar(&mill, "mill", "", "")
	c.Flags().StringVar(&lives, "lives", "", "")
	quantityVar(c, &look, "look", quantity.Duration)
	quantityVar(c, &spoilt, "spoilt", quantity.Duration)
	shopFlag(c)
	completesFlag(c, env, "mill", millsInUse)
	return c
}

// readLives reads a table of lives.
func readLives(name string) (upkeep.Lives, error) {
	file, err := os.Open(name)
	if err != nil {
		return upkeep.Lives{}, err
	}
	defer file.Close()
	return livesIn(io.LimitReader(file, mostLivesFile+1), name)
}

// livesIn reads lines of life, fate and count; a first line of words is a heading.
func livesIn(r io.Reader, name string) (upkeep.Lives, error) {
	var all upkeep.Lives
	text, err := io.ReadAll(r)
	if err != nil {
		return all, err
	}
	if len(text) > mostLivesFile {
		return all, &failure{what: fact.Say("cli.lives_too_large", fact.Name("name", name)), advice: fact.Say("cli.do_life_a_line")}
	}
	t := csv.NewReader(strings.NewReader(strings.TrimPrefix(string(text), "\ufeff")))
	t.FieldsPerRecord, t.TrimLeadingSpace = -1, true
	if first, _, _ := strings.Cut(string(text), "\n"); strings.Contains(first, ";") {
		t.Comma = ';'
	}
	for {
		row, err := t.Read()
		if errors.Is(err, io.EOF) {
			return all, nil
		}
		if err != nil {
			return all, &failure{what: fact.Say("cli.file_not_opened", fact.Name("path", name), fact.Name("why", err.Error())), advice: fact.Say("cli.do_life_table")}
		}
		line, _ := t.FieldPos(0)
		if wrong := livesLine(&all, row, line == 1); wrong != nil {
			return all, &failure{what: fact.Say("cli.line", fact.Name("name", name), fact.Count("line", line), fact.Parts("why", wrong.What)), advice: fact.Say("cli.do_life_example")}
		}
	}
}

// livesLine takes one line up.
func livesLine(all *upkeep.Lives, row []string, first bool) *shop.Error {
	life, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(row[0]), ",", ".", 1), 64)
	if err != nil && first {
		return nil
	}
	switch {
	case err != nil || !(life > 0) || life > 1e12:
		return cannotBe(fact.Say("cli.not_a_life", fact.Name("row", row[0])))
	case len(row) < 2:
		return cannotBe(fact.Say("cli.life_without_fate"))
	}
	n := 1
	if len(row) > 2 && strings.TrimSpace(row[2]) != "" {
		if n, err = strconv.Atoi(strings.TrimSpace(row[2])); err != nil || n < 0 || n > 100_000 {
			return cannotBe(fact.Say("cli.not_a_count", fact.Name("row", row[2])))
		}
	}
	into := &all.Failed
	switch strings.ToLower(strings.TrimSpace(row[1])) {
	case "failed":
	case "running":
		into = &all.Running
	default:
		return cannotBe(fact.Say("cli.not_a_fate", fact.Name("row", row[1])))
	}
	for range n {
		if len(all.Failed)+len(all.Running) > 100_000 {
			return cannotBe(fact.Say("cli.too_many_parts"))
		}
		*into = append(*into, life)
	}
	return nil
}
