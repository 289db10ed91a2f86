package rules

import (
	"go/ast"
	"maps"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// A formula that nothing calls is a second copy waiting to differ, or dead. Each
// exported function of process/ is reached from the program, shown in an
// example, or named in docs/structure.md with what it waits for.

// declared is a top-level name of a package and the names its text uses.
type declared struct {
	uses  map[string]bool // "dir.Name"
	entry bool            // runs without being named: main, init, methods, variables
}

// declarations reads every file but the tests.
func declarations(files []goFile) map[string]*declared {
	all := map[string]*declared{}
	add := func(key string, entry bool) *declared {
		if all[key] == nil {
			all[key] = &declared{uses: map[string]bool{}}
		}
		all[key].entry = all[key].entry || entry
		return all[key]
	}
	for _, f := range files {
		if f.test {
			continue
		}
		from := housePackages(f)
		for _, d := range f.ast.Decls {
			switch d := d.(type) {
			case *ast.FuncDecl:
				free := d.Recv == nil
				name := d.Name.Name
				if !free {
					name = "method " + name
				}
				collect(add(f.dir+"."+name, !free || name == "main" || name == "init"), d, f.dir, from)
			case *ast.GenDecl:
				collect(add(f.dir+".variables", true), d, f.dir, from)
			}
		}
	}
	return all
}

// housePackages are the local names of this house's packages in a file.
func housePackages(f goFile) map[string]string {
	from := map[string]string{}
	for _, spec := range f.ast.Imports {
		name, err := strconv.Unquote(spec.Path.Value)
		inside, house := strings.CutPrefix(name, module+"/")
		if err != nil || !house {
			continue
		}
		local := path.Base(inside)
		if spec.Name != nil {
			local = spec.Name.Name
		}
		from[local] = inside
	}
	return from
}

// collect notes what a declaration uses: names of its own package and of others.
func collect(d *declared, n ast.Node, dir string, from map[string]string) {
	ast.Inspect(n, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.SelectorExpr:
			if id, ok := n.X.(*ast.Ident); ok && from[id.Name] != "" {
				d.uses[from[id.Name]+"."+n.Sel.Name] = true
			}
		case *ast.Ident:
			d.uses[dir+"."+n.Name] = true
		}
		return true
	})
}

// reached are the declarations that the program can come to.
func reached(all map[string]*declared) map[string]bool {
	seen := map[string]bool{}
	var open []string
	for key, d := range all {
		if d.entry && !strings.HasPrefix(key, "internal/study") {
			open = append(open, key)
		}
	}
	for len(open) > 0 {
		key := open[len(open)-1]
		open = open[:len(open)-1]
		if seen[key] || all[key] == nil {
			continue
		}
		seen[key] = true
		open = slices.AppendSeq(open, maps.Keys(all[key].uses))
	}
	return seen
}

// shownIn are the formulas that examples call.
func shownIn(files []goFile) map[string]bool {
	shown := map[string]bool{}
	for _, f := range files {
		if !f.test {
			continue
		}
		from := housePackages(f)
		for _, d := range f.ast.Decls {
			if fn, ok := d.(*ast.FuncDecl); ok && strings.HasPrefix(fn.Name.Name, "Example") {
				e := declared{uses: map[string]bool{}}
				collect(&e, fn, f.dir, from)
				maps.Copy(shown, e.uses)
			}
		}
	}
	return shown
}

// uncalled lists the exported functions of process/ that nothing comes to, and
// the lines about waiting that nothing needs any more.
func uncalled(files []goFile, waiting map[string]bool) []string {
	live, shown := reached(declarations(files)), shownIn(files)
	var bad []string
	stale := maps.Clone(waiting)
	for _, f := range files {
		if f.test || !under(f.dir, "process") {
			continue
		}
		for _, d := range f.ast.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if !ok || fn.Recv != nil || !fn.Name.IsExported() {
				continue
			}
			key := f.dir + "." + fn.Name.Name
			switch {
			case live[key] || shown[key]:
			case waiting[key]:
				delete(stale, key)
			default:
				bad = append(bad, f.at(fn.Pos())+": nothing calls "+fn.Name.Name+": call it, show it in an example, or take it out")
			}
		}
	}
	for _, key := range slices.Sorted(maps.Keys(stale)) {
		bad = append(bad, "docs/structure.md: "+key+" waits no longer")
	}
	return bad
}

func TestEveryFormulaIsCalled(t *testing.T) {
	t.Parallel()
	report(t, uncalled(tree(t), laidDown(t).waiting))
}

func TestTheRuleOfCallersCanFail(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ name, formula, caller, want string }{
		{"called", "func Rise() {}", "package plan\n\nimport \"hopperful/process/heat\"\n\nfunc init() { heat.Rise() }\n", ""},
		{"called by what nothing calls", "func Rise() {}\n\nfunc idle() { Rise() }", "package plan\n", "nothing calls Rise"},
		{"alone", "func Rise() {}", "package plan\n", "nothing calls Rise"},
		{"in a method", "type Pot int\n\nfunc (Pot) Warm() { Rise() }\n\nfunc Rise() {}", "package plan\n", ""},
	} {
		files := []goFile{sample(t, "process/heat/a.go", "package heat\n\n"+c.formula+"\n"), sample(t, "plan/a.go", c.caller)}
		t.Run(c.name, func(t *testing.T) { t.Parallel(); wantOne(t, uncalled(files, nil), c.want) })
	}
	t.Run("waits no longer", func(t *testing.T) {
		t.Parallel()
		files := []goFile{sample(t, "process/heat/a.go", "package heat\n")}
		wantOne(t, uncalled(files, map[string]bool{"process/heat.Rise": true}), "waits no longer")
	})
}
