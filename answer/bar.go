package answer

import (
	"hopperful/fact"
	"hopperful/shop"
)

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
