package cli

import (
	"cmp"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"hopperful/internal/say"
)

// helpWords puts the help of a command and of all below it, where it is codes of
// the catalogue, into words.
func helpWords(p *say.Printer, c *cobra.Command) {
	c.Short, c.Long = p.Word(c.Short), p.Word(c.Long)
	for _, g := range c.Groups() {
		g.Title = p.Word(g.Title)
	}
	word := func(f *pflag.Flag) { f.Usage = p.Word(f.Usage) }
	c.PersistentFlags().VisitAll(word)
	c.Flags().VisitAll(word)
	for _, below := range c.Commands() {
		helpWords(p, below)
	}
}

// tongue is the language of help and of refusals that come before a shop is open:
// of --lang as it was typed, else the terminal's. C and POSIX ask for none.
func tongue(env *Env, args []string) string {
	for i, a := range args {
		if a == "--" {
			break
		}
		if text, ok := strings.CutPrefix(a, "--lang="); ok {
			return text
		}
		if a == "--lang" && i+1 < len(args) {
			return args[i+1]
		}
	}
	return terminalTongue(env)
}

// terminalTongue is the language a terminal asks for: the first set of LC_ALL,
// LC_MESSAGES and LANG counts (POSIX.1-2017, Base Definitions, section 8.2).
func terminalTongue(env *Env) string {
	if env.Getenv == nil {
		return ""
	}
	return cmp.Or(env.Getenv("LC_ALL"), env.Getenv("LC_MESSAGES"), env.Getenv("LANG"))
}
