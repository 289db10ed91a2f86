package polymer

// Lines of the tables one by one, whose data stand in, and which temperature a material turns at.

import (
	"errors"
	"strings"
	"testing"
)

func emptyTable() *Table {
	return &Table{words: map[string]string{}, called: map[string]string{}, values: map[string][]Value{}, cautions: map[string][]Caution{}}
}

// A name has its words and aliases; none may name two.
func TestNamesOfATable(t *testing.T) {
	t.Parallel()
	table := emptyTable()
	if err := table.addName([]string{"PA 12", "polyamide 12", "nylon-12;Laurin lactam;"}); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"pa12", "PA 12", "Polyamide-12", "NYLON 12", "laurinlactam"} {
		if p, err := table.Find(name); err != nil || p.Name != "PA 12" {
			t.Errorf("%q finds %q, %v", name, p.Name, err)
		}
	}
	for _, line := range [][]string{{"pa-12", "another", ""}, {"X", "Nylon 12", ""}, {"X", "another", "a;b;nylon12"}} {
		if err := table.addName(line); err == nil {
			t.Errorf("%q is taken", line)
		}
	}
	if _, err := table.Find(""); err == nil {
		t.Error("no name finds something")
	}
	for name, want := range map[string]string{strings.Repeat("q", 60): strings.Repeat("q", 60), strings.Repeat("q", 61): strings.Repeat("q", 60) + "…", strings.Repeat("q", 59) + "ü": strings.Repeat("q", 59) + "…"} {
		_, err := table.Find(name)
		var unknown *UnknownError
		if !errors.As(err, &unknown) || unknown.Name != want {
			t.Errorf("%q is told as %v", name, err)
		}
	}
}

func TestCautionsAndPairsOfATable(t *testing.T) {
	t.Parallel()
	table := emptyTable()
	for _, name := range []string{"PLA", "ABS"} {
		if err := table.addName([]string{name, name, ""}); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		line string
		want string // of the refusal; empty: taken
	}{
		{"PLA|fumes|smells|judgement|p. 2|judgement", ""}, {"any|drying|long|judgement||judgement", ""}, {"PLA|danger|smells|judgement||judgement", `"danger"`}, {"PET|fumes|smells|judgement||judgement", `"PET"`},
		{"PLA|fumes||judgement||judgement", "column caution"}, {"PLA|fumes|smells|||judgement", "judgement"},
	} {
		if err := table.addCaution(strings.Split(c.line, "|")); (err == nil) != (c.want == "") || err != nil && !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", c.line, err)
		}
	}
	p, err := table.Find("PLA")
	if err != nil {
		t.Fatal(err)
	}
	all := p.Cautions()
	if len(all) != 2 || all[0].Code != "caution.smells" || all[0].Kind != Fumes || all[0].Source.Key != "judgement" || all[0].Source.Place != "p. 2" || all[0].Mark != Judged || all[1].Code != "caution.long" || all[0].Says().Code != "caution.smells" {
		t.Errorf("%+v", all)
	}
	if _, refused := p.Refused(); refused {
		t.Error("what smells is refused")
	}
	if err := table.addCaution([]string{"PLA", "refuse", "never", "judgement", "", "judgement"}); err != nil {
		t.Fatal(err)
	}
	if c, refused := p.Refused(); !refused || c.Code != "caution.never" {
		t.Errorf("%+v", c)
	}
	for shares, ok := range map[string]bool{"1|2|3": true, "0|0|0": true, "100|100|100": true, "0|50|100": true, "2|1|3": false, "1|3|2": false, "-1|2|3": false, "1|2|101": false, "1|101|102": false, "101|102|103": false, "x|2|3": false, "1|x|3": false, "1|2|x": false} {
		line := append(append([]string{"PLA", "ABS"}, strings.Split(shares, "|")...), "pair.x", "from memory", "", "from memory")
		if err := table.addPair(line); (err == nil) != ok {
			t.Errorf("%s: %v", shares, err)
		}
	}
	for i, line := range []string{"PLA|PET|1|2|3|pair.x|from memory||from memory", "PET|PLA|1|2|3|pair.x|from memory||from memory", "PLA|ABS|1|2|3||from memory||from memory", "PLA|ABS|1|2|3|pair.x|judgement||from memory"} {
		if err := table.addPair(strings.Split(line, "|")); err == nil {
			t.Errorf("pair %d is taken", i)
		}
	}
	for i, line := range []string{"any|filled|1|2|3|pair.x|from memory||from memory", "ABS|any|1|2|3|pair.x|from memory||from memory"} {
		if err := table.addPair(strings.Split(line, "|")); err != nil {
			t.Errorf("pair %d: %v", i, err)
		}
	}
	if last := table.pairs[len(table.pairs)-1]; last.Host != "ABS" || last.Structural != 0.01 || last.Visual != 0.02 || last.Refuse != 0.03 || last.What != "pair.x" {
		t.Errorf("%+v", last)
	}
}

