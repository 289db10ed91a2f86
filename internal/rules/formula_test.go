package rules

import (
	"go/ast"
	"regexp"
	"slices"
	"strings"
	"testing"

	"hopperful/source"
)

// labels of a formula's comment, in their order.
var labels = []string{"Equation:", "Holds for:", "Source:", "Errors:", "Checks:"}

var (
	keyLike = regexp.MustCompile(`\b[A-Z][A-Za-zÀ-ÿ]+(?:18|19|20)\d\d[a-z]?\b`)
	argLine = regexp.MustCompile(`^\t([A-Za-z_]\w*(?:, ?[A-Za-z_]\w*)*)(\s.*|$)`)
)

// comment is a doc comment taken apart.
type comment struct {
	sections map[string]string // by label
	order    []string          // labels as they come
	args     map[string]string // argument → its line and the lines that go on
}

// takeApart reads the raw comment, tabs and all.
func takeApart(doc *ast.CommentGroup) comment {
	c := comment{sections: map[string]string{}, args: map[string]string{}}
	if doc == nil {
		return c
	}
	label, names := "", []string(nil)
	for _, l := range doc.List {
		line := strings.TrimPrefix(l.Text, "//")
		if m := argLine.FindStringSubmatch(line); m != nil && label == "" {
			names = nil
			for _, n := range strings.Split(m[1], ",") {
				names = append(names, strings.TrimSpace(n))
				c.args[strings.TrimSpace(n)] = m[2]
			}
			continue
		}
		if strings.HasPrefix(line, "\t") && label == "" {
			for _, n := range names {
				c.args[n] += line
			}
			continue
		}
		text := strings.TrimSpace(line)
		for _, known := range labels {
			if strings.HasPrefix(text, known) {
				label = known
				c.order = append(c.order, label)
				text = strings.TrimPrefix(text, known)
			}
		}
		if label != "" {
			c.sections[label] = strings.TrimSpace(c.sections[label] + " " + text)
		}
	}
	return c
}

// formulaViolations judges the exported functions of one file of process/.
// cases holds the functions that rows of the folder's checks.csv check.
func formulaViolations(book typeBook, f goFile, cases map[string]bool) []string {
	var bad []string
	for _, d := range f.ast.Decls {
		fn, ok := d.(*ast.FuncDecl)
		if !ok || fn.Recv != nil || !fn.Name.IsExported() {
			continue
		}
		fail := func(why string) { bad = append(bad, f.at(fn.Pos())+": "+fn.Name.Name+": "+why) }
		c := takeApart(fn.Doc)
		if !book.isFormula(f, fn) {
			if returnsError(fn) && c.sections["Errors:"] == "" {
				fail("the comment has no Errors: line")
			}
			for _, why := range book.argFaults(f, fn, c, true) {
				fail(why)
			}
			continue
		}
		for _, l := range labels {
			if c.sections[l] == "" {
				fail("the comment has no " + l + " line, or nothing behind it")
			}
		}
		if in := inOrder(c.order); !slices.Equal(in, c.order) {
			fail("the lines stand as " + strings.Join(c.order, " ") + ", wanted " + strings.Join(in, " "))
		}
		for _, why := range book.argFaults(f, fn, c, false) {
			fail(why)
		}
		if text := c.sections["Source:"]; text != "" {
			if why := sourceFault(text); why != "" {
				fail("Source: " + why)
			}
		}
		if text := c.sections["Checks:"]; strings.Contains(text, "checks.csv") && !namesACase(text, cases) {
			fail("Checks: names no function that a row of checks.csv checks")
		}
	}
	return bad
}

// isFormula reports whether a function reckons: it takes numbers, at any depth,
// or gives plain ones. A reader that hands out a struct it filled is none, and
// neither is a constructor, whose methods reckon.
func (b typeBook) isFormula(f goFile, fn *ast.FuncDecl) bool {
	if readsStream(fn) || strings.HasPrefix(fn.Name.Name, "New") {
		return false
	}
	for _, p := range fn.Type.Params.List {
		if b.holdsFloat(f, p.Type) {
			return true
		}
	}
	if fn.Type.Results != nil {
		for _, r := range fn.Type.Results.List {
			if b.plainFloat(f, r.Type) {
				return true
			}
		}
	}
	return false
}

// readsStream reports whether a function takes something of package io, or what opens it.
func readsStream(fn *ast.FuncDecl) bool {
	return slices.ContainsFunc(fn.Type.Params.List, func(p *ast.Field) bool {
		typ := p.Type
		if opens, ok := typ.(*ast.FuncType); ok && opens.Results != nil {
			typ = opens.Results.List[0].Type
		}
		sel, ok := typ.(*ast.SelectorExpr)
		if !ok {
			return false
		}
		pkg, ok := sel.X.(*ast.Ident)
		return ok && pkg.Name == "io"
	})
}

func returnsError(fn *ast.FuncDecl) bool {
	if fn.Type.Results == nil {
		return false
	}
	return slices.ContainsFunc(fn.Type.Results.List, func(r *ast.Field) bool {
		id, ok := r.Type.(*ast.Ident)
		return ok && id.Name == "error"
	})
}

