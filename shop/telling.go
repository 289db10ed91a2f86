package shop

import (
	"reflect"
	"slices"
	"strings"

	"hopperful/fact"
	"hopperful/polymer"
	"hopperful/quantity"
)

// Describe says in one line what a record says, beginning with what was done:
// "dried R1 for 6 h at 50 °C in an oven". It begins small and has no full stop.
func Describe(b Body) fact.Saying {
	switch b := b.(type) {
	case *TakenIn:
		return fact.Say("told.taken_in", fact.Weighed("mass", b.Mass), fact.Name("polymer", b.Polymer), fact.Name("colour", b.Colour), onLot("lot", b.Lot))
	case *Sorted:
		return tellSorted(b)
	case *Ground:
		return tellGround(b)
	case *Blended:
		return tellBlended(b)
	case *Weighed:
		return fact.Say("told.weighed", onLot("lot", b.Lot), fact.Weighed("mass", b.Mass))
	case *Printed:
		return tellPrinted(b)
	case *Discarded:
		return fact.Say("told.discarded", fact.Weighed("mass", b.Mass), onLot("lot", b.Lot), fact.Name("why", unstopped(b.Why)))
	case *Confirmed:
		return fact.Say("told.confirmed", fact.Count("n", int(b.Record)))
	case *Pictured:
		return fact.Say("told.pictured", fact.Name("lot", string(b.Lot)), number("record", b.Record))
	case *Void:
		return fact.Say("told.void", fact.Name("why", unstopped(b.Why)))
	case *CampaignBegun:
		return fact.Say("told.campaign_begun", fact.Name("mill", b.Mill), fact.Weighed("wanted", b.Wanted), fact.Name("polymer", b.Polymer), fact.Names("needs", b.Needs))
	case *CampaignMarked:
		return fact.Say("told.campaign_marked", fact.Count("n", int(b.Campaign)), term("what", "mark", string(b.What)))
	}
	if told := tellCare(b); !told.Empty() {
		return told
	}
	return tellSetting(b)
}

// tellCare is Describe for what was measured on a lot or done to it, and for
// what became of the machines.
func tellCare(b Body) fact.Saying {
	switch b := b.(type) {
	case *Sieved:
		return tellSieved(b)
	case *PassedMagnet:
		metal := fact.Name("metal", "")
		if b.Metal > 0 {
			metal = fact.Weighed("metal", b.Metal)
		}
		return fact.Say("told.magnet", onLot("lot", b.Lot), weighedOr("passed", b.Passed), metal)
	case *Dedusted:
		return fact.Say("told.dedusted", fact.Weighed("dust", b.Dust), onLot("lot", b.Lot), readOr("hole", quantity.Length, b.Opening))
	case *Dried:
		return tellDried(b)
	case *JarWeighed:
		return fact.Say("told.jar", fact.Read("jar", quantity.Volume, b.Jar), onLot("lot", b.Lot), fact.Weighed("poured", b.Poured), weighedOr("tapped", b.Tapped))
	case *Coloured:
		return tellColoured(b)
	case *FlowTested:
		return tellFlow(b)
	case *Serviced:
		part, mill, sound := term("part", "mill_part", string(b.Part)), fact.Name("mill", b.Mill), term("sound", "part_sound", string(b.Sound))
		if b.What == FoundDamaged {
			return fact.Say("told.found_damaged", part, mill, sound)
		}
		return fact.Say("told.serviced", term("did", "upkeep_did", string(b.What)), part, mill, sound)
	case *Happened:
		return tellHappened(b)
	}
	return fact.Saying{}
}

// tellSetting is Describe for what the shop is, rather than what was done.
func tellSetting(b Body) fact.Saying {
	switch b := b.(type) {
	case *ShopSet:
		return fact.Say("told.shop", fact.Name("name", b.Name))
	case *PersonSet:
		return thing(b.Kind(), b.Name, b.Retired)
	case *MillSet:
		return thing(b.Kind(), b.Mill.Name, b.Mill.Retired)
	case *ScaleSet:
		return thing(b.Kind(), b.Scale.Name, b.Scale.Retired)
	case *DryerSet:
		return thing(b.Kind(), b.Dryer.Name, b.Dryer.Retired)
	case *PrinterSet:
		return thing(b.Kind(), b.Printer.Name, b.Printer.Retired)
	case *MaterialSet:
		property := fact.Name("property", strings.ReplaceAll(b.Property, "_", " "))
		if d, known := polymer.Property(b.Property).Description(); known {
			property = fact.Word("property", d.Name())
		}
		return fact.Say("told.material", fact.Name("polymer", b.Polymer), property)
	case *NeedSet:
		return fact.Say("told.need", fact.Name("name", b.Need.Name))
	}
	return fact.Verbatim(b.Kind())
}

// thing tells that something was described, or is no longer used.
func thing(kind, name string, gone bool) fact.Saying {
	if gone {
		return fact.Say("told.retired", fact.Word("kind", "kind."+kind), fact.Name("name", name))
	}
	return fact.Say("told.described", fact.Word("kind", "kind."+kind), fact.Name("name", name))
}

// LotsOf are the lots a record names, in the order it names them.
func LotsOf(b Body) []LotID {
	var ids []LotID
	var walk func(v reflect.Value)
	walk = func(v reflect.Value) {
		switch v.Kind() {
		case reflect.Pointer:
			if !v.IsNil() {
				walk(v.Elem())
			}
		case reflect.Struct:
			for i := range v.NumField() {
				walk(v.Field(i))
			}
		case reflect.Slice:
			for i := range v.Len() {
				walk(v.Index(i))
			}
		case reflect.String:
			if id, ok := v.Interface().(LotID); ok && id != "" && !slices.Contains(ids, id) {
				ids = append(ids, id)
			}
		}
	}
	walk(reflect.ValueOf(b))
	return ids
}
