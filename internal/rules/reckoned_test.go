package rules

import (
	"go/ast"
	"go/token"
	"slices"
	"testing"
)

// Nothing is reckoned in the pages: sums, shares and differences of what was weighed and
// foretold are made where they are tested, in shop and plan. These are names of fields
// that hold quantities.
var quantities = []string{"Mass", "OnHand", "Charge", "Product", "Tare", "Energy", "Price", "Cost", "Density", "Share", "Held", "Value", "Low", "High", "Outside", "Lost", "Hole", "Water", "Temperature"}

// laidOut are files that reckon places on the screen from quantities, and why each may.
var laidOut = map[string]string{
	"internal/web/figures/figure.go":    "the length of range bars",
	"internal/web/family/tree.go":       "the sum told under the picture is that of its bands",
	"internal/web/family/place.go":      "the width of bands",
	"internal/web/prints/blendview.go":  "the stripe of a recipe",
	"internal/web/prints/blendbatch.go": "the stripe of what is in the bucket",
	"internal/web/lots/colour.go":       "the stripe of what gives a lot its colour",
}

// named is the quantity an expression holds, "" for none.
func named(x ast.Expr) string {
	switch e := x.(type) {
	case *ast.SelectorExpr:
		if slices.Contains(quantities, e.Sel.Name) {
			return e.Sel.Name
		}
	case *ast.ParenExpr:
		return named(e.X)
	case *ast.StarExpr:
		return named(e.X)
	case *ast.BinaryExpr:
		if n := named(e.X); n != "" {
			return n
		}
		return named(e.Y)
	}
	return ""
}

// reckonViolations finds arithmetic on quantities in a file of the pages.
func reckonViolations(f goFile) []string {
	if f.test || !under(f.dir, roomsOf) || under(f.dir, roomsOf+"/drawing") || under(f.dir, roomsOf+"/charts") {
		return nil
	}
	var bad []string
	say := func(p token.Pos, what string) {
		if what != "" {
			bad = append(bad, f.at(p)+": a page reckons with "+what+"; shop or plan does, with a test")
		}
	}
	ast.Inspect(f.ast, func(n ast.Node) bool {
		switch x := n.(type) {
		case *ast.AssignStmt:
			switch x.Tok {
			case token.ADD_ASSIGN, token.SUB_ASSIGN, token.MUL_ASSIGN, token.QUO_ASSIGN:
				if what := named(x.Rhs[0]); what != "" {
					say(x.Pos(), what)
				} else {
					say(x.Pos(), named(x.Lhs[0]))
				}
			}
		case *ast.BinaryExpr:
			switch x.Op {
			case token.ADD, token.SUB, token.MUL, token.QUO:
				if what := named(x); what != "" && !ofText(x) {
					say(x.Pos(), what)
					return false
				}
			}
		}
		return true
	})
	return bad
}

// ofText says whether a sum is of text: one of its parts is quoted.
func ofText(x ast.Expr) bool {
	switch e := x.(type) {
	case *ast.BasicLit:
		return e.Kind == token.STRING
	case *ast.BinaryExpr:
		return ofText(e.X) || ofText(e.Y)
	}
	return false
}

func TestNothingIsReckonedInThePages(t *testing.T) {
	t.Parallel()
	files := tree(t)
	places := map[string]bool{}
	for _, f := range files {
		bad := reckonViolations(f)
		if laidOut[f.path] == "" {
			report(t, bad)
		}
		places[f.path] = len(bad) > 0
	}
	for name, why := range laidOut {
		if !places[name] {
			t.Errorf("%s (%s) reckons nothing any more: take it out of the list", name, why)
		}
	}
}

func TestReckonRuleCanFail(t *testing.T) {
	t.Parallel()
	for body, want := range map[string]string{
		"sum += l.Mass":            "reckons with Mass",
		"x := (a.Mass - b.Tare)":   "reckons with Mass",
		"x := 100 * *p.Share":      "reckons with Share",
		"e.Mass *= x":              "reckons with Mass",
		"x := l.Mass":              "",
		`x := l.Value + " g"`:      "",
		"x := l.Mass > 0 && i-1>2": "",
	} {
		f := sample(t, roomsOf+"/lots/a.go", "package lots\n\nfunc f() {\n"+body+"\n}\n")
		wantOne(t, reckonViolations(f), want)
	}
	wantOne(t, reckonViolations(sample(t, "shop/a.go", "package shop\n\nvar x = a.Mass * b.Mass\n")), "")
}
