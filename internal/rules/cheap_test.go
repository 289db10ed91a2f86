package rules

import (
	"go/ast"
	"testing"
)

// cheapLogIns are the places where a file makes log-ins cheap though it is no test's.
func cheapLogIns(f goFile) (bad []string) {
	if f.test {
		return nil
	}
	declared := map[*ast.Ident]bool{}
	ast.Inspect(f.ast, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.FuncDecl:
			declared[n.Name] = true
		case *ast.Ident:
			if n.Name == "CheapInTests" && !declared[n] {
				bad = append(bad, f.at(n.Pos())+": makes log-ins cheap; only test programs may")
			}
		}
		return true
	})
	return bad
}

// TestOnlyTestsMakeLogInsCheap: no part of the program lowers what a guess costs.
func TestOnlyTestsMakeLogInsCheap(t *testing.T) {
	t.Parallel()
	for _, f := range tree(t) {
		report(t, cheapLogIns(f))
	}
	body := "package a\n\nimport \"hopperful/internal/account\"\n\nfunc init() { account.CheapInTests() }\n"
	wantOne(t, cheapLogIns(sample(t, "internal/web/a.go", body)), "only test programs may")
	wantOne(t, cheapLogIns(sample(t, "internal/web/a_test.go", body)), "")
}
