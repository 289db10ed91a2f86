package rules

import (
	"go/ast"
	"path"
	"slices"
	"strings"
	"testing"

	"hopperful/fact"
	"hopperful/plan/reckon"
	"hopperful/polymer"
	"hopperful/process/colour"
	"hopperful/quantity"
)

// scales are the kinds of lines whose codes are made of a scale and one of its
// values, by the calls that make them.
func scales(t *testing.T) []string {
	all := []string{}
	for _, f := range tree(t) {
		if f.test {
			continue
		}
		ast.Inspect(f.ast, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			if sel, ok := call.Fun.(*ast.SelectorExpr); ok && (sel.Sel.Name == "Term" || sel.Sel.Name == "TermCode") {
				for _, a := range call.Args {
					if text, ok := literal(a); ok {
						all = append(all, text)
					}
				}
			}
			return true
		})
	}
	return all
}

// valued are the codes that a scale makes of one of the texts in the source.
func valued(t *testing.T, texts map[string]bool) map[string]bool {
	codes := map[string]bool{}
	for _, scale := range scales(t) {
		for text := range texts {
			codes[fact.TermCode(scale, text)] = true
		}
	}
	return codes
}

// tabled are the codes made of what stands in tables, in topics, or of every colour:
// each has a line, and no other line of its kind is there.
func tabled() map[string]bool {
	codes := map[string]bool{}
	add := func(all ...string) {
		for _, code := range all {
			codes[code] = code != ""
		}
	}
	for _, name := range polymer.Names() {
		p, err := polymer.Find(name)
		if err != nil {
			panic(err)
		}
		add(p.Words)
		for _, c := range p.Cautions() {
			add(c.Code, fact.TermCode("caution_about", string(c.Kind)), fact.TermCode("mark", string(c.Mark)))
		}
		for _, d := range polymer.Properties() {
			add(d.Name(), d.Use())
			for _, v := range p.All(d.Property) {
				add(v.Figure().How, fact.TermCode("mark", string(v.Mark)))
			}
		}
	}
	for _, t := range reckon.Topics() {
		add(t.Title(), t.Question())
		for _, in := range t.Inputs {
			add(in.Name, in.Optional)
			for _, c := range in.Choices {
				add(reckon.Choice(c))
			}
		}
	}
	for l := 0.0; l <= 100; l += 4 {
		for a := -100.0; a <= 100; a += 5 {
			for b := -100.0; b <= 100; b += 5 {
				if name, err := colour.Name(colour.Lab{L: l, A: a, B: b}); err == nil {
					add(fact.TermCode("shade", name))
				}
			}
		}
	}
	for _, f := range quantity.Faults() {
		add(fact.TermCode("unread", string(f)))
	}
	for k := quantity.Number; !strings.HasPrefix(k.String(), "unknown"); k++ {
		add(fact.TermCode("kind", k.String()))
	}
	delete(codes, "")
	return codes
}

// conditions are the parts of what the values of the table hold under.
func conditions() (parts []string) {
	for _, name := range polymer.Names() {
		p, _ := polymer.Find(name)
		for _, d := range polymer.Properties() {
			for _, v := range p.All(d.Property) {
				parts = append(parts, strings.Split(v.Figure().At, "; ")...)
			}
		}
	}
	return parts
}

// What stands in a table is worded: plastics, properties, cautions, conditions, the
// calculators' titles, questions, inputs and choices, and every colour's name.
func TestTablesAreWorded(t *testing.T) {
	t.Parallel()
	all := wordsOf(t)
	for code := range tabled() {
		if len(all[code]) == 0 {
			t.Errorf("%q has no line", code)
		}
	}
	for _, part := range conditions() {
		if len(all[fact.TermCode("at", part)]) > 0 {
			continue
		}
		for _, one := range strings.Split(part, ", ") {
			if len(all[fact.TermCode("at", one)]) == 0 && hasWord(one) {
				t.Errorf("the condition %q has no line: %q", one, fact.TermCode("at", one))
			}
		}
	}
}

// arguments are the names of what formulas take, where they stand in the call that
// checks it.
func arguments(f goFile) (names []string) {
	ast.Inspect(f.ast, func(n ast.Node) bool {
		call, ok := n.(*ast.CallExpr)
		if !ok || len(call.Args) < 5 {
			return true
		}
		if sel, ok := call.Fun.(*ast.SelectorExpr); ok && (sel.Sel.Name == "Within" || sel.Sel.Name == "Above") {
			if text, ok := literal(call.Args[0]); ok {
				names = append(names, text)
			}
		}
		return true
	})
	return names
}

// What a formula refuses names the argument, in every language.
func TestArgumentsAreWorded(t *testing.T) {
	t.Parallel()
	all := wordsOf(t)
	for _, f := range tree(t) {
		if f.test {
			continue
		}
		for _, name := range arguments(f) {
			if len(all[name]) == 0 && len(all[fact.TermCode("argument", name)]) == 0 {
				t.Errorf("%s: the argument %q has no line %q", f.path, name, fact.TermCode("argument", name))
			}
		}
	}
}

// hasWord reports whether a condition holds more than a number with its unit.
func hasWord(text string) bool {
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z') }) {
		if len(w) > 2 && w != "MPa" && !slices.Contains(polymer.Names(), w) {
			return true
		}
	}
	return false
}

// keyed reports whether the code is a kind of line that hangs on keys, and each of
// its keys is one in the source.
func keyed(code string, keys map[string]bool) bool {
	kind, rest, _ := strings.Cut(code, ".")
	switch kind {
	case "table", "column", "section":
		return keys[rest]
	case "reckoned", "how", "chart":
		topic, key, ok := strings.Cut(rest, ".")
		return ok && keys[topic] && keys[key]
	}
	return false
}

// worn are the codes of conditions that the table does not have: those parts that
// still stand in it.
func worn() map[string]bool {
	codes := map[string]bool{fact.TermCode("at", string(polymer.StandIn)): true}
	for _, part := range conditions() {
		codes[fact.TermCode("at", part)] = true
		for _, one := range strings.Split(part, ", ") {
			codes[fact.TermCode("at", one)] = true
		}
	}
	return codes
}

func TestScalesCanFail(t *testing.T) {
	t.Parallel()
	if !hasWord("as printed") || hasWord("23 °C") || hasWord("1.8 MPa") {
		t.Error("words of conditions are not told from numbers")
	}
	keys := map[string]bool{"drying": true, "time": true}
	for code, want := range map[string]bool{"table.time": true, "table.place": false, "how.drying.time": true, "how.drying.place": false, path.Join("how"): false} {
		if keyed(code, keys) != want {
			t.Errorf("%s: %v", code, !want)
		}
	}
}
