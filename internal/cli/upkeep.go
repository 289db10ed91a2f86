package cli

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/plan/upkeep"
	"hopperful/quantity"
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
		Args: takes(0, 0, "flags only"),
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
				return answers(c, env, speaks(c, env, state), doc)
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
			return answers(c, env, speaks(c, env, state), doc)
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
		return all, &failure{say: name + " is larger than a table of lives.", hint: "Give one life a line, or how many with the same: life,fate,count."}
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
			return all, &failure{say: fmt.Sprintf("%s: %v.", name, err), hint: "Write life,fate,count, one a line."}
		}
		line, _ := t.FieldPos(0)
		if err := livesLine(&all, row, line == 1); err != nil {
			return all, &failure{say: fmt.Sprintf("%s, line %d: %v.", name, line, err), hint: "Write life,fate,count, one a line: 230,failed or 50,running,288."}
		}
	}
}

// livesLine takes one line up.
func livesLine(all *upkeep.Lives, row []string, first bool) error {
	life, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(row[0]), ",", ".", 1), 64)
	if err != nil && first {
		return nil
	}
	switch {
	case err != nil || !(life > 0) || life > 1e12:
		return fmt.Errorf("%q is no life above nothing", row[0])
	case len(row) < 2:
		return errors.New("it does not say whether the part failed or is running")
	}
	n := 1
	if len(row) > 2 && strings.TrimSpace(row[2]) != "" {
		if n, err = strconv.Atoi(strings.TrimSpace(row[2])); err != nil || n < 0 || n > 100_000 {
			return fmt.Errorf("%q is no number of parts", row[2])
		}
	}
	into := &all.Failed
	switch strings.ToLower(strings.TrimSpace(row[1])) {
	case "failed":
	case "running":
		into = &all.Running
	default:
		return fmt.Errorf("%q is neither failed nor running", row[1])
	}
	for range n {
		if len(all.Failed)+len(all.Running) > 100_000 {
			return errors.New("there are more than 100 000 parts")
		}
		*into = append(*into, life)
	}
	return nil
}
