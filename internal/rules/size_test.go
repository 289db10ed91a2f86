package rules

import (
	"go/ast"
	"go/token"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// sizeViolations judges the length of a file and of its functions.
func sizeViolations(s structure, f goFile) []string {
	if f.generated {
		return nil
	}
	var bad []string
	if f.lines > s.longFile {
		bad = append(bad, f.path+": "+itoa(f.lines)+" lines, at most "+itoa(s.longFile))
	}
	for _, d := range f.ast.Decls {
		fn, ok := d.(*ast.FuncDecl)
		if !ok || f.test {
			continue
		}
		n := f.set.Position(fn.End()).Line - f.set.Position(fn.Pos()).Line + 1
		if n > s.longFuncs {
			bad = append(bad, f.at(fn.Pos())+": "+fn.Name.Name+" has "+itoa(n)+" lines, at most "+itoa(s.longFuncs))
		}
	}
	return bad
}

// commentViolations lists exported names without a comment. A comment over a
// group of constants or variables speaks for all of them; a number among the
// fields of a struct of process/ needs its own, which gives the unit.
func commentViolations(f goFile) []string {
	var bad []string
	if f.test || f.generated {
		return nil
	}
	fail := func(p token.Pos, name string) { bad = append(bad, f.at(p)+": "+name+" has no comment") }
	for _, d := range f.ast.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if d.Name.IsExported() && onExported(d) && d.Doc.Text() == "" {
				fail(d.Pos(), d.Name.Name)
			}
		case *ast.GenDecl:
			for _, spec := range d.Specs {
				switch spec := spec.(type) {
				case *ast.TypeSpec:
					if spec.Name.IsExported() && d.Doc.Text()+spec.Doc.Text()+spec.Comment.Text() == "" {
						fail(spec.Pos(), spec.Name.Name)
					}
					inUnit := strings.Contains(d.Doc.Text()+spec.Doc.Text(), "[") // "a box [m]" speaks for its fields
					if st, ok := spec.Type.(*ast.StructType); ok && spec.Name.IsExported() && under(f.dir, "process") && !inUnit {
						bad = append(bad, fieldViolations(f, spec.Name.Name, st)...)
					}
				case *ast.ValueSpec:
					for _, n := range spec.Names {
						if n.IsExported() && d.Doc.Text()+spec.Doc.Text()+spec.Comment.Text() == "" {
							fail(n.Pos(), n.Name)
						}
					}
				}
			}
		}
	}
	return bad
}

// fieldViolations lists exported float64 fields without a comment.
func fieldViolations(f goFile, name string, st *ast.StructType) []string {
	var bad []string
	for _, field := range st.Fields.List {
		t := field.Type
		if a, ok := t.(*ast.ArrayType); ok {
			t = a.Elt
		}
		id, ok := t.(*ast.Ident)
		if !ok || id.Name != "float64" || len(field.Names) == 0 || !field.Names[0].IsExported() {
			continue
		}
		if field.Doc.Text()+field.Comment.Text() == "" {
			bad = append(bad, f.at(field.Pos())+": "+name+"."+field.Names[0].Name+" has no comment with its unit")
		}
	}
	return bad
}

// onExported reports whether a function is no method or one of an exported type.
func onExported(d *ast.FuncDecl) bool {
	if d.Recv == nil || len(d.Recv.List) == 0 {
		return true
	}
	t := d.Recv.List[0].Type
	for {
		switch x := t.(type) {
		case *ast.StarExpr:
			t = x.X
		case *ast.IndexExpr:
			t = x.X
		case *ast.IndexListExpr:
			t = x.X
		case *ast.Ident:
			return x.IsExported()
		default:
			return true
		}
	}
}

// nameViolations judges the names of a file and its package.
func nameViolations(s structure, f goFile) []string {
	var bad []string
	if name := strings.TrimSuffix(f.ast.Name.Name, "_test"); slices.Contains(s.badNames, name) {
		bad = append(bad, f.path+": the package is called "+name+", which says nothing of what it holds")
	}
	if name := strings.TrimSuffix(path.Base(f.path), ".go"); slices.Contains(s.badNames, name) {
		bad = append(bad, f.path+": the file is called "+name+", which says nothing of what it holds")
	}
	return bad
}

func TestSizesAndNames(t *testing.T) {
	t.Parallel()
	s := laidDown(t)
	for _, f := range tree(t) {
		report(t, sizeViolations(s, f))
		report(t, commentViolations(f))
		report(t, nameViolations(s, f))
	}
}

// Pages, styles, scripts and queries of our own keep to the length of a file
// too; what others wrote stands in folders called vendor.
func TestOtherFilesStayShort(t *testing.T) {
	t.Parallel()
	s := laidDown(t)
	err := walk(func(name string) error {
		if !slices.Contains([]string{".css", ".js", ".html", ".sql"}, path.Ext(name)) || strings.HasSuffix(name, ".min.js") {
			return nil
		}
		text, err := os.ReadFile(filepath.Join(root, name))
		if n := strings.Count(string(text), "\n"); n > s.longFile {
			t.Errorf("%s: %d lines, at most %d", name, n, s.longFile)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestSizeAndNameRulesCanFail(t *testing.T) {
	t.Parallel()
	s := laidDown(t)
	long := "package a\n\nfunc f() {\n" + strings.Repeat("\t_ = 1\n", 90) + "}\n"
	wantOne(t, sizeViolations(s, sample(t, "plan/a.go", long)), "f has 92 lines, at most 80")
	wantOne(t, sizeViolations(s, sample(t, "plan/a_test.go", long)), "")
	wantOne(t, sizeViolations(s, sample(t, "plan/a.go", "package a\n"+strings.Repeat("\n", 500))), "501 lines, at most 500")
	wantOne(t, sizeViolations(s, sample(t, "plan/a.go", "// Code generated by hand. DO NOT EDIT.\n\n"+long)), "")
	for _, c := range []struct{ body, want string }{
		{"func F() {}", "F has no comment"},
		{"// F does.\nfunc F() {}", ""},
		{"type t int\n\nfunc (t) F() {}", ""},
		{"// T is.\ntype T int\n\nfunc (*T) F() {}", "F has no comment"},
		{"type T int", "T has no comment"},
		{"// The parts.\nconst (\n\tA = 1\n\tB = 2\n)", ""},
		{"var V int", "V has no comment"},
		{"// T is.\ntype T struct{ X float64 }", "T.X has no comment with its unit"},
		{"// T is.\ntype T struct {\n\tX float64 // m\n}", ""},
		{"// T is a point [m].\ntype T struct{ X float64 }", ""},
	} {
		wantOne(t, commentViolations(sample(t, "process/a/a.go", "package a\n\n"+c.body+"\n")), c.want)
	}
	wantOne(t, nameViolations(s, sample(t, "plan/a.go", "package helpers\n")), "package is called helpers")
	wantOne(t, nameViolations(s, sample(t, "plan/util.go", "package plan\n")), "file is called util")
	wantOne(t, nameViolations(s, sample(t, "plan/grind.go", "package plan\n")), "")
}