func inOrder(order []string) []string {
	in := slices.Clone(order)
	slices.SortStableFunc(in, func(a, b string) int { return slices.Index(labels, a) - slices.Index(labels, b) })
	return slices.Compact(in)
}

// argFaults lists arguments without a line, and numbers without a unit in
// square brackets; of a reader or constructor only the numbers are asked for.
func (b typeBook) argFaults(f goFile, fn *ast.FuncDecl, c comment, numbersOnly bool) []string {
	var bad []string
	for _, p := range fn.Type.Params.List {
		for _, name := range p.Names {
			line, ok := c.args[name.Name]
			switch {
			case name.Name == "_", numbersOnly && !b.plainFloat(f, p.Type):
			case !ok:
				bad = append(bad, "the comment has no line for the argument "+name.Name)
			case b.plainFloat(f, p.Type) && !strings.Contains(line, "["):
				bad = append(bad, "the line of the argument "+name.Name+" has no unit in square brackets")
			}
		}
	}
	return bad
}

// sourceFault says what is wrong with the text of a source, or "".
func sourceFault(text string) string {
	keys := keyLike.FindAllString(text, -1)
	for _, k := range keys {
		if _, ok := source.Lookup(k); !ok {
			return k + " is not in the bibliography"
		}
	}
	if len(keys) > 0 || startsWithWord(text) {
		return ""
	}
	return "neither a key of the bibliography nor one of its words: " + text
}

// startsWithWord finds one of the bibliography's words in a text.
func startsWithWord(text string) bool {
	for _, w := range []string{"own derivation", "common practice, no source", "from memory", "judgement", "invented"} {
		if source.Word(w) && strings.Contains(text, w) {
			return true
		}
	}
	return false
}

var identifier = regexp.MustCompile(`[A-Za-z_]\w*`)

func namesACase(text string, cases map[string]bool) bool {
	return slices.ContainsFunc(identifier.FindAllString(text, -1), func(w string) bool { return cases[w] })
}

func TestFormulasSayWhatTheyRestOn(t *testing.T) {
	t.Parallel()
	files := tree(t)
	book := newTypeBook(files)
	for _, f := range files {
		if under(f.dir, "process") && f.dir != "process" && !f.test && !f.generated {
			report(t, formulaViolations(book, f, casesOf(t, f.dir)))
		}
	}
}

const goodFormula = `package a

// PassShare returns a chance [–].
//
//	d, a  grain and hole [m],
//	      both above 0
//	mill  see its fields
//
// Equation: P = 1.
// Holds for: spheres.
// Source: Reid1965, eq. 2.
// Errors: RangeError for d ≤ 0.
// Checks: PassShare rows of checks.csv.
func PassShare(d, a float64, mill Mill) (float64, error) { return 0, nil }

// Mill is a mill.
type Mill struct{ Speed float64 }
`

func TestFormulaRuleCanFail(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ from, to, want string }{
		{"", "", ""},
		{"// Equation: P = 1.\n", "", "no Equation: line"},
		{"// Holds for: spheres.\n", "// Holds for:\n", "no Holds for: line"},
		{"// Errors: RangeError for d ≤ 0.\n", "", "no Errors: line"},
		{"// Checks: PassShare rows of checks.csv.\n", "", "no Checks: line"},
		{"PassShare rows", "some rows", "names no function"},
		{"// Equation: P = 1.\n// Holds for: spheres.\n", "// Holds for: spheres.\n// Equation: P = 1.\n", "wanted Equation:"},
		{"//\td, a ", "//\td ", "no line for the argument a"},
		{"hole [m]", "hole", "the argument d has no unit"},
		{"//\tmill  see its fields\n", "", "no line for the argument mill"},
		{"Reid1965", "Nobody1965", "Nobody1965 is not in the bibliography"},
		{"Reid1965", "Nobody1865", "Nobody1865 is not in the bibliography"},
		{"Reid1965, eq. 2", "a colleague", "neither a key"},
		{"Reid1965, eq. 2", "own derivation", ""},
		{"(d, a float64, mill Mill) (float64, error)", "(mill *Mill) error", ""},
	} {
		text := strings.Replace(goodFormula, c.from, c.to, 1)
		if c.want == "the argument d has no unit" { // d and a share the line
			text = strings.Replace(text, "d, a float64", "d float64", 1)
		}
		f := sample(t, "process/a/a.go", text)
		wantOne(t, formulaViolations(newTypeBook([]goFile{f}), f, map[string]bool{"PassShare": true}), c.want)
	}
	reader := sample(t, "process/a/b.go", "package a\n\nimport \"io\"\n\n// Read reads.\nfunc Read(r io.Reader) (Mill, error) { return Mill{}, nil }\n\n// Mill is a mill.\ntype Mill struct{ Speed float64 }\n")
	wantOne(t, formulaViolations(newTypeBook([]goFile{reader}), reader, nil), "no Errors: line")
	maker := sample(t, "process/a/c.go", "package a\n\n// NewMill makes.\nfunc NewMill(speed float64) *Mill { return nil }\n\n// Mill is a mill.\ntype Mill struct{ Speed float64 }\n")
	wantOne(t, formulaViolations(newTypeBook([]goFile{maker}), maker, nil), "no line for the argument speed")
}
