package cli

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/internal/exchange"
	"hopperful/internal/store"
	"hopperful/plan/notebook"
	"hopperful/shop"
)

func importCommand(env *Env) *cobra.Command {
	var write bool
	var dates, template string
	c := &cobra.Command{
		Use: "import FILE",
		Example: `  hopperful import notebook.csv
  hopperful import notebook.csv --write
  hopperful import --template mine.xlsx`,
		Args: takes(0, 1, "takes.one_file_or_for_standard"),
		RunE: func(c *cobra.Command, args []string) error {
			switch {
			case template != "" && (len(args) > 0 || write):
				return usagef(c, fact.Say("cli.template_without_write"))
			case template != "":
				return bookTemplate(c, env, template)
			case len(args) == 0:
				return usagef(c, fact.Say("cli.do_notebook_or_template"))
			}
			return importBook(c, env, args[0], exchange.DateOrder(dates), write)
		},
	}
	c.Flags().BoolVar(&write, "write", false, "")
	wordVar(c, env, &dates, "dates", []string{string(exchange.DayFirst), string(exchange.MonthFirst)})
	c.Flags().StringVar(&template, "template", "", "")
	shopFlag(c)
	return c
}

// importBook reads a notebook, shows what becomes of it, and writes it where that
// was asked for.
func importBook(c *cobra.Command, env *Env, name string, dates exchange.DateOrder, write bool) error {
	in, size, err := openBook(env, name)
	if err != nil {
		return err
	}
	defer in.Close()
	judge, err := readBook(env, name, in, size, dates)
	if err != nil {
		return err
	}
	if !write {
		state, err := readShop(c, env)
		if store.Is(err, store.Missing) { // it is made with its first records
			state, err = shop.Fold(nil)
		}
		if err != nil {
			return err
		}
		r := judge(state)
		if err := answers(c, env, speaks(env, state), r.Document); err != nil {
			return err
		}
		if !asJSON(c) && len(r.Records) > 0 {
			plain(env.Out, "\nhopperful import %s --write", name)
		}
		return nil
	}
	return writeBook(c, env, judge)
}

// readBook reads a notebook, or a whole shop as JSON Lines, and returns what judges
// it by a shop.
func readBook(env *Env, name string, in io.Reader, size int64, dates exchange.DateOrder) (func(*shop.State) notebook.Result, error) {
	if low := strings.ToLower(name); strings.HasSuffix(low, ".jsonl") {
		records, err := exchange.ReadLines(shownAs(env, name), in, size)
		return func(s *shop.State) notebook.Result { return notebook.Whole(s, env.Now(), records) }, err
	}
	book, err := exchange.ReadNotebook(shownAs(env, name), in, size, exchange.BookReading{Now: env.Now(), Dates: dates})
	return func(s *shop.State) notebook.Result { return notebook.Of(s, env.Now(), book.Lines, book.Notes...) }, err
}

// writeBook judges a notebook by the shop as it is now, and writes it. One that is
// refused is shown, and the command fails.
func writeBook(c *cobra.Command, env *Env, judge func(*shop.State) notebook.Result) error {
	books, err := openShop(c, env)
	if err != nil {
		return err
	}
	defer books.Close()
	state, err := books.State()
	if err != nil {
		return err
	}
	r := judge(state)
	p := speaks(env, state)
	if len(r.Records) == 0 {
		if len(r.Document.Spoilers) == 0 || r.Count(notebook.Refused) == 0 && len(r.Lines) > 0 {
			return answers(c, env, p, r.Document)
		}
		if !asJSON(c) {
			printShort(env, p, p.Document(answer.Document{Head: r.Document.Head, Spoilers: r.Document.Spoilers}))
		}
		return &failure{what: r.Document.Head.Saying, advice: r.Document.Head.Remedies[0]}
	}
	kept, _, err := books.AppendAll(c.Context(), r.Records...)
	if err != nil {
		return err
	}
	return answers(c, env, p, notebook.Written(r, kept))
}

// shownAs is a file's name in messages.
func shownAs(env *Env, name string) string {
	if name == "-" {
		return env.speaks().Line("cli.standard_input")
	}
	return filepath.Base(name)
}

// openBook opens a file, or standard input; its size is -1 where nobody knows it.
func openBook(env *Env, name string) (io.ReadCloser, int64, error) {
	if name == "-" {
		return io.NopCloser(env.In), -1, nil
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, 0, err
	}
	facts, err := f.Stat()
	if err != nil {
		return nil, 0, errors.Join(err, f.Close())
	}
	return f, facts.Size(), nil
}

// bookTemplate writes an empty notebook. It overwrites nothing.
func bookTemplate(c *cobra.Command, env *Env, out string) error {
	if asJSON(c) {
		return usagef(c, fact.Say("cli.template_no_json"))
	}
	state, err := readShopIfAny(c, env)
	if err != nil {
		return err
	}
	lang := speaks(env, state).Language
	if out == "-" {
		env.raw = true
		return exchange.WriteNotebookTemplate(env.Out, lang, exchange.CSV)
	}
	format, err := tableFormat(c, out)
	if err != nil {
		return err
	}
	var text bytes.Buffer
	if err := exchange.WriteNotebookTemplate(&text, lang, format); err != nil {
		return err
	}
	if err := newFile(out, &text); err != nil {
		return err
	}
	plain(env.Out, "%s", env.speaks().Line("cli.notebook_written", fact.Name("out", out)))
	return nil
}

// tableFormat is the kind of table a file's name asks for.
func tableFormat(c *cobra.Command, name string) (exchange.Format, error) {
	switch low := strings.ToLower(name); {
	case strings.HasSuffix(low, ".xlsx"):
		return exchange.XLSX, nil
	case strings.HasSuffix(low, ".csv"):
		return exchange.CSV, nil
	}
	return exchange.CSV, usagef(c, fact.Say("cli.table_ending", fact.Name("name", name)))
}

// newFile writes a file that is not there yet.
func newFile(name string, text io.Reader) error {
	file, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, os.ErrExist) {
		return &failure{what: fact.Say("cli.file_there", fact.Name("name", name)), advice: fact.Say("cli.do_other_name")}
	}
	if err != nil {
		return err
	}
	_, err = io.Copy(file, text)
	return errors.Join(err, file.Close())
}
