package plausibility

import (
	"go/ast"
	"go/parser"
	"go/token"
	"strconv"
	"testing"

	"hopperful/shop"
)

// Each code of package shop has a line, and each line a code.
func TestEveryCodeHasALine(t *testing.T) {
	t.Parallel()
	file, err := parser.ParseFile(token.NewFileSet(), "../../shop/ask.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	codes := map[shop.AskCode]bool{}
	ast.Inspect(file, func(n ast.Node) bool {
		spec, ok := n.(*ast.ValueSpec)
		if !ok {
			return true
		}
		if kind, named := spec.Type.(*ast.Ident); named && kind.Name == "AskCode" {
			text, err := strconv.Unquote(spec.Values[0].(*ast.BasicLit).Value)
			if err != nil {
				t.Fatal(err)
			}
			codes[shop.AskCode(text)] = true
		}
		return true
	})
	if len(codes) < 20 {
		t.Fatalf("only %d codes were found", len(codes))
	}
	for code := range codes {
		if what, unless := asks(code); (what.Empty() || unless.Empty()) != (code == shop.ColourOfNoParent) { // asked by package lineage
			t.Errorf("%s has no whole line: %+v, %+v", code, what, unless)
		}
	}
}
