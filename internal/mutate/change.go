package main

// Finds what can be changed in a file: an operator for its nearest other, a
// constant for twice itself.

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"strconv"
	"strings"
)

// site is one change.
type site struct {
	file, path, pkg string
	line            int
	from, to        int // bytes replaced
	text            string
	what            string
}

// apply makes the change.
func (s site) apply(source []byte) []byte {
	out := append([]byte(nil), source[:s.from]...)
	out = append(out, s.text...)
	return append(out, source[s.to:]...)
}

// others are the operators put for one another.
var others = map[token.Token]token.Token{
	token.ADD: token.SUB, token.SUB: token.ADD, token.MUL: token.QUO, token.QUO: token.MUL,
	token.LSS: token.GEQ, token.LEQ: token.GTR, token.GTR: token.LEQ, token.GEQ: token.LSS,
	token.EQL: token.NEQ, token.NEQ: token.EQL, token.LAND: token.LOR, token.LOR: token.LAND,
	token.ADD_ASSIGN: token.SUB_ASSIGN, token.SUB_ASSIGN: token.ADD_ASSIGN, token.MUL_ASSIGN: token.QUO_ASSIGN, token.QUO_ASSIGN: token.MUL_ASSIGN,
}

// changes lists every change to a file, in its order. Comparisons with nil are left:
// they keep errors, and errors have tests of another kind.
func changes(name string, source []byte) ([]site, error) {
	files := token.NewFileSet()
	file, err := parser.ParseFile(files, name, source, 0)
	if err != nil {
		return nil, err
	}
	var all []site
	add := func(at token.Pos, length int, text, what string) {
		p := files.Position(at)
		all = append(all, site{file: name, line: p.Line, from: p.Offset, to: p.Offset + length, text: text, what: what})
	}
	ast.Inspect(file, func(n ast.Node) bool {
		switch x := n.(type) {
		case *ast.ImportSpec:
			return false
		case *ast.BinaryExpr:
			if other, ok := others[x.Op]; ok && !isNil(x.X) && !isNil(x.Y) && !isText(x.X) && !isText(x.Y) {
				add(x.OpPos, len(x.Op.String()), other.String(), fmt.Sprintf("%s for %s", other, x.Op))
			}
		case *ast.AssignStmt:
			if other, ok := others[x.Tok]; ok && !isText(x.Rhs[0]) {
				add(x.TokPos, len(x.Tok.String()), other.String(), fmt.Sprintf("%s for %s", other, x.Tok))
			}
		case *ast.BasicLit:
			if text, ok := twice(x); ok {
				add(x.Pos(), len(x.Value), text, fmt.Sprintf("%s for %s", text, x.Value))
			}
		}
		return true
	})
	return all, nil
}

func isNil(e ast.Expr) bool {
	name, ok := e.(*ast.Ident)
	return ok && name.Name == "nil"
}

func isText(e ast.Expr) bool {
	lit, ok := e.(*ast.BasicLit)
	return ok && lit.Kind == token.STRING
}

// twice is a number doubled, 0 made 1.
func twice(lit *ast.BasicLit) (string, bool) {
	switch lit.Kind {
	case token.INT:
		v, err := strconv.ParseInt(strings.ReplaceAll(lit.Value, "_", ""), 0, 62)
		if err != nil {
			return "", false
		}
		if v == 0 {
			return "1", true
		}
		return strconv.FormatInt(2*v, 10), true
	case token.FLOAT:
		v, err := strconv.ParseFloat(strings.ReplaceAll(lit.Value, "_", ""), 64)
		if err != nil {
			return "", false
		}
		if v == 0 {
			return "1.0", true
		}
		text := strconv.FormatFloat(2*v, 'g', -1, 64)
		if !strings.ContainsAny(text, ".e") {
			text += ".0"
		}
		return text, true
	}
	return "", false
}
