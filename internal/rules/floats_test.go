package rules

import (
	"go/ast"
	"path"
	"strconv"
)

// typeBook knows the types the house declares, by folder and name, so that a
// signature can be searched for numbers.
type typeBook map[string]ast.Expr // "process/sieve.Grid"

func newTypeBook(files []goFile) typeBook {
	book := typeBook{}
	for _, f := range files {
		for _, d := range f.ast.Decls {
			g, ok := d.(*ast.GenDecl)
			if !ok || f.test {
				continue
			}
			for _, spec := range g.Specs {
				if t, ok := spec.(*ast.TypeSpec); ok {
					book[f.dir+"."+t.Name.Name] = t.Type
				}
			}
		}
	}
	return book
}

// holdsFloat reports whether a type holds a float64 at any depth. Functions and
// interfaces count by what they take and give: a callback of a float64 does.
func (b typeBook) holdsFloat(f goFile, t ast.Expr) bool { return b.search(f.dir, importsOf(f), t, 0) }

// plainFloat reports whether a type is a float64 or a list of them, under
// whatever name, but no struct.
func (b typeBook) plainFloat(f goFile, t ast.Expr) bool {
	for range 8 { // names of names; our code has two
		switch x := t.(type) {
		case *ast.ArrayType:
			t = x.Elt
		case *ast.Ellipsis:
			t = x.Elt
		case *ast.Ident:
			if x.Name == "float64" {
				return true
			}
			named, ok := b[f.dir+"."+x.Name]
			if !ok {
				return false
			}
			t = named
		default:
			return false
		}
	}
	return false
}

func importsOf(f goFile) map[string]string {
	all := map[string]string{}
	for _, spec := range f.ast.Imports {
		name, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			continue
		}
		local := path.Base(name)
		if spec.Name != nil {
			local = spec.Name.Name
		}
		all[local] = name
	}
	return all
}

func (b typeBook) search(dir string, imports map[string]string, t ast.Expr, depth int) bool {
	if depth > 12 { // a type that holds itself
		return false
	}
	in := func(t ast.Expr) bool { return b.search(dir, imports, t, depth+1) }
	fields := func(l *ast.FieldList) bool {
		if l != nil {
			for _, field := range l.List {
				if in(field.Type) {
					return true
				}
			}
		}
		return false
	}
	switch x := t.(type) {
	case *ast.Ident:
		named, ok := b[dir+"."+x.Name]
		return x.Name == "float64" || ok && in(named)
	case *ast.SelectorExpr:
		pkg, _ := x.X.(*ast.Ident)
		if pkg == nil || len(imports[pkg.Name]) <= len(module) || !under(imports[pkg.Name], module) {
			return false
		}
		other := imports[pkg.Name][len(module)+1:]
		named, ok := b[other+"."+x.Sel.Name]
		return ok && b.search(other, imports, named, depth+1)
	case *ast.StarExpr:
		return in(x.X)
	case *ast.ArrayType:
		return in(x.Elt)
	case *ast.Ellipsis:
		return in(x.Elt)
	case *ast.MapType:
		return in(x.Key) || in(x.Value)
	case *ast.ChanType:
		return in(x.Value)
	case *ast.IndexExpr:
		return in(x.X) || in(x.Index)
	case *ast.FuncType:
		return fields(x.Params) || fields(x.Results)
	case *ast.StructType:
		return fields(x.Fields)
	}
	return false
}