// Whose data a value is: of the plastic named after "as", unless that is the material itself or no material; of polystyrene by its name.
func TestWhoLends(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ polymer, at, grade, want string }{
		{"ASA", "as ABS", "", "ABS"}, {"ASA", "23 °C; as ABS, fitted", "", "ABS"}, {"ASA", "", "as ABS", "ABS"}, {"ABS", "as ABS", "", ""}, {"ASA", "as nobody", "", ""}, {"ASA", "ABS", "", ""}, {"ASA", "ABS, dry", "ABS", ""},
		{"HIPS", "polystyrene", "", "polystyrene"}, {"HIPS", "23 °C; polystyrene, dry", "", "polystyrene"}, {"HIPS", "", "polystyrene", "polystyrene"}, {"HIPS", "as polystyrene", "", ""}, {"HIPS", "", "", ""}, {"ASA", "as ABS; as PLA", "", "ABS"},
	} {
		if got := (Value{Polymer: c.polymer, At: c.at, Grade: c.grade}).Lender(); got != c.want {
			t.Errorf("%+v: %q lends", c, got)
		}
	}
}

// A material turns at its glass transition with a tenth of crystals or less, at its melting point with more.
func TestWhereAMaterialTurns(t *testing.T) {
	t.Parallel()
	for crystals, want := range map[float64]float64{-1: 340, 0: 340, 0.1: 340, 0.1001: 450, 0.15: 450, 0.5: 450} {
		table := emptyTable()
		for p, v := range map[Property]float64{GlassTransition: 340, MeltingPoint: 450, SpecificHeatSolid: 1200, SpecificHeatMelt: 1900, HeatOfFusion: 90e3, Crystallinity: crystals} {
			if v >= 0 {
				table.values["X"] = append(table.values["X"], Value{Polymer: "X", Property: p, Value: v})
			}
		}
		m, err := Polymer{Name: "X", table: table}.Melting(300, 480)
		if err != nil || m.Turn != want || m.SolidHeat != 1200 || m.MeltHeat != 1900 || m.From != 300 || m.To != 480 || crystals >= 0 && (m.Crystallinity != crystals || m.Fusion != 90e3) || crystals < 0 && (m.Crystallinity != 0 || m.Fusion != 0) {
			t.Errorf("%g of crystals: %+v, %v", crystals, m, err)
		}
	}
}

// Letters and digits are kept, in lower case, sixty bytes of them.
func TestSqueezedNames(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]string{
		"PE-HD 2/b": "pehd2b", "": "", "- _": "", "ÄÖ": "äö", strings.Repeat("a", 59): strings.Repeat("a", 59), strings.Repeat("a", 61): strings.Repeat("a", 60), strings.Repeat("ü", 40): strings.Repeat("ü", 30), strings.Repeat("x", 59) + "üx": strings.Repeat("x", 59) + "ü", strings.Repeat("-", 200) + "A": "a",
	} {
		if got := squeeze(name); got != want {
			t.Errorf("%q is squeezed to %q", name, got)
		}
	}
}
