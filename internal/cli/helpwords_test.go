package cli

import (
	"io"
	"strings"
	"testing"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"hopperful/internal/say"
)

// helpIn is the tree of commands with its help in a language.
func helpIn(language string) (*cobra.Command, *say.Printer) {
	p := say.For(language)
	root := rootCommand(&Env{Out: io.Discard, Err: io.Discard, Getenv: func(string) string { return "" }, Now: time.Now, words: p, Build: "(test)"})
	helpWords(p, root)
	return root, p
}

// everyCommand visits a command and all below it.
func everyCommand(c *cobra.Command, visit func(*cobra.Command)) {
	visit(c)
	for _, below := range c.Commands() {
		everyCommand(below, visit)
	}
}

// Every command and every flag says what it is for, in every language, and no line of
// help is left over.
func TestHelpIsWordedWhole(t *testing.T) {
	t.Parallel()
	for _, language := range say.Languages() {
		root, p := helpIn(language)
		said := map[string]bool{}
		for _, g := range groups {
			said["help.group."+g] = true
		}
		everyCommand(root, func(c *cobra.Command) {
			key := helpKey(c)
			said[key+".short"], said[key+".long"] = true, true
			if c.Short == "" || p.Has(c.Short) || strings.Contains(c.Long, "{{") {
				t.Errorf("%s: %s does not say what it is for: %q", language, c.CommandPath(), c.Short)
			}
			flags := func(f *pflag.Flag) {
				said[key+".flag."+strings.ReplaceAll(f.Name, "-", "_")], said["help.flag."+strings.ReplaceAll(f.Name, "-", "_")] = true, true
				said["help.type."+strings.ToLower(f.Value.Type())] = true
				if f.Usage == "" || p.Has(f.Usage) || strings.Contains(f.Usage, "<no value>") {
					t.Errorf("%s: %s --%s does not say what it is for: %q", language, c.CommandPath(), f.Name, f.Usage)
				}
			}
			c.Flags().VisitAll(flags)
			c.PersistentFlags().VisitAll(flags)
		})
		for _, code := range p.Codes("help.") {
			if !said[code] {
				t.Errorf("%q is the help of nothing", code)
			}
		}
	}
}

// No help is English in German: what is the same in both is a name or a formula.
func TestHelpIsTranslated(t *testing.T) {
	t.Parallel()
	english, german := say.For("en"), say.For("de")
	for _, code := range english.Codes("help.") {
		if a, b := english.Word(code), german.Word(code); a == b && len(strings.Fields(a)) > 2 {
			t.Errorf("%q is %q in both languages", code, a)
		}
	}
}
