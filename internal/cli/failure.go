package cli

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"hopperful/fact"
	"hopperful/internal/account"
	"hopperful/internal/exchange"
	"hopperful/internal/live"
	"hopperful/internal/say"
	"hopperful/internal/store"
	"hopperful/internal/trust"
	"hopperful/shop"
)

// The exit codes.
const (
	exitDone   = 0
	exitFailed = 1
	exitUsage  = 2
)

// usageError says that a command was asked wrongly.
type usageError struct {
	command      string // the command to ask for help about: "hopperful plan"
	what, advice fact.Saying
	flag         string // whose value cannot be; "" where it is not that
	err          error  // why
}

// Error is the code of what is wrong; explain words it.
func (e *usageError) Error() string { return e.what.Code }
func (e *usageError) Unwrap() error { return e.err }

// usage wraps an error of cobra or of a flag's value.
func usage(c *cobra.Command, err error) error {
	var already *usageError
	if errors.As(err, &already) {
		return err
	}
	e := &usageError{command: c.CommandPath(), what: fact.Verbatim(err.Error()), err: err}
	var value *pflag.InvalidValueError
	var without *pflag.ValueRequiredError
	switch {
	case errors.As(err, &value):
		e.flag = value.GetFlag().Name
		e.what = fact.Say("cli.value_unread", fact.Name("value", value.GetValue()))
	case errors.As(err, &without):
		e.what = fact.Say("cli.flag_without_value", fact.Name("flag", without.GetSpecifiedName()))
	}
	return e
}

// usagef is a usageError with what was wrong.
func usagef(c *cobra.Command, what fact.Saying) error {
	return &usageError{command: c.CommandPath(), what: what}
}

// cannotBe refuses a typed value.
func cannotBe(what fact.Saying) *shop.Error {
	return shop.Refuse(shop.Invalid, "", what, fact.Saying{})
}

// failure is a refusal with advice that no package below could give.
type failure struct {
	what, advice fact.Saying
	err          error
}

// Error is the code of what is wrong; explain words it.
func (e *failure) Error() string { return e.what.Code }
func (e *failure) Unwrap() error { return e.err }

// refusal is the JSON form of a refusal.
type refusal struct {
	Say   string `json:"say"`
	Hint  string `json:"hint,omitempty"`
	Field string `json:"field,omitempty"`
	Code  string `json:"code"`
	What  string `json:"what,omitempty"` // the code of what is wrong
}

// report prints err for people and, with --json, for programs, and returns the
// exit code.
func report(env *Env, args []string, err error) int {
	if err == nil {
		return exitDone
	}
	var some *partly
	if errors.As(err, &some) { // the answer is out already, for programs too
		for _, u := range some.not {
			u.refusal(env).print(env)
		}
		return exitFailed
	}
	path := env.shopOf(args)
	if silent := (*store.Error)(nil); !store.OnServer(path) || !errors.As(err, &silent) { // a server that did not answer is not asked again
		env.hearShop(context.Background(), path)
	}
	a, code := explain(env, err)
	if wantsJSON(args) {
		if err := json.NewEncoder(env.Out).Encode(map[string]refusal{"error": a}); err != nil {
			fmt.Fprintf(env.Err, "hopperful: %v\n", err)
		}
	}
	a.print(env)
	var more shop.Faults
	if errors.As(err, &more) {
		for _, e := range more[1:] {
			one, _ := explain(env, e)
			one.print(env)
		}
	}
	return code
}

// print says it to a person.
func (a refusal) print(env *Env) {
	text := "hopperful: " + a.Say
	if a.Hint != "" {
		text += "\n" + a.Hint
	}
	for line := range strings.SplitSeq(text, "\n") {
		fmt.Fprintln(env.Err, wrap(line, env.width()))
	}
}

// explain turns an error into the user's words and an exit code.
func explain(env *Env, err error) (refusal, int) {
	p := env.speaks()
	if errors.Is(err, context.Canceled) {
		return refusal{Say: p.Line("cli.stopped"), Hint: p.Line("cli.nothing_written"), Code: "stopped"}, exitFailed
	}
	var asked *usageError
	if errors.As(err, &asked) {
		return explainUsage(p, asked), exitUsage
	}
	told := func(code string, what, advice fact.Saying) (refusal, int) {
		return refusal{Say: sentence(p.Say(what)), Hint: hint(p, advice), Code: code}, exitFailed
	}
	var barred *account.Refused
	var own *failure
	var sensors *live.Refusal
	var keys *trust.Refusal
	switch {
	case errors.As(err, &barred):
		return told("not_allowed", barred.What, barred.Advice)
	case errors.As(err, &own):
		return told("failed", own.what, own.advice)
	case errors.As(err, &sensors):
		return told("failed", sensors.What, sensors.Advice)
	case errors.As(err, &keys):
		return told("failed", keys.What, keys.Advice)
	}
	var refused *shop.Error
	if errors.As(err, &refused) {
		return refusal{Say: sentence(p.Say(refused.What)), Hint: hint(p, refused.Advice), Field: refused.Field, Code: string(refused.Code), What: refused.What.Code}, exitFailed
	}
	var kept *store.Error
	if errors.As(err, &kept) {
		r, code := told(string(kept.Code), kept.What, kept.Advice)
		if kept.Err != nil {
			r.Hint = strings.TrimSpace(r.Hint + " " + p.Line("cli.system_says", fact.Name("why", kept.Err.Error())))
		}
		return r, code
	}
	var table *exchange.Error
	if errors.As(err, &table) {
		return told("failed", table.Says(), table.Advice)
	}
	if e := shop.Refused(shop.Invalid, "", err); e.Known() {
		return refusal{Say: sentence(p.Say(e.What)), Hint: hint(p, e.Advice), Code: "failed", What: e.What.Code}, exitFailed
	}
	var path *fs.PathError
	if errors.As(err, &path) {
		return told("failed", fact.Say("cli.file_not_opened", fact.Name("path", path.Path), fact.Name("why", path.Err.Error())), fact.Say("cli.check_path"))
	}
	return told("failed", fact.Verbatim(err.Error()), fact.Saying{})
}

