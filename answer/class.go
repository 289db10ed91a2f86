package answer

import (
	"hopperful/fact"
	"hopperful/shop"
)

// classes are the words for what a lot is.
var classes = map[shop.Class]string{shop.Scrap: "class.scrap", shop.Regrind: "class.regrind", shop.Virgin: "class.virgin", shop.Blend: "class.blend", shop.Print: "class.print"}

// Class is what a lot is, as a term of the catalogue of words.
func Class(name string, c shop.Class) fact.Fact { return fact.Word(name, classes[c]) }
