package answer

import (
	"fmt"

	"hopperful/fact"
	"hopperful/shop"
)

// Uncleared is the caution about used plastic nobody has cleared; none when
// each lot is.
func Uncleared(lots ...*shop.Lot) []Caution {
	names := uncleared(lots)
	if len(names) == 0 {
		return nil
	}
	return []Caution{{Where: OfMaterial, Text: fmt.Sprintf("Nobody has said whether %s is free of chlorine and flame retardants. A piece that might hold any stays out of mill, dryer and printer.", List(names))}}
}

// Bars is a bar as a finding of an answer, with what to do instead.
func Bars(b *shop.Bar) Finding {
	why, instead := b.Says()
	return Found(why, instead)
}

// NotCleared is the caution about used plastic nobody has cleared; none when each
// lot is.
func NotCleared(lots ...*shop.Lot) []Finding {
	names := uncleared(lots)
	if len(names) == 0 {
		return nil
	}
	return []Finding{Found(fact.Say("bar.uncleared", fact.Count("n", len(names)), fact.Names("lots", names)))}
}

// uncleared names those lots nobody has cleared.
func uncleared(lots []*shop.Lot) (names []string) {
	for _, l := range lots {
		if l.Uncleared() {
			names = append(names, string(l.ID))
		}
	}
	return names
}
