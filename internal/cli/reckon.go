package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/plan/reckon"
	"hopperful/polymer"
)

func reckonCommand(env *Env, topics bool) *cobra.Command {
	c := &cobra.Command{
		Use: "reckon",
		Example: `  hopperful reckon
  hopperful reckon drying --material PETG --way dehydrator --humidity 40%RH
  hopperful reckon nozzle --bore 1mm --flow 20mm3/s --json
  hopperful reckon --json`,
		Args: unknownTopic,
		RunE: func(c *cobra.Command, _ []string) error { return listTopics(c, env) },
	}
	shopFlag(c)
	if topics {
		for _, t := range reckon.Topics() {
			c.AddCommand(topicCommand(env, t))
		}
	}
	return c
}

// unknownTopic refuses a word that is no topic and names those there are.
func unknownTopic(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	_, err := reckon.TopicOf(args[0])
	if err == nil {
		err = usagef(c, fact.Say("cli.takes_one_topic", fact.Name("command", c.CommandPath())))
	}
	return err
}

// option is the flag of an input.
func option(key string) string { return strings.ReplaceAll(key, "_", "-") }

// topicCommand makes a command of a topic.
func topicCommand(env *Env, t reckon.Topic) *cobra.Command {
	if own, err := t.For(nil, "PLA"); err == nil {
		t = own // so that help shows the defaults of PLA
	}
	p := env.speaks()
	a := newTopicAnswers(len(t.Inputs))
	c := &cobra.Command{
		Use:     t.Key,
		Short:   p.Word(t.Question()),
		Long:    paragraphs(p.Line("usage.topic", fact.Name("title", p.Word(t.Title())), fact.Name("question", p.Word(t.Question())), fact.Name("model", t.Model))),
		Example: "  hopperful reckon " + t.Key + " --json",
		Args:    takes(0, 0, "takes.options_only"),
	}
	for i, in := range t.Inputs {
		a.flag(c, env, i, in)
	}
	c.RunE = func(c *cobra.Command, _ []string) error {
		state, err := readShopIfAny(c, env)
		if err != nil {
			return err
		}
		speaks(env, state)
		table, err := state.Table()
		if err != nil {
			return err
		}
		given, err := a.given(t, state)
		if err != nil {
			return err
		}
		r, err := reckon.Answer(table, t.Key, given)
		if err != nil {
			return err
		}
		return answers(c, env, speaks(env, state), r.Document)
	}
	whyFlag(c, "time")
	shopFlag(c)
	return c
}

// inputWords say what an input is, its default and its range.
func inputWords(p *say.Printer, in reckon.Input) string {
	usual, span := in.Word, ""
	if in.Optional != "" {
		usual = p.Word(in.Optional)
	} else if in.IsNumber() {
		usual, span = p.Number(in.Kind.Plain(in.Default)), p.Number(in.Kind.Span(in.Low, in.High))
	}
	return p.Line("usage.input", fact.Name("name", p.Word(in.Name)), fact.Name("usual", usual), fact.Name("property", string(in.Property)),
		fact.Name("range", span))
}

// materialsOf is the shop's table of materials, or the books' without a shop.
func materialsOf(c *cobra.Command, env *Env) (*polymer.Table, error) {
	state, err := readShopIfAny(c, env)
	if err != nil {
		return nil, err
	}
	speaks(env, state)
	return state.Table()
}

// topicJSON is a topic as scripts read it.
type topicJSON struct {
	Key      string      `json:"key"`
	Title    string      `json:"title"`
	Question string      `json:"question"`
	Model    string      `json:"model"`
	Inputs   []inputJSON `json:"inputs"`
}

type inputJSON struct {
	Key      string   `json:"key"`
	Name     string   `json:"name"`
	Option   string   `json:"option"`
	Unit     *string  `json:"unit,omitempty"` // of the numbers, SI; absent for a word
	Default  *float64 `json:"default,omitempty"`
	Low      *float64 `json:"low,omitempty"`
	High     *float64 `json:"high,omitempty"`
	Shown    string   `json:"shown"` // the default as people read it
	Property string   `json:"property,omitempty"`
	Choices  []string `json:"choices,omitempty"`
	Form     string   `json:"form,omitempty"`
}

func topicOut(p *say.Printer, t reckon.Topic) topicJSON {
	out := topicJSON{Key: t.Key, Title: p.Word(t.Title()), Question: p.Word(t.Question()), Model: t.Model, Inputs: []inputJSON{}}
	for _, in := range t.Inputs {
		one := inputJSON{Key: in.Key, Name: p.Word(in.Name), Option: "--" + option(in.Key), Shown: in.Word, Choices: in.Choices, Property: string(in.Property), Form: string(in.Form)}
		if in.Optional != "" {
			one.Shown = p.Word(in.Optional)
		}
		if in.IsNumber() {
			unit := in.Kind.SI()
			one.Unit, one.Default, one.Low, one.High, one.Shown = &unit, &in.Default, &in.Low, &in.High, p.Number(in.Kind.Plain(in.Default))
		}
		out.Inputs = append(out.Inputs, one)
	}
	return out
}

// listTopics lists the topics with the defaults of PLA.
func listTopics(c *cobra.Command, env *Env) error {
	table, err := materialsOf(c, env)
	if err != nil {
		return err
	}
	all := struct {
		Topics []topicJSON `json:"topics"`
	}{[]topicJSON{}}
	for _, t := range reckon.Topics() {
		if t, err = t.For(table, "PLA"); err != nil {
			return err
		}
		all.Topics = append(all.Topics, topicOut(env.speaks(), t))
	}
	if asJSON(c) {
		return writeJSON(env, all)
	}
	p := env.speaks()
	g := newGrid(env, p.Line("column.topic"), p.Line("column.question"))
	for _, t := range all.Topics {
		g.row(t.Key, t.Question)
	}
	g.print()
	plain(env.Out, "%s", p.Line("reckon.help"))
	return nil
}