// hint is the advice and, on a line of its own, the command that follows it.
func hint(p *say.Printer, advice fact.Saying) string {
	return strings.TrimSpace(p.Say(advice) + "\n" + commandFor(advice))
}

// explainUsage words what was asked wrongly.
func explainUsage(p *say.Printer, asked *usageError) refusal {
	out := refusal{Say: sentence(p.Say(asked.what)), Hint: p.Say(asked.advice), Code: "usage"}
	var e *shop.Error
	if !errors.As(asked.err, &e) {
		e = shop.Refused(shop.Invalid, "", asked.err)
	}
	if e.Known() {
		out.Say, out.Hint, out.What = sentence(p.Say(e.What)), hint(p, e.Advice), e.What.Code
	}
	if asked.flag != "" {
		out.Say = "--" + asked.flag + ": " + out.Say
	}
	if out.Hint == "" {
		out.Hint = p.Line("cli.how_it_is_asked", fact.Name("command", asked.command))
	}
	return out
}

// wantsJSON looks for --json in what was typed, because a refusal may come
// before the flags are parsed.
func wantsJSON(args []string) bool {
	for _, a := range args {
		switch a {
		case "--":
			return false
		case "--json", "--json=true":
			return true
		}
	}
	return false
}

// sentence ends a text with a full stop.
func sentence(text string) string {
	if text == "" || strings.HasSuffix(text, ".") || strings.HasSuffix(text, "?") {
		return text
	}
	return text + "."
}

// unknownCommand refuses words after the bare program name and offers the
// nearest commands.
func unknownCommand(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	c.SuggestionsMinimumDistance = 2
	e := &usageError{command: c.CommandPath(), what: fact.Say("cli.no_command", fact.Name("command", c.CommandPath()+" "+args[0]))}
	if near := c.SuggestionsFor(args[0]); len(near) > 0 {
		e.advice = fact.Say("cli.did_you_mean", fact.Either("near", near))
	}
	return e
}

// flagError says what is wrong with a flag, and what a misspelt one may have been.
func flagError(c *cobra.Command, err error) error {
	var unknown *pflag.NotExistError
	if !errors.As(err, &unknown) {
		return usage(c, err)
	}
	if c.HasSubCommands() { // a flag of a command that is misspelt itself
		if err := c.ValidateArgs(c.Flags().Args()); err != nil {
			return err
		}
	}
	e := &usageError{command: c.CommandPath(), what: fact.Say("cli.has_no_flag", fact.Name("command", c.CommandPath()), fact.Name("flag", unknown.GetSpecifiedName()))}
	var known []string
	c.Flags().VisitAll(func(f *pflag.Flag) {
		if !f.Hidden {
			known = append(known, f.Name)
		}
	})
	if near := shop.Nearest(unknown.GetSpecifiedName(), known); len(near) > 0 {
		for i := range near {
			near[i] = "--" + near[i]
		}
		e.advice = fact.Say("cli.did_you_mean", fact.Either("near", near))
	}
	return e
}

// unread is one of several things asked about that could not be read.
type unread struct {
	word string // as it was typed
	err  error
}

// refusal says why, with the word it is about.
func (u unread) refusal(env *Env) refusal {
	a, _ := explain(env, u.err)
	if !strings.Contains(a.Say, filepath.Base(u.word)) {
		a.Say = u.word + ": " + a.Say
	}
	return a
}

// partly says that some of what was asked is answered, and why the rest is not.
type partly struct{ not []unread }

func (e *partly) Error() string {
	return fmt.Sprint(len(e.not)) // each is told by itself
}

// takes wraps one of cobra's counts of arguments so that a miscount is a usage
// error in our words.
func takes(least, most int, what string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) < least || (most >= 0 && len(args) > most) {
			return usagef(c, fact.Say("cli.words_miscounted", fact.Name("command", c.CommandPath()), fact.Word("what", what), fact.Count("n", len(args))))
		}
		return nil
	}
}
