package sheets

import (
	"net/url"
	"sync"

	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/shop"
)

// All lists every sheet by the word its address has.
var All = map[string]func(*desk.Desk) forms.Sheet{
	"take-in": TakeIn, "charge": Charge, "sort": sortSheet, "weigh": weighSheet,
	"magnet": magnetSheet, "dedust": dedustSheet, "dry": drySheet, "jar": jarSheet, "colour": Colour, "flow": flowSheet, "sieve": Sieve,
	"service": serviceSheet, "event": eventSheet,
	"blend": blendSheet, "print": printSheet, "discard": discardSheet,
	"mill": Mill, "scale": Scale, "printer": printerSheet, "dryer": dryerSheet,
	"shop": shopSheet, "person": personSheet, "material": materialSheet, "need": needSheet,
}

// OfRecord is the sheet a record was written on, for its correction.
func OfRecord(d *desk.Desk, b shop.Body) (forms.Sheet, bool) {
	with := *d
	switch b := b.(type) {
	case *shop.MaterialSet:
		with.Query = url.Values{"polymer": {b.Polymer}, "property": {b.Property}}.Get
	case *shop.Sieved:
		with.Query = StackQuery(b).Get
	}
	return OfKind(&with, b.Kind())
}

// made are the functions of [All] whose kinds of record were seen, by these: to make a sheet
// may mean to look through the stock.
var made sync.Map

// OfKind is the sheet of a kind of record.
func OfKind(d *desk.Desk, kind string) (forms.Sheet, bool) {
	if known, ok := made.Load(kind); ok {
		return known.(func(*desk.Desk) forms.Sheet)(d), true
	}
	for _, make := range All {
		sh := make(d)
		if made.Store(sh.Kind, make); sh.Kind == kind {
			return sh, true
		}
	}
	return forms.Sheet{}, false
}

// Latest is the body that last described a named thing.
func Latest(d *desk.Desk, kind, name string) (shop.Body, bool) {
	if kind == "shop_set" {
		set := d.State.Shop
		return &set, true
	}
	for _, r := range d.State.Records.LatestOf(&shop.MillSet{}, &shop.ScaleSet{}, &shop.PrinterSet{}, &shop.DryerSet{}, &shop.MaterialSet{}, &shop.PersonSet{}, &shop.NeedSet{}) {
		if name != "" && r.Body.Kind() == kind && nameOf(r.Body) == name {
			return r.Body, true
		}
	}
	return nil, false
}

// nameOf is the name of the thing a body describes, "" for things that happen.
func nameOf(b shop.Body) string {
	switch t := b.(type) {
	case *shop.MillSet:
		return t.Mill.Name
	case *shop.ScaleSet:
		return t.Scale.Name
	case *shop.PrinterSet:
		return t.Printer.Name
	case *shop.DryerSet:
		return t.Dryer.Name
	case *shop.PersonSet:
		return t.Name
	case *shop.NeedSet:
		return t.Need.Name
	}
	return ""
}
