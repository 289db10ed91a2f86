package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"hopperful/internal/say"
	"hopperful/shop"
)

// listing offers words for what is being typed, each with a tab and a few
// words about it.
type listing func(*shop.State) []string

// completes lets the shell complete a command's words from the shop's books. A
// shop that cannot be read offers nothing; completing never complains.
func completes(c *cobra.Command, env *Env, list listing, also cobra.ShellCompDirective) {
	c.ValidArgsFunction = func(c *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
		if len(args) > 0 {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		return offered(c, env, list, typed), also
	}
}

// completesFlag does the same for a flag of the command.
func completesFlag(c *cobra.Command, env *Env, flag string, list listing) {
	// The only error is a flag that is not there, which the first test of the command would show.
	_ = c.RegisterFlagCompletionFunc(flag, func(c *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
		return offered(c, env, list, typed), cobra.ShellCompDirectiveNoFileComp
	})
}

func offered(c *cobra.Command, env *Env, list listing, typed string) []string {
	state, err := readShopIfAny(c, env)
	if err != nil {
		return nil
	}
	var fit []string
	for _, word := range list(state) {
		if strings.HasPrefix(strings.ToLower(word), strings.ToLower(typed)) {
			fit = append(fit, word)
		}
	}
	return fit
}

// lotsOnHand are the labels of the lots with something in them.
func lotsOnHand(s *shop.State) []string {
	p := say.For(s.Shop.Language)
	var words []string
	for _, l := range s.Stock("") {
		words = append(words, string(l.ID)+"\t"+classAnd(p, l)+", "+material(p, l.Polymer, l.Colour))
	}
	return words
}

// openNeeds are the names of the needs not yet printed.
func openNeeds(s *shop.State) []string {
	p := say.For(s.Shop.Language)
	var words []string
	for _, n := range s.Needs {
		if !n.Done {
			words = append(words, n.Name+"\t"+material(p, n.Polymer, n.Colour))
		}
	}
	return words
}

// millsInUse are the names of the mills.
func millsInUse(s *shop.State) []string {
	var words []string
	for _, m := range s.ActiveMills() {
		words = append(words, m.Name)
	}
	return words
}

// printersInUse are the names of the printers.
func printersInUse(s *shop.State) []string {
	var words []string
	for _, p := range s.Printers {
		if !p.Retired {
			words = append(words, p.Name)
		}
	}
	return words
}

// knownMaterials are the names of the books' and the shop's own materials.
func knownMaterials(s *shop.State) []string {
	table, err := s.Table()
	if err != nil {
		return nil
	}
	return table.Names()
}
