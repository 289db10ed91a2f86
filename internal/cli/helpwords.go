package cli

import (
	"cmp"
	"strings"
	"sync"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"hopperful/fact"
	"hopperful/internal/say"
)

// The help of a command stands in the catalogue, under the words that call it:
// help.record.sieved.short, .long and .flag.pan. What several commands call the
// same is said once: help.flag.shop. A flag that asks for a field of a record is
// worded by the table of fields, whose code it brings along.

// helpWidth is where a paragraph of help is broken.
const helpWidth = 80

// told names what a command or flag gives to its line, as {{.of}}.
const told = "of"

// tells gives a flag's line words that the catalogue cannot know, such as a list of
// names; without a flag, the command's long line.
func tells(c *cobra.Command, flag string, words ...string) {
	if flag == "" {
		c.Annotations = map[string]string{told: strings.Join(words, ", ")}
		return
	}
	c.Flag(flag).Annotations = map[string][]string{told: words}
}

// helpWhenAsked has the help put into words as soon as some of it is shown: most commands
// show none.
func helpWhenAsked(p *say.Printer, root *cobra.Command) {
	word := sync.OnceFunc(func() { helpWords(p, root) })
	show := root.HelpFunc()
	root.SetHelpFunc(func(c *cobra.Command, args []string) { word(); show(c, args) })
	root.SetUsageFunc(func(c *cobra.Command) error { word(); return usageOf(p, c) })
}

// helpWords puts the help of a command and of all below it into words.
func helpWords(p *say.Printer, c *cobra.Command) {
	if !c.HasParent() {
		c.InitDefaultHelpCmd()
		c.InitDefaultCompletionCmd()
		c.SetUsageFunc(func(c *cobra.Command) error { return usageOf(p, c) })
	}
	c.InitDefaultHelpFlag()
	c.InitDefaultVersionFlag()
	key := helpKey(c)
	if line := key + ".short"; p.Has(line) {
		c.Short = p.Word(line)
	} else {
		c.Short = p.Word(c.Short)
	}
	if line := key + ".long"; p.Has(line) {
		c.Long = paragraphs(p.Word(line, fact.Name(told, c.Annotations[told])))
	}
	for _, g := range c.Groups() {
		g.Title = p.Word("help.group." + g.ID)
	}
	word := func(f *pflag.Flag) {
		if line := flagKey(p, c, f); line != "" {
			f.Usage = p.Word(line, fact.Name(told, strings.Join(f.Annotations[told], ", ")))
		} else {
			f.Usage = p.Word(f.Usage)
		}
	}
	c.PersistentFlags().VisitAll(word)
	c.LocalNonPersistentFlags().VisitAll(word)
	for _, below := range c.Commands() {
		helpWords(p, below)
	}
}

// helpKey is under which code a command's help stands.
func helpKey(c *cobra.Command) string {
	words := strings.Fields(c.CommandPath())
	return strings.ReplaceAll(strings.Join(append([]string{"help"}, words[1:]...), "."), "-", "_")
}

// flagKey is the code of a flag's line: the command's own, else the one that all
// commands share; "" of a flag that brings its words along.
func flagKey(p *say.Printer, c *cobra.Command, f *pflag.Flag) string {
	_, byCobra := f.Annotations[cobra.FlagSetByCobraAnnotation]
	if f.Usage != "" && !byCobra && f.Name != "no-descriptions" {
		return ""
	}
	name := ".flag." + strings.ReplaceAll(f.Name, "-", "_")
	for _, line := range []string{helpKey(c) + name, "help" + name} {
		if p.Has(line) {
			return line
		}
	}
	return ""
}

// paragraphs breaks a text to the width of help.
func paragraphs(text string) string {
	var out []string
	for _, line := range strings.Split(text, "\n") {
		out = append(out, wrap(line, helpWidth))
	}
	return strings.Join(out, "\n")
}

// typedFlag is the value of a flag found before the flags are parsed: help and refusals may
// come before that.
func typedFlag(args []string, flag string) string {
	for i, a := range args {
		if a == "--" {
			break
		}
		if text, ok := strings.CutPrefix(a, flag+"="); ok {
			return text
		}
		if a == flag && i+1 < len(args) {
			return args[i+1]
		}
	}
	return ""
}

// terminalTongue is the language a terminal asks for: the first set of LC_ALL,
// LC_MESSAGES and LANG counts (POSIX.1-2017, Base Definitions, section 8.2).
func terminalTongue(env *Env) string {
	if env.Getenv == nil {
		return ""
	}
	return cmp.Or(env.Getenv("LC_ALL"), env.Getenv("LC_MESSAGES"), env.Getenv("LANG"))
}
