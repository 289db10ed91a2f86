package exchange

import (
	"strings"

	"hopperful/fact"
	"hopperful/process/sieve"
	"hopperful/quantity"
	"hopperful/shop"
)

// series are the standard series by the names people type.
var series = []struct {
	name string
	of   sieve.Standard
}{
	{"ISO 3310-1 R20/3", sieve.R20x3}, {"ISO 3310-1 R40/3", sieve.R40x3}, {"ISO 3310-1 R20", sieve.R20}, {"ASTM E11", sieve.ASTME11},
}

// SievesNamed are the sieves of a series ("ISO 3310-1 R20/3", "ASTM E11"), or of
// a list of one's own ("4mm 2mm 1mm" or "No. 10, No. 18"), coarsest first. An error is a [shop.Error].
func SievesNamed(text string) ([]sieve.Sieve, error) {
	for _, s := range series {
		if plainName(text) == plainName(s.name) || plainName(text) == plainName(string(s.of)) {
			return sieve.Openings(s.of), nil
		}
	}
	list := wordsOf(strings.NewReplacer(",", " ", ";", " ").Replace(text))
	var all []sieve.Sieve
	for _, w := range list {
		one, err := sieve.ByDesignation(w)
		if err != nil {
			wide, unread := quantity.Length.Parse(w)
			if unread != nil {
				return nil, shop.Refuse(shop.Invalid, "", fact.Say("exchange.no_series", fact.Name("text", text), fact.Name("word", w)), fact.Say("exchange.do_name_series_or_own", fact.Name("series", SeriesNames())))
			}
			if one, err = sieve.Own(wide, sieve.Woven); err != nil {
				return nil, shop.Refuse(shop.Invalid, "", fact.Say("exchange.size_outside", fact.Name("text", text), fact.Parts("why", shop.WhyNot(err))), fact.Say("exchange.do_check_number"))
			}
		}
		if len(all) > 0 && one.Opening >= all[len(all)-1].Opening {
			return nil, shop.Refuse(shop.Invalid, "", fact.Say("exchange.not_finer", fact.Name("text", text), fact.Name("sieve", w), fact.Name("above", all[len(all)-1].Designation)), fact.Say("exchange.do_coarsest_first"))
		}
		all = append(all, one)
	}
	if len(all) == 0 {
		return nil, shop.Refuse(shop.Invalid, "", fact.Say("exchange.series_empty"), fact.Say("exchange.do_name_series", fact.Name("series", SeriesNames())))
	}
	return all, nil
}

// SeriesNames lists the series as they may be typed.
func SeriesNames() string {
	var names []string
	for _, s := range series {
		names = append(names, s.name)
	}
	return strings.Join(names, ", ")
}

func plainName(text string) string {
	return strings.NewReplacer(" ", "", "-", "", "/", "").Replace(strings.ToLower(strings.ReplaceAll(text, "3310-1", "")))
}
