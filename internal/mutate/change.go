package main

// Finds what can be changed in a file: an operator for its nearest other, a constant for
// twice itself; and writes the file anew so that the environment switches each change on.

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/token"
	"go/types"
	"slices"
	"strings"
)

// site is one change.
type site struct {
	id         int
	file, pkg  string
	line       int
	what       string
	text       string // of the line, as it stands
	from, to   int    // of the expression, in bytes of the file
	op, second int    // where the operator begins, and what stands right of it; 0: a constant
	call       string // of package mutant
	lazy       bool   // what stands right is only looked at when it is needed
	assigned   string // x of x += y, written out again; else empty
}

// others name, for each operator, the function in its place and what it is changed to.
var others = map[token.Token]struct{ call, to string }{
	token.ADD: {"Add", "-"}, token.SUB: {"Sub", "+"}, token.MUL: {"Mul", "/"}, token.QUO: {"Quo", "*"},
	token.LSS: {"Less", ">="}, token.LEQ: {"AtMost", ">"}, token.GTR: {"More", "<="}, token.GEQ: {"AtLeast", "<"},
	token.EQL: {"Same", "!="}, token.NEQ: {"Other", "=="}, token.LAND: {"And", "||"}, token.LOR: {"Or", "&&"},
	token.ADD_ASSIGN: {"Add", "-="}, token.SUB_ASSIGN: {"Sub", "+="}, token.MUL_ASSIGN: {"Mul", "/="}, token.QUO_ASSIGN: {"Quo", "*="},
}

// finder walks one file.
type finder struct {
	set    *token.FileSet
	info   *types.Info
	source []byte
	found  []site
}

// changes lists every change to a file, in its order. Comparisons with nil are left: they
// keep errors, and errors have tests of another kind. So is what can show nowhere: room to
// grow into, how large the number is whose sign is infinity's, and the numbers beside an error.
func changes(set *token.FileSet, file *ast.File, info *types.Info, source []byte) []site {
	f := &finder{set: set, info: info, source: source}
	ast.Inspect(file, f.visit)
	return f.found
}

func (f *finder) visit(n ast.Node) bool {
	switch x := n.(type) {
	case *ast.ImportSpec, *ast.ArrayType:
		return false // a length is a constant of the language
	case *ast.GenDecl:
		return x.Tok != token.CONST
	case *ast.KeyValueExpr: // the key may be an index, which is a constant of the language
		ast.Inspect(x.Value, f.visit)
		return false
	case *ast.CallExpr:
		return f.call(x)
	case *ast.ReturnStmt:
		return f.returned(x)
	case *ast.AssignStmt:
		f.assignment(x)
	case ast.Expr:
		return f.expression(x)
	}
	return true
}

func (f *finder) call(x *ast.CallExpr) bool {
	switch called := f.text(x.Fun); {
	case called == "make" && len(x.Args) == 3:
		ast.Inspect(x.Args[1], f.visit)
		return false
	case called == "math.Inf":
		return false
	case called == "math.IsInf" && len(x.Args) == 2 && f.text(x.Args[1]) != "0":
		ast.Inspect(x.Args[0], f.visit)
		return false
	}
	return true
}

// returned leaves the plain numbers that are returned beside an error.
func (f *finder) returned(x *ast.ReturnStmt) bool {
	n := len(x.Results)
	if n < 2 || f.isNil(x.Results[n-1]) || !f.isError(x.Results[n-1]) {
		return true
	}
	for _, r := range x.Results {
		if f.info.Types[r].Value == nil {
			ast.Inspect(r, f.visit)
		}
	}
	return false
}

func (f *finder) isError(e ast.Expr) bool {
	failure := types.Universe.Lookup("error").Type()
	t := f.info.TypeOf(e)
	return t != nil && types.AssignableTo(t, failure)
}

// expression takes a constant whole, and an operator with what is inside it.
func (f *finder) expression(x ast.Expr) bool {
	if v := f.info.Types[x]; v.Value != nil {
		if basic, ok := v.Type.(*types.Basic); ok && basic.Info()&types.IsNumeric != 0 && basic.Info()&(types.IsUntyped|types.IsComplex) == 0 {
			f.add(site{call: "Const[" + basic.Name() + "]", what: "twice " + f.text(x)}, x)
		}
		return false
	}
	b, ok := x.(*ast.BinaryExpr)
	if !ok {
		return true
	}
	if other, ok := others[b.Op]; ok && !f.isNil(b.X) && !f.isNil(b.Y) && (f.isNumber(b) || f.isTruth(b)) {
		f.add(site{op: f.offset(b.OpPos), second: f.offset(b.Y.Pos()), call: other.call, lazy: b.Op == token.LAND || b.Op == token.LOR,
			what: other.to + " for " + b.Op.String()}, b)
	}
	return true
}

