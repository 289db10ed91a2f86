package shop

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"hopperful/quantity"
)

// Describe says in one line what a record says, beginning with what was done:
// "dried R1 for 6 h at 50 °C in an oven". It begins small and has no full stop.
func Describe(b Body) string {
	switch b := b.(type) {
	case *TakenIn:
		return fmt.Sprintf("took in %s of %s as %s", grams(b.Mass), matter(b.Polymer, b.Colour), b.Lot)
	case *Sorted:
		return tellSorted(b)
	case *Ground:
		return tellGround(b)
	case *Blended:
		return tellBlended(b)
	case *Weighed:
		return fmt.Sprintf("weighed %s: %s", b.Lot, grams(b.Mass))
	case *Printed:
		return tellPrinted(b)
	case *Discarded:
		return fmt.Sprintf("threw away %s of %s: %s", grams(b.Mass), b.Lot, unstopped(b.Why))
	case *Confirmed:
		return fmt.Sprintf("said that record %d is right as it is", b.Record)
	case *Pictured:
		return tellPictured(b)
	case *Void:
		if b.Why == "" {
			return "struck out"
		}
		return "struck out: " + unstopped(b.Why)
	}
	if text := tellCare(b); text != "" {
		return text
	}
	if text := tellCampaign(b); text != "" {
		return text
	}
	return tellSetting(b)
}

// tellCare is Describe for what was measured on a lot or done to it, and for
// what became of the machines.
func tellCare(b Body) string {
	switch b := b.(type) {
	case *Sieved:
		return tellSieved(b)
	case *PassedMagnet:
		return tellMagnet(b)
	case *Dedusted:
		text := fmt.Sprintf("took %s of dust off %s", grams(b.Dust), b.Lot)
		if b.Opening != nil {
			text += " through a sieve of " + short(quantity.Length, *b.Opening)
		}
		return text
	case *Dried:
		return tellDried(b)
	case *JarWeighed:
		text := fmt.Sprintf("filled a jar of %s with %s: %s poured", short(quantity.Volume, b.Jar), b.Lot, grams(b.Poured))
		if b.Tapped != nil {
			text += ", " + grams(*b.Tapped) + " tapped"
		}
		return text
	case *Coloured:
		return tellColoured(b)
	case *FlowTested:
		return tellFlow(b)
	case *Serviced:
		return tellServiced(b)
	case *Happened:
		return tellHappened(b)
	}
	return ""
}

// tellSetting is Describe for what the shop is, rather than what was done.
func tellSetting(b Body) string {
	switch b := b.(type) {
	case *ShopSet:
		return strings.TrimSpace("described the shop " + b.Name)
	case *PersonSet:
		return retired("person "+b.Name, b.Retired)
	case *MillSet:
		return retired("mill "+b.Mill.Name, b.Mill.Retired)
	case *ScaleSet:
		return retired("scale "+b.Scale.Name, b.Scale.Retired)
	case *DryerSet:
		return retired("dryer "+b.Dryer.Name, b.Dryer.Retired)
	case *PrinterSet:
		return retired("printer "+b.Printer.Name, b.Printer.Retired)
	case *MaterialSet:
		return fmt.Sprintf("gave %s its own %s", b.Polymer, strings.ReplaceAll(b.Property, "_", " "))
	case *NeedSet:
		return "saved the need " + b.Need.Name
	}
	return b.Kind()
}

func retired(what string, gone bool) string {
	if gone {
		return "retired the " + what
	}
	return "described the " + what
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
