package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/plan/reckon"
	"hopperful/process/colour"
	"hopperful/shop"
)

// topicAnswers hold what was typed for a topic's inputs, each at its place.
type topicAnswers struct {
	numbers []*float64
	words   []string
	colours [][]colour.Portion
	lots    [][]string
}

func newTopicAnswers(n int) *topicAnswers {
	return &topicAnswers{make([]*float64, n), make([]string, n), make([][]colour.Portion, n), make([][]string, n)}
}

// flag makes the option of an input.
func (a *topicAnswers) flag(c *cobra.Command, env *Env, i int, in reckon.Input) {
	name, p := option(in.Key), env.speaks()
	switch {
	case in.Form == reckon.Colours:
		c.Flags().Var(coloursFlag{&a.colours[i]}, name, inputWords(p, in))
	case in.Form == reckon.Code:
		c.Flags().Var(codeFlag{&a.words[i]}, name, inputWords(p, in))
	case in.Form == reckon.LotList:
		c.Flags().Var(lotsFlag{&a.lots[i]}, name, p.Line("usage.each", fact.Name("input", inputWords(p, in))))
		completesFlag(c, env, name, lotsOnHand)
	case in.Choices != nil:
		c.Flags().Var(wordFlag{in.Choices, &a.words[i]}, name, inputWords(p, in))
	case in.IsWord():
		c.Flags().StringVar(&a.words[i], name, "", inputWords(p, in))
		completesFlag(c, env, name, knownMaterials)
	default:
		c.Flags().Var(quantityFlag{in.Kind, &a.numbers[i]}, name, inputWords(p, in))
	}
}

// given is what was typed.
func (a *topicAnswers) given(t reckon.Topic, state *shop.State) (reckon.Given, error) {
	g := reckon.Given{Numbers: map[string]float64{}, Words: map[string]string{}, Colours: map[string][]colour.Portion{}, Lots: map[string][]shop.LotID{}}
	if len(state.Order) > 0 {
		g.Shop = state
	}
	for i, in := range t.Inputs {
		if a.numbers[i] != nil {
			g.Numbers[in.Key] = *a.numbers[i]
		}
		if a.words[i] != "" {
			g.Words[in.Key] = a.words[i]
		}
		if len(a.colours[i]) > 0 {
			g.Colours[in.Key] = a.colours[i]
		}
		ids, err := lots(a.lots[i])
		if err != nil {
			return g, err
		}
		if len(ids) > 0 {
			g.Lots[in.Key] = ids
		}
	}
	return g, nil
}

// coloursFlag takes colour codes with their shares.
type coloursFlag struct{ into *[]colour.Portion }

// Set reads the list.
func (f coloursFlag) Set(text string) (err error) {
	*f.into, err = colour.ParsePortions(text)
	return err
}

// String is the list as it is read.
func (f coloursFlag) String() string {
	if f.into == nil {
		return ""
	}
	return colour.Portions(*f.into).String()
}

// Type is what help shows after the flag's name.
func (coloursFlag) Type() string { return "colours" }

// codeFlag takes one colour code.
type codeFlag struct{ into *string }

// Set reads the code.
func (f codeFlag) Set(text string) error {
	_, err := colour.ParseHex(text)
	if err == nil {
		*f.into = text
	}
	return err
}

// String is the code.
func (f codeFlag) String() string {
	if f.into == nil {
		return ""
	}
	return *f.into
}

// Type is what help shows after the flag's name.
func (codeFlag) Type() string { return "colour" }

// lotsFlag takes a lot each time it is given.
type lotsFlag struct{ into *[]string }

// Set adds a lot.
func (f lotsFlag) Set(text string) error {
	if _, err := shop.ParseLot(text); err != nil {
		return err
	}
	*f.into = append(*f.into, text)
	return nil
}

// String are the lots.
func (f lotsFlag) String() string {
	if f.into == nil {
		return ""
	}
	return strings.Join(*f.into, ", ")
}

// Type is what help shows after the flag's name.
func (lotsFlag) Type() string { return "lot" }
