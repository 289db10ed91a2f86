package cli

import (
	"fmt"
	"io"
	"strings"

	"github.com/jedib0t/go-pretty/v6/text"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"hopperful/fact"
	"hopperful/internal/say"
)

// usageOf prints how a command is called: what help shows below its first words.
func usageOf(p *say.Printer, c *cobra.Command) error {
	var out strings.Builder
	part := func(title string) { fmt.Fprintf(&out, "\n%s\n", title) }
	part(p.Line("usage.usage"))
	if c.Runnable() {
		fmt.Fprintf(&out, "  %s\n", useLine(p, c))
	}
	if c.HasAvailableSubCommands() {
		fmt.Fprintf(&out, "  %s %s\n", c.CommandPath(), p.Line("usage.command"))
	}
	if c.HasExample() {
		part(p.Line("usage.examples"))
		fmt.Fprintln(&out, c.Example)
	}
	if groups := c.Groups(); len(groups) > 0 {
		for _, g := range groups {
			part(g.Title)
			listCommands(&out, c, g.ID)
		}
	} else if c.HasAvailableSubCommands() {
		part(p.Line("usage.commands"))
		listCommands(&out, c, "")
	}
	if c.HasAvailableLocalFlags() {
		part(p.Line("usage.flags"))
		fmt.Fprint(&out, flagLines(p, c.LocalFlags()))
	}
	if c.HasAvailableInheritedFlags() {
		part(p.Line("usage.global_flags"))
		fmt.Fprint(&out, flagLines(p, c.InheritedFlags()))
	}
	if c.HasAvailableSubCommands() {
		part(p.Line("usage.more", fact.Name("command", c.CommandPath()+" "+p.Line("usage.command")+" --help")))
	}
	_, err := io.WriteString(c.OutOrStderr(), strings.TrimPrefix(out.String(), "\n"))
	return err
}

// useLine is the command as it is typed.
func useLine(p *say.Printer, c *cobra.Command) string {
	return strings.Replace(c.UseLine(), "[flags]", p.Line("usage.flags_place"), 1)
}

func listCommands(out io.Writer, c *cobra.Command, group string) {
	for _, below := range c.Commands() {
		if below.GroupID == group && (below.IsAvailableCommand() || below.Name() == "help") {
			fmt.Fprintf(out, "  %-*s %s\n", below.NamePadding(), below.Name(), below.Short)
		}
	}
}

// flagLines are the flags with what each takes, is for, and is without a word.
func flagLines(p *say.Printer, flags *pflag.FlagSet) string {
	var names, uses []string
	widest := 0
	flags.VisitAll(func(f *pflag.Flag) {
		if f.Hidden {
			return
		}
		name := "      --" + f.Name
		if f.Shorthand != "" {
			name = "  -" + f.Shorthand + ", --" + f.Name
		}
		takes, use := pflag.UnquoteUsage(f)
		if takes == f.Value.Type() || takes == "int" || takes == "uint" {
			takes = typeWord(p, f.Value.Type())
		}
		if takes != "" {
			name += " " + takes
		}
		if f.NoOptDefVal != "" && f.Value.Type() != "bool" {
			name += "[=" + f.NoOptDefVal + "]"
		}
		if f.DefValue != "" && f.DefValue != "0" && f.DefValue != "[]" && f.DefValue != "false" {
			use += " " + p.Line("usage.default", fact.Name("value", f.DefValue))
		}
		names, uses = append(names, name), append(uses, use)
		widest = max(widest, text.StringWidthWithoutEscSequences(name))
	})
	var out strings.Builder
	for i, name := range names {
		fmt.Fprintf(&out, "%s   %s\n", text.Pad(name, widest, ' '), uses[i])
	}
	return out.String()
}

// typeWord is what a flag takes, in the reader's language.
func typeWord(p *say.Printer, name string) string {
	code := strings.ToLower(strings.ReplaceAll(name, "-", "_"))
	for _, line := range []string{"help.type." + code, "kind." + code} {
		if p.Has(line) {
			return joinedUp(p.Word(line))
		}
	}
	return name
}
