// Package cli is hopperful on the command line: one file a command. It parses
// what is typed, calls the shop, the plan and the store, and shows what they
// say; it computes nothing.
//
// Rules of the interface.
//
//   - Standard output carries the answer and nothing else. Progress, notes and
//     refusals go to standard error, so that an answer can be piped.
//   - With --json, standard output carries exactly one JSON object: the answer,
//     or {"error": …} when there is none. Standard error stays for people.
//   - Exit code 0: done. 1: it could not be done. 2: it was asked wrongly (a
//     word, a flag or a number that cannot be read).
//   - A refusal says what was wrong, with the value, then what to do. It ends
//     with a full stop and blames nobody.
//   - Numbers are typed in workshop units with the unit written ("180g",
//     "3 min 20 s", "42 °C") and shown the same way. "unknown" is an answer
//     wherever a machine or a piece of scrap is described.
//   - Colour and progress only on a terminal, never as the only sign of
//     anything, and never when NO_COLOR is set.
//   - Nothing asks a question unless told to (identify --ask, on standard error):
//     whatever is missing is named, with the flag that gives it.
//   - Every command has an example in its help, and a test runs it.
package cli

import (
	"context"
	"errors"
	"io"
	"slices"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/internal/store"
)

// Env is the world a command sees; tests pass their own.
type Env struct {
	In     io.Reader
	Out    io.Writer // the answer
	Err    io.Writer // progress, notes, refusals
	Getenv func(string) string
	Now    func() time.Time
	Build  string // what was built: version, revision, Go

	OutTerminal bool // Out is a terminal: tables may be coloured
	Columns     int  // how wide that terminal is; 0: not known
	ErrTerminal bool // Err is a terminal: progress may be drawn

	words *say.Printer // of the answer, once its language is known
	typed string       // the language of --lang; "" where it was not given
	heard bool         // the shop has been asked for its language

	told func(answer.Document) // hears each answer before it is worded; nil: nobody does
	raw  bool                  // Out carries something for programs: no line is broken
}

// Main runs the command that args name and returns the exit code.
func Main(ctx context.Context, args []string, env Env) int {
	out := &checked{w: env.Out}
	completes := len(args) > 0 && (args[0] == "completion" || strings.HasPrefix(args[0], "__complete"))
	env.raw = wantsJSON(args) || completes
	lines := &wrapping{w: out, env: &env}
	env.Out = lines
	env.typed = typedFlag(args, "--lang")
	env.words = env.printer(env.typed, terminalTongue(&env))
	root := commandTree(&env, args)
	root.SetIn(env.In)
	root.SetOut(env.Out) // before the help has words: the command of completions keeps the writer it finds then
	root.SetErr(env.Err)
	if completes {
		helpWords(env.words, root)
	} else {
		helpWhenAsked(env.words, root)
	}
	root.SetArgs(args)
	err := errors.Join(execute(ctx, root), lines.flush())
	if errors.Is(out.err, syscall.EPIPE) { // head has seen enough; nobody reads a complaint
		return exitFailed
	}
	if err == nil && out.err != nil {
		err = &failure{what: fact.Say("cli.answer_not_written", fact.Name("why", out.err.Error())), err: out.err}
	}
	return report(&env, args, err)
}

// execute runs the command. A long shop's records are read when they are looked at; a
// file that no longer gives one ends the command with what is wrong with the file.
func execute(ctx context.Context, root *cobra.Command) (err error) {
	defer store.Stopped(&err)
	return root.ExecuteContext(ctx)
}

// Commands is the tree of all commands, to be described (pages of the manual,
// completions), not to be run.
func Commands() *cobra.Command {
	root := rootCommand(&Env{Out: io.Discard, Err: io.Discard, Getenv: func(string) string { return "" }, Now: time.Now})
	helpWords(say.For(), root)
	return root
}

// checked remembers the first error of a writer, so that an answer cut off by
// a full disk is not taken for a whole one.
type checked struct {
	w   io.Writer
	err error
}

// Write passes bytes on until the first error.
func (c *checked) Write(b []byte) (int, error) {
	if c.err != nil {
		return 0, c.err
	}
	n, err := c.w.Write(b)
	c.err = err
	return n, err
}

// groups are the questions the user has, under which help lists the commands.
var groups = []string{"next", "have", "did", "keep"}

// rootCommand is the tree of all commands.
func rootCommand(env *Env) *cobra.Command { return commandTree(env, []string{"identify", "reckon"}) }

// commandTree is the tree of commands as far as those arguments can tell. The flags of identify
// and the commands below reckon come from tables that take a while to read: they are there
// where the arguments name them.
func commandTree(env *Env, args []string) *cobra.Command {
	root := &cobra.Command{
		Use:           "hopperful",
		Version:       env.Build,
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          unknownCommand,
		RunE:          func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	root.SetVersionTemplate("hopperful {{.Version}}\n")
	root.SetFlagErrorFunc(flagError)
	root.PersistentFlags().Bool("json", false, "")
	root.PersistentFlags().Var(new(langFlag), "lang", "")
	tells(root, "lang", say.Languages()...)
	root.PersistentFlags().Bool("full", false, "")
	root.CompletionOptions.HiddenDefaultCmd = false
	for _, g := range groups {
		root.AddGroup(&cobra.Group{ID: g})
	}
	add := func(id string, commands ...*cobra.Command) {
		for _, c := range commands {
			c.GroupID = id
			root.AddCommand(c)
		}
	}
	add("next", nextCommand(env), nowCommand(env), needCommand(env), planCommand(env), campaignCommand(env), upkeepCommand(env), doseCommand(env), booksCommand(env), blendCommand(env), fitCommand(env), dryCommand(env), reckonCommand(env, slices.Contains(args, "reckon")))
	add("have", stockCommand(env), labelsCommand(env), traceCommand(env), ageCommand(env), colourCommand(env), identifyCommand(env, slices.Contains(args, "identify")), sieveCommand(env), grainsCommand(env), learnCommand(env), machinesCommand(env), sensorsCommand(env), materialsCommand(env))
	add("did", takeInCommand(env), recordCommand(env), recordsCommand(env), importCommand(env))
	add("keep", demoCommand(env), serveCommand(env), backupCommand(env), exportCommand(env), restoreCommand(env), moveCommand(env), accountCommand(env), verifyCommand(env), doctorCommand(env), tokenCommand(env))
	root.SetHelpCommandGroupID("keep")
	root.SetCompletionCommandGroupID("keep")
	return root
}
