package rules

import (
	"go/ast"
	"go/token"
	"regexp"
	"testing"
)

// steps are the chances at which one word of the scale of verdicts gives way to
// the next, and those that once did so elsewhere.
var steps = regexp.MustCompile(`^(0\.1|0\.33+|0\.5|0\.66+7?|0\.67|0\.75|0\.8|0\.9|0\.90|0\.95)$`)

// chancy is the name of something that is a chance.
var chancy = regexp.MustCompile(`(?i)(holds?|held|chance|sure|likely|verdict)$`)

// scaleViolations finds chances that are held against a step of the scale of
// words anywhere but where the scale stands.
func scaleViolations(f goFile) (bad []string) {
	chance := func(e ast.Expr) bool {
		switch e := e.(type) {
		case *ast.Ident:
			return chancy.MatchString(e.Name)
		case *ast.SelectorExpr:
			return chancy.MatchString(e.Sel.Name)
		case *ast.StarExpr:
			if s, ok := e.X.(*ast.SelectorExpr); ok {
				return chancy.MatchString(s.Sel.Name)
			}
		}
		return false
	}
	step := func(e ast.Expr) bool {
		lit, ok := e.(*ast.BasicLit)
		return ok && lit.Kind == token.FLOAT && steps.MatchString(lit.Value)
	}
	ast.Inspect(f.ast, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.BinaryExpr:
			ordered := n.Op == token.LSS || n.Op == token.LEQ || n.Op == token.GTR || n.Op == token.GEQ
			if ordered && (chance(n.X) && step(n.Y) || chance(n.Y) && step(n.X)) {
				bad = append(bad, f.at(n.Pos())+": a chance held against a step of its own; answer.Judge and answer.Held have the scale")
			}
		case *ast.ValueSpec:
			for i, name := range n.Names {
				if chancy.MatchString(name.Name) && i < len(n.Values) && step(n.Values[i]) {
					bad = append(bad, f.at(n.Pos())+": a step of the scale of words of its own: "+name.Name)
				}
			}
		}
		return true
	})
	return bad
}

// How sure something is has one scale, in answer/verdict.go; no room and no edge
// has steps of its own.
func TestTheScaleOfWordsStandsOnce(t *testing.T) {
	t.Parallel()
	for _, f := range tree(t) {
		if f.test || f.path == "answer/verdict.go" || !underAny(f.dir, []string{"shop", "answer", "plan", "internal"}) {
			continue
		}
		report(t, scaleViolations(f))
	}
}

func TestScaleRulesCanFail(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ body, want string }{
		{"var a = f.Limit.Holds >= 0.9", "answer.Judge"},
		{"var a = 0.75 < chance", "answer.Judge"},
		{"const veryLikely = 0.95", "of its own"},
		{"var a = share >= 0.9", ""},
		{"var a = chance >= answer.SureShare", ""},
	} {
		wantOne(t, scaleViolations(sample(t, "plan/a.go", "package a\n\n"+c.body+"\n")), c.want)
	}
}
