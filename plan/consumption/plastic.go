package consumption

// Of which plastic a print is, where nobody said.

import (
	"strings"

	"hopperful/fact"
	"hopperful/shop"
)

// PlasticOf is the plastic named, or the only one in stock; only tells that nobody
// named it.
func PlasticOf(s *shop.State, named string) (plastic string, only bool) {
	if strings.TrimSpace(named) != "" {
		return named, false
	}
	if all := s.Plastics(); len(all) == 1 {
		return all[0], true
	}
	return "", false
}

// WhichPlastic asks for it where the stock does not tell.
func WhichPlastic(s *shop.State) error {
	hint := fact.Say("need.name_one")
	if all := s.Plastics(); len(all) > 1 {
		hint = fact.Say("need.name_one_of", fact.Names("plastics", all))
	}
	return shop.Refuse(shop.Invalid, "polymer", fact.Say("need.which_plastic"), hint)
}