// assignment takes x += y where writing x twice does nothing twice.
func (f *finder) assignment(a *ast.AssignStmt) {
	other, ok := others[a.Tok]
	if !ok || !plain(a.Lhs[0]) || !f.isNumber(a.Lhs[0]) {
		return
	}
	f.add(site{op: f.offset(a.TokPos), second: f.offset(a.Rhs[0].Pos()), call: other.call, assigned: f.text(a.Lhs[0]),
		what: other.to + " for " + a.Tok.String()}, a)
}

// plain says that reading x changes nothing and always gives the same place.
func plain(x ast.Expr) bool {
	switch x := x.(type) {
	case *ast.Ident, *ast.BasicLit:
		return true
	case *ast.SelectorExpr:
		return plain(x.X)
	case *ast.IndexExpr:
		return plain(x.X) && plain(x.Index)
	case *ast.StarExpr:
		return plain(x.X)
	}
	return false
}

func (f *finder) add(s site, n ast.Node) {
	p := f.set.Position(n.Pos())
	if s.op != 0 {
		p.Line = bytes.Count(f.source[:s.op], []byte("\n")) + 1
	}
	s.line, s.from, s.to = p.Line, f.offset(n.Pos()), f.offset(n.End())
	at := s.from
	if s.op != 0 {
		at = s.op
	}
	s.what, s.text = strings.Join(strings.Fields(s.what), " "), lineAt(f.source, at)
	f.found = append(f.found, s)
}

func lineAt(source []byte, at int) string {
	from := bytes.LastIndexByte(source[:at], '\n') + 1
	line, _, _ := bytes.Cut(source[from:], []byte("\n"))
	return string(bytes.TrimSpace(line))
}

func (f *finder) offset(p token.Pos) int { return f.set.Position(p).Offset }

func (f *finder) text(n ast.Node) string {
	return string(f.source[f.offset(n.Pos()):f.offset(n.End())])
}

func (f *finder) isNil(e ast.Expr) bool { return f.info.Types[e].IsNil() }

func (f *finder) isNumber(e ast.Expr) bool {
	t := f.info.TypeOf(e)
	if t == nil {
		return false
	}
	b, ok := t.Underlying().(*types.Basic)
	return ok && b.Info()&(types.IsInteger|types.IsFloat) != 0
}

func (f *finder) isTruth(e ast.Expr) bool {
	b, ok := f.info.TypeOf(e).Underlying().(*types.Basic)
	return ok && b.Info()&types.IsBoolean != 0
}

// edit is text put in place of some bytes.
type edit struct {
	from, to int
	text     string
	depth    int // of the expression: an outer one opens before and closes after an inner one
	opens    bool
}

// switched writes a file so that each of its sites is switched on by its number. What
// stood between an operator and its right side goes: a line's end there would end the
// statement.
func switched(source []byte, packageEnd int, sites []site) []byte {
	edits := []edit{{packageEnd, packageEnd, `; import mutant "hopperful/internal/mutate/mutant"`, 0, true}}
	for _, s := range sites {
		size := s.to - s.from
		open := fmt.Sprintf("mutant.%s(%d, ", s.call, s.id)
		switch {
		case s.op == 0:
			edits = append(edits, edit{s.from, s.from, open, -size, true}, edit{s.to, s.to, ")", size, false})
		case s.assigned != "":
			edits = append(edits, edit{s.op, s.second, "= " + open + s.assigned + ", ", -size, true}, edit{s.to, s.to, ")", size, false})
		case s.lazy:
			edits = append(edits, edit{s.from, s.from, open, -size, true}, edit{s.op, s.second, ", func() bool { return ", 0, true}, edit{s.to, s.to, " })", size, false})
		default:
			edits = append(edits, edit{s.from, s.from, open, -size, true}, edit{s.op, s.second, ", ", 0, true}, edit{s.to, s.to, ")", size, false})
		}
	}
	slices.SortStableFunc(edits, func(a, b edit) int {
		switch {
		case a.from != b.from:
			return a.from - b.from
		case a.opens != b.opens: // what ends here ends before what begins
			if b.opens {
				return -1
			}
			return 1
		}
		return a.depth - b.depth
	})
	var out bytes.Buffer
	at := 0
	for _, e := range edits {
		out.Write(source[at:e.from])
		out.WriteString(e.text)
		at = e.to
	}
	out.Write(source[at:])
	return out.Bytes()
}

// String is the change in one line.
func (s site) String() string {
	return fmt.Sprintf("%s:%d: %s | %s", s.file, s.line, s.what, s.text)
}
