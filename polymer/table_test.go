package polymer

import (
	"math"
	"testing"

	"hopperful/figure"
	"hopperful/quantity"
)

func own(t *testing.T, material string, p Property, value, low, high float64, mark Mark) Value {
	t.Helper()
	v, err := Own(material, p, value, low, high, mark, "")
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestOwnValuesWinAndTheBooksStay(t *testing.T) {
	t.Parallel()
	books := len(mustFind(t, Books(), "PLA").All(Density))
	mine, err := Books().With([]Value{own(t, "pla", Density, 1237, 1230, 1244, MeasuredHere)})
	if err != nil {
		t.Fatal(err)
	}
	all := mustFind(t, mine, "PLA").All(Density)
	if len(all) != books+1 || all[0].Value != 1237 || all[0].Mark != MeasuredHere || all[0].Polymer != "PLA" {
		t.Errorf("own value is not first of %d lines: %+v", len(all), all[0])
	}
	if f := all[0].Figure(); f.Basis != figure.Measured || f.Low != 1230 || f.High != 1244 || len(f.Sources) != 0 {
		t.Errorf("figure of a measured value: %+v", f)
	}
	if got := len(mustFind(t, Books(), "PLA").All(Density)); got != books {
		t.Errorf("the books changed: %d lines, had %d", got, books)
	}
}

func TestAnOwnMaterialBorrowsFromTheUnknown(t *testing.T) {
	t.Parallel()
	mine, err := Books().With([]Value{own(t, "wood print", Softening, 330, 0, 0, Entered)})
	if err != nil {
		t.Fatal(err)
	}
	p := mustFind(t, mine, "Wood-Print")
	soft, err := p.Value(Softening)
	if err != nil || soft.Low >= soft.Value || soft.High <= soft.Value || soft.Note == "" {
		t.Errorf("own softening without a range: %+v, %v", soft, err)
	}
	if b := soft.Figure().Basis; b != figure.Entered {
		t.Errorf("basis %q", b)
	}
	borrowed, err := p.Value(Density)
	if err != nil {
		t.Fatal(err)
	}
	if f := borrowed.Figure(); f.Basis != figure.Assumed || len(f.Warnings) != 1 || borrowed.Polymer != "wood print" {
		t.Errorf("borrowed density: %+v", f)
	}
	if names := mine.Names(); names[len(names)-1] != "wood print" {
		t.Errorf("names end with %q", names[len(names)-1])
	}
	if _, err := Find("wood print"); err == nil {
		t.Error("the books learned a shop's material")
	}
}

func TestFaultyOwnValuesAreRefused(t *testing.T) {
	t.Parallel()
	good := own(t, "PLA", Density, 1240, 1220, 1260, Entered)
	for name, spoil := range map[string]func(*Value){
		"order":        func(v *Value) { v.Low = 1250 },
		"not a number": func(v *Value) { v.Value = math.NaN() },
		"wrong unit":   func(v *Value) { v.Value, v.Low, v.High = 1.24, 1.22, 1.26 },
		"wrong kind":   func(v *Value) { v.Kind = quantity.Mass },
		"book mark":    func(v *Value) { v.Mark = Judged; v.Source.Key = "judgement" },
		"no mark":      func(v *Value) { v.Mark = "" },
		"a source":     func(v *Value) { v.Source.Key = "Callister2001" },
		"no material":  func(v *Value) { v.Polymer = " - " },
		"no property":  func(v *Value) { v.Property = "colour" },
	} {
		v := good
		spoil(&v)
		if _, err := Books().With([]Value{good, v}); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if _, err := Own("PLA", "colour", 1, 1, 1, Entered, ""); err == nil {
		t.Error("an unknown property got a value")
	}
	if _, err := Own("PLA", Density, 1240, 0, 0, Published, ""); err == nil {
		t.Error("an own value may not be published")
	}
}

func TestBookFigures(t *testing.T) {
	t.Parallel()
	v, err := mustFind(t, Books(), "PETG").Value(Softening)
	if err != nil {
		t.Fatal(err)
	}
	f := v.Figure()
	if f.Basis != figure.Books || f.Kind != quantity.Temperature || len(f.Sources) != 1 || f.Sources[0].Key != "judgement" ||
		f.How != "known.judgement" || f.Name != "property.softening" || f.About != "PETG" {
		t.Errorf("figure: %+v", f)
	}
	nobody, err := mustFind(t, Books(), Unknown).Value(Density)
	if err != nil || nobody.Figure().Basis != figure.Assumed {
		t.Errorf("unknown material: %+v, %v", nobody, err)
	}
}

func mustFind(t *testing.T, table *Table, name string) Polymer {
	t.Helper()
	p, err := table.Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return p
}
