package rules

import (
	"go/ast"
	"go/token"
	"strings"
	"testing"
)

// barHome is the one file that knows what must not be ground, dried or melted.
const barHome = "shop/bar.go"

// barWords are words of that rule; who needs them asks the rule.
var barWords = []string{"disposer", "acid gas", "hydrogen chloride", "another halogen", "set all of it aside"}

// barViolations finds a second address of that rule: its words, a look at
// whether a lot is suspected, or the table's refusals asked past it.
func barViolations(f goFile) []string {
	if f.test || f.path == barHome || strings.HasPrefix(f.path, "internal/rules/") {
		return nil
	}
	var bad []string
	ast.Inspect(f.ast, func(n ast.Node) bool {
		switch x := n.(type) {
		case *ast.BasicLit:
			for _, w := range barWords {
				if x.Kind == token.STRING && strings.Contains(strings.ToLower(x.Value), w) {
					bad = append(bad, f.at(x.Pos())+": says "+w+", which is for "+barHome)
				}
			}
		case *ast.BinaryExpr:
			for _, side := range [][2]ast.Expr{{x.X, x.Y}, {x.Y, x.X}} {
				if selects(side[0], "Halogen") && (selects(side[1], "Yes") || isNamed(side[1], "Yes")) && !strings.HasPrefix(f.path, "shop/phrase.go") {
					bad = append(bad, f.at(x.Pos())+": asks by itself whether a lot is suspected; ask Bar or Suspected")
				}
			}
		case *ast.CallExpr:
			if selects(x.Fun, "Refused") && len(x.Args) == 0 {
				bad = append(bad, f.at(x.Pos())+": asks the table what it refuses; ask shop.BarOf")
			}
		}
		return true
	})
	return bad
}

func selects(e ast.Expr, name string) bool {
	s, ok := e.(*ast.SelectorExpr)
	return ok && s.Sel.Name == name
}

func isNamed(e ast.Expr, name string) bool {
	id, ok := e.(*ast.Ident)
	return ok && id.Name == name
}

// What must not be ground, dried or melted is said in one place.
func TestTheBarHasOneAddress(t *testing.T) {
	t.Parallel()
	for _, f := range tree(t) {
		report(t, barViolations(f))
	}
	for _, text := range []string{
		`package x; const c = "hand it to a licensed Disposer"`,
		`package x; func f(l L) bool { return l.Halogen == shop.Yes }`,
		`package x; func f(p P) { p.Refused() }`,
	} {
		if len(barViolations(sample(t, "plan/x/x.go", text))) == 0 {
			t.Errorf("not found in %s", text)
		}
	}
}
