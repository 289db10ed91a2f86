package eats

// Of which plastic a print is, where nobody said.

import (
	"fmt"
	"strings"

	"hopperful/answer"
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

// OnlyPlastic says which one was taken.
func OnlyPlastic(plastic string) answer.Spoiler {
	return answer.Spoiler{What: fmt.Sprintf("Nobody has said what the print is made of; %s is all there is in stock, so that was taken.", plastic),
		Remedy: "If that is right, write it down with the print."}
}

// WhichPlastic asks for it where the stock does not tell.
func WhichPlastic(s *shop.State) error {
	hint := "Name it, for example PLA or PETG."
	if all := s.Plastics(); len(all) > 1 {
		hint = fmt.Sprintf("In stock are %s: name the one.", answer.List(all))
	}
	return &shop.Error{Code: shop.Invalid, Field: "polymer", Say: "Nobody has said which polymer the print is made of.", Hint: hint}
}
