package cli

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"hopperful/internal/account"
	"hopperful/internal/exchange"
	"hopperful/internal/say"
	"hopperful/internal/store"
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
	command string // the command to ask for help about: "hopperful plan"
	say     string
	hint    string
	flag    string // whose value cannot be; "" where it is not that
	err     error  // why
}

func (e *usageError) Error() string { return strings.TrimSpace(e.say + " " + e.hint) }

// usage wraps an error of cobra or of a flag's value.
func usage(c *cobra.Command, err error) error {
	var already *usageError
	if errors.As(err, &already) {
		return err
	}
	e := &usageError{command: c.CommandPath(), say: sentence(err.Error()), err: err}
	var value *pflag.InvalidValueError
	if errors.As(err, &value) {
		e.flag = value.GetFlag().Name
	}
	return e
}

// usagef is a usageError from a format.
func usagef(c *cobra.Command, format string, args ...any) error {
	return &usageError{command: c.CommandPath(), say: fmt.Sprintf(format, args...)}
}

// failure is a refusal with advice that no package below could give.
type failure struct {
	say, hint string
	err       error
}

func (e *failure) Error() string { return strings.TrimSpace(e.say + " " + e.hint) }
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
	env.listen(args)
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
	fmt.Fprintf(env.Err, "hopperful: %s\n", a.Say)
	if a.Hint != "" {
		fmt.Fprintf(env.Err, "%s\n", a.Hint)
	}
}

// explain turns an error into the user's words and an exit code.
func explain(env *Env, err error) (refusal, int) {
	if errors.Is(err, context.Canceled) {
		return refusal{Say: "Stopped before it was done.", Hint: "Nothing was written down.", Code: "stopped"}, exitFailed
	}
	var asked *usageError
	if errors.As(err, &asked) {
		if e := shop.Refused(shop.Invalid, "", asked.err); e.Known() {
			what, advice := env.speaks().Refusal(e)
			if asked.flag != "" {
				what = "--" + asked.flag + ": " + what
			}
			return refusal{Say: what, Hint: advice, Code: "usage", What: e.What.Code}, exitUsage
		}
		hint := asked.hint
		if hint == "" {
			hint = fmt.Sprintf("%s --help shows how it is asked.", asked.command)
		}
		return refusal{Say: asked.say, Hint: hint, Code: "usage"}, exitUsage
	}
	var barred *account.Refused
	if errors.As(err, &barred) {
		return refusal{Say: barred.Say, Hint: barred.Hint, Code: "not_allowed"}, exitFailed
	}
	var own *failure
	if errors.As(err, &own) {
		return refusal{Say: own.say, Hint: own.hint, Code: "failed"}, exitFailed
	}
	var refused *shop.Error
	if errors.As(err, &refused) {
		what, advice := env.speaks().Refusal(refused)
		return refusal{Say: what, Hint: advice, Field: refused.Field, Code: string(refused.Code), What: refused.What.Code}, exitFailed
	}
	var kept *store.Error
	if errors.As(err, &kept) {
		say := kept.Say
		if kept.Err != nil {
			say += fmt.Sprintf(" (%v)", kept.Err)
		}
		return refusal{Say: say, Hint: kept.Hint, Code: string(kept.Code)}, exitFailed
	}
	var table *exchange.Error
	if errors.As(err, &table) {
		return refusal{Say: sentence(table.What()), Hint: table.Hint, Code: "failed"}, exitFailed
	}
	if e := shop.Refused(shop.Invalid, "", err); e.Known() {
		what, advice := env.speaks().Refusal(e)
		return refusal{Say: what, Hint: advice, Code: "failed", What: e.What.Code}, exitFailed
	}
	var path *fs.PathError
	if errors.As(err, &path) {
		return refusal{Say: sentence(fmt.Sprintf("%s: %v", path.Path, path.Err)), Code: "failed",
			Hint: "Check that the path is right and that you may read or write there."}, exitFailed
	}
	return refusal{Say: sentence(err.Error()), Code: "failed"}, exitFailed
}

// listen finds the language asked for in what was typed, because a refusal may come
// before the flags are parsed.
func (env *Env) listen(args []string) {
	for i, a := range args {
		lang, ok := strings.CutPrefix(a, "--lang=")
		if a == "--lang" && i+1 < len(args) {
			lang, ok = args[i+1], true
		}
		if ok && env.words == nil && slices.Contains(say.Languages(), lang) {
			env.words = say.For(lang)
		}
	}
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
	if text == "" || strings.HasSuffix(text, ".") {
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
	e := &usageError{command: c.CommandPath(), say: fmt.Sprintf("there is no command %q.", c.CommandPath()+" "+args[0])}
	if near := c.SuggestionsFor(args[0]); len(near) > 0 {
		e.hint = "Did you mean " + strings.Join(near, " or ") + "?"
	}
	return e
}

// flagError says what is wrong with a flag, and what a misspelt one may have been.
func flagError(c *cobra.Command, err error) error {
	var unknown *pflag.NotExistError
	if !errors.As(err, &unknown) {
		return usage(c, err)
	}
	e := &usageError{command: c.CommandPath(), say: fmt.Sprintf("%s has no flag --%s.", c.CommandPath(), unknown.GetSpecifiedName())}
	var known []string
	c.Flags().VisitAll(func(f *pflag.Flag) {
		if !f.Hidden {
			known = append(known, f.Name)
		}
	})
	if near := shop.Nearest(unknown.GetSpecifiedName(), known); len(near) > 0 {
		e.hint = "Did you mean --" + strings.Join(near, " or --") + "?"
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
	return fmt.Sprintf("%d of what was asked could not be read", len(e.not))
}

// takes wraps one of cobra's counts of arguments so that a miscount is a usage
// error in our words.
func takes(least, most int, what string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if correcting(c) && len(args) <= most {
			return nil
		}
		if len(args) < least || (most >= 0 && len(args) > most) {
			return usagef(c, "%s takes %s; it was given %d.", c.CommandPath(), what, len(args))
		}
		return nil
	}
}
