package cli

import (
	"fmt"
	"os"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/plan/plausibility"
	"hopperful/shop"
)

func recordsCommand(env *Env) *cobra.Command {
	var last int
	var kind, picture string
	var history, asked bool
	c := &cobra.Command{
		Use: "records [RECORD]",
		Example: `  hopperful records 78
  hopperful records --last 10
  hopperful records --asked
  hopperful records --kind ground
  hopperful records --history --json`,
		Args: takes(0, 1, "takes.at_most_one_record_s"),
		RunE: func(c *cobra.Command, args []string) error {
			if last < 0 {
				return usagef(c, fact.Say("cli.last_is_below_zero", fact.Count("last", last)))
			}
			state, err := readShop(c, env)
			if err != nil {
				return err
			}
			from := state.Records
			if history {
				from = state.History
			}
			if picture != "" {
				return writePicture(c, state, args, picture)
			}
			if len(args) == 1 {
				return showOne(c, env, state, args[0])
			}
			open := map[shop.RecordID][]questionJSON{}
			for _, q := range questionsOut(speaks(env, state), plausibility.Open(state)) {
				open[q.Record] = append(open[q.Record], q)
			}
			records := []recordJSON{}
			for _, r := range from.Backward() {
				if last > 0 && len(records) == last {
					break
				}
				if kind != "" && r.Body.Kind() != kind {
					continue
				}
				out := recordOut(speaks(env, state), r)
				if r.Corrects == 0 {
					out.Questions = open[r.ID]
				}
				if !asked || len(out.Questions) > 0 {
					records = append(records, out)
				}
			}
			slices.Reverse(records)
			if err := showRecords(c, env, records, last > 0 || asked); err != nil || !asked || asJSON(c) {
				return err
			}
			for _, r := range records {
				plain(env.Out, "")
				ask(env, r.Questions)
			}
			return nil
		},
	}
	c.Flags().IntVar(&last, "last", 0, "")
	c.Flags().Var(wordFlag{kinds(), &kind}, "kind", "")
	c.Flags().BoolVar(&history, "history", false, "")
	c.Flags().StringVar(&picture, "picture-to", "", "")
	c.Flags().BoolVar(&asked, "asked", false, "")
	shopFlag(c)
	return c
}

// kinds are the names of the kinds of record.
func kinds() []string {
	var names []string
	for _, b := range shop.Bodies() {
		names = append(names, b.Kind())
	}
	return names
}

// showRecords prints records; unless they were asked for by number, the newest that fit.
func showRecords(c *cobra.Command, env *Env, records []recordJSON, counted bool) error {
	if asJSON(c) {
		return writeJSON(env, struct {
			Records []recordJSON `json:"records"`
		}{records})
	}
	if len(records) == 0 {
		plain(env.Out, "%s", env.speaks().Line("cli.nothing_recorded"))
		return nil
	}
	g := newGrid(env, ">cell.number", "cell.when", "cell.who", "cell.what", "cell.note")
	p := env.speaks()
	for _, r := range records {
		note := r.Note
		if r.Corrects != 0 {
			note = p.Line("cell.corrects", fact.Count("n", int(r.Corrects)), fact.Name("note", note))
		}
		if r.CorrectedBy != 0 {
			note = p.Line("cell.corrected_by", fact.Count("n", int(r.CorrectedBy)), fact.Name("note", note))
		}
		if len(r.Questions) > 0 {
			note = p.Line("cell.asked_about", fact.Name("note", note))
		}
		g.row(fmt.Sprint(r.ID), shown(r.At), r.By, r.Says, note)
	}
	if counted {
		g.print()
	} else {
		g.fold(c, mostLines, true)
	}
	return nil
}

// shown renders a record's time stamp for a table.
func shown(stamp string) string {
	t, err := time.Parse(time.RFC3339, stamp)
	if err != nil {
		return stamp
	}
	return t.Format("2006-01-02 15:04")
}

// writePicture writes the picture kept with a record into a file.
func writePicture(c *cobra.Command, state *shop.State, args []string, file string) error {
	if len(args) != 1 {
		return usagef(c, fact.Say("cli.picture_of_one_record"))
	}
	id, err := number(c, args[0])
	if err != nil {
		return err
	}
	r, ok := standingAs(state, id)
	b, sieved := r.Body.(*shop.Sieved)
	if !ok || !sieved || b.Kept() == nil {
		return &failure{what: fact.Say("cli.picture_none", fact.Count("id", int(id))), advice: fact.Say("cli.do_keep_picture")}
	}
	return os.WriteFile(file, b.Kept(), 0o644)
}

// showOne shows one record as it stands, what is asked about it, and the command that would
// write it again.
func showOne(c *cobra.Command, env *Env, state *shop.State, text string) error {
	id, err := number(c, text)
	if err != nil {
		return err
	}
	r, ok := standingAs(state, id)
	if !ok {
		return &failure{what: fact.Say("cli.record_none", fact.Count("id", int(id))), advice: fact.Say("cli.do_history")}
	}
	out := recordOut(speaks(env, state), r)
	out.Questions = questionsOut(speaks(env, state), plausibility.Of(state, r.ID))
	if words := again(env, r); words != nil {
		out.Again = quoted(words)
	}
	if err := showRecords(c, env, []recordJSON{out}, true); err != nil || asJSON(c) {
		return err
	}
	if out.Picture != nil {
		plain(env.Out, "\n%s", env.speaks().Line("cli.picture_kept", fact.Count("word", int((out.Picture.Bytes+999)/1000)), fact.Name("get", out.Picture.Get)))
	}
	if out.Again != "" {
		plain(env.Out, "\n%s", env.speaks().Line("cli.written_again", fact.Name("again", out.Again)))
	}
	ask(env, out.Questions)
	return nil
}
