package rules

import (
	"go/ast"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// importViolations judges the imports of one file.
func importViolations(s structure, f goFile) []string {
	var bad []string
	for _, spec := range f.ast.Imports {
		name, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			continue // the parser has refused such a file already
		}
		if why := s.refuseImport(f, name); why != "" {
			bad = append(bad, f.at(spec.Pos())+": imports "+name+": "+why)
		}
	}
	return bad
}

// refuseImport says why a file may not import a package, or "".
func (s structure) refuseImport(f goFile, name string) string {
	rule, ok := s.ruleFor(f.dir)
	if !ok {
		return "docs/structure.md has no line for " + f.dir
	}
	if inside, house := strings.CutPrefix(name, module+"/"); house {
		switch {
		case under(inside, "cmd"):
			return "nothing imports cmd"
		case f.test && (inside == "internal/checkrow" || inside == "source" || inside == "internal/say" || inside == f.dir):
			return ""
		case !slices.Contains(rule.house, "everything") && !underAny(inside, rule.house):
			return rule.folder + " may import " + orNothing(rule.house) + " of this house"
		}
		return ""
	}
	if !f.test {
		for _, held := range s.packages {
			if under(name, held.name) && name != "net/url" && !s.narrower(name, held.name) && !underAny(f.dir, held.only) {
				return "only " + strings.Join(held.only, ", ") + " may"
			}
		}
	}
	switch {
	case !strings.Contains(strings.Split(name, "/")[0], "."): // the standard library
	case f.test && underAny(name, s.testLibs):
	case slices.Contains(rule.outside, "anything") || underAny(name, rule.outside):
	default:
		return rule.folder + " may import " + orNothing(rule.outside) + " from outside"
	}
	return ""
}

// narrower reports whether a longer held-back name than held fits the package,
// whose line then decides.
func (s structure) narrower(name, held string) bool {
	return slices.ContainsFunc(s.packages, func(h heldPackage) bool {
		return len(h.name) > len(held) && under(name, h.name)
	})
}

func orNothing(list []string) string {
	if len(list) == 0 {
		return "nothing"
	}
	return "only " + strings.Join(list, ", ")
}

// ruleFor returns the line of the longest folder that holds dir.
func (s structure) ruleFor(dir string) (best importRule, ok bool) {
	for _, r := range s.imports {
		if under(dir, r.folder) && (!ok || len(r.folder) > len(best.folder)) {
			best, ok = r, true
		}
	}
	return best, ok
}

// callViolations finds uses of held-back names, called or passed on.
func callViolations(s structure, f goFile) []string {
	packages := map[string]string{} // local name → import path
	for _, spec := range f.ast.Imports {
		name, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			continue
		}
		local := path.Base(name)
		if local == "v2" {
			local = path.Base(path.Dir(name))
		}
		if spec.Name != nil {
			local = spec.Name.Name
		}
		packages[local] = name
	}
	var bad []string
	ast.Inspect(f.ast, func(n ast.Node) bool {
		sel, ok := n.(*ast.SelectorExpr)
		if !ok {
			return true
		}
		id, ok := sel.X.(*ast.Ident)
		if !ok || packages[id.Name] == "" {
			return true
		}
		if only := s.holdsBack(packages[id.Name], sel.Sel.Name, f.dir); only != nil {
			bad = append(bad, f.at(sel.Pos())+": "+id.Name+"."+sel.Sel.Name+": only "+strings.Join(only, ", ")+" may; pass it in")
		}
		return true
	})
	return bad
}

// holdsBack returns where a name may be used when dir is not there. The types
// of a package of chance are free: a passed-in source needs one.
func (s structure) holdsBack(pkg, name, dir string) []string {
	kinds := []string{"Rand", "Source", "Source64", "PCG", "ChaCha8", "Zipf"}
	for _, h := range s.calls {
		if underAny(dir, h.only) {
			continue
		}
		if slices.Contains(h.calls, pkg+"."+name) {
			return h.only
		}
		if slices.Contains(h.calls, pkg+".*") && !slices.Contains(h.except, name) && !slices.Contains(kinds, name) {
			return h.only
		}
	}
	return nil
}

func TestImportsGoDownwards(t *testing.T) {
	t.Parallel()
	s := laidDown(t)
	for _, f := range tree(t) {
		report(t, importViolations(s, f))
	}
}

func TestClockAndChanceArePassedIn(t *testing.T) {
	t.Parallel()
	s := laidDown(t)
	for _, f := range tree(t) {
		report(t, callViolations(s, f))
	}
}

func TestImportRulesCanFail(t *testing.T) {
	t.Parallel()
	s := laidDown(t)
	for _, c := range []struct{ file, imports, want string }{
		{"process/heat/a.go", "hopperful/process/sieve", ""},
		{"process/heat/a.go", "gonum.org/v1/gonum/mat", ""},
		{"process/heat/a.go", "embed", ""},
		{"process/heat/a.go", "hopperful/shop", "process may import only process"},
		{"process/heat/a.go", "hopperful/internal/checkrow", "process may import only"},
		{"process/heat/a_test.go", "hopperful/internal/checkrow", ""},
		{"process/heat/a_test.go", "hopperful/shop", "process may import only"},
		{"process/heat/a_test.go", "pgregory.net/rapid", ""},
		{"process/heat/a_test.go", "os", ""},
		{"process/heat/a.go", "pgregory.net/rapid", "from outside"},
		{"process/heat/a.go", "os", "only internal, cmd may"},
		{"process/heat/a.go", "os/exec", "only internal, cmd may"},
		{"process/heat/a.go", "net", "only internal, cmd may"},
		{"process/heat/a.go", "net/url", ""},
		{"quantity/a.go", "hopperful/figure", "quantity may import nothing"},
		{"figure/a.go", "hopperful/polymer", "figure may import only"},
		{"shop/a.go", "hopperful/plan", "shop may import only"},
		{"shop/a.go", "hopperful/polymer", ""},
		{"shop/a.go", "net/http", "only internal/web, internal/crash may"},
		{"plan/a.go", "hopperful/shop", ""},
		{"plan/a.go", "hopperful/internal/store", "plan may import only"},
		{"plan/a.go", "database/sql/driver", "only internal/store may"},
		{"internal/web/a.go", "net/http", ""},
		{"internal/web/a.go", "database/sql", "only internal/store may"},
		{"internal/cli/a.go", "net/http", "only internal/web, internal/crash may"},
		{"internal/cli/a.go", "net", ""},
		{"internal/store/a.go", "modernc.org/sqlite", ""},
		{"internal/cli/a.go", "github.com/jackc/pgx/v5/stdlib", "only internal/store may"},
		{"internal/web/a.go", "hopperful/cmd/hopperful", "nothing imports cmd"},
		{"elsewhere/a.go", "fmt", "no line for elsewhere"},
	} {
		f := sample(t, c.file, "package a\n\nimport _ \""+c.imports+"\"\n")
		t.Run(c.file+" "+c.imports, func(t *testing.T) { t.Parallel(); wantOne(t, importViolations(s, f), c.want) })
	}
}

func TestCallRulesCanFail(t *testing.T) {
	t.Parallel()
	s := laidDown(t)
	for _, c := range []struct{ file, imports, body, want string }{
		{"plan/a.go", `"time"`, "var _ = time.Now()", "time.Now: only internal, cmd may"},
		{"plan/a_test.go", `"time"`, "var now = time.Now", "time.Now: only"},
		{"plan/a.go", `clock "time"`, "var _ = clock.Since", "clock.Since: only"},
		{"plan/a.go", `"time"`, "var _ time.Duration = time.Second", ""},
		{"internal/web/a.go", `"time"`, "var _ = time.Now()", ""},
		{"estimate/a.go", `"math/rand/v2"`, "var _ = rand.IntN(3)", "rand.IntN: only"},
		{"estimate/a.go", `"math/rand/v2"`, "func f(r *rand.Rand) *rand.Rand { return rand.New(rand.NewPCG(1, 2)) }", ""},
		{"estimate/a.go", `"math/rand"`, "var _ = rand.Float64()", "rand.Float64: only"},
		{"estimate/a.go", `"math/rand"`, "func f(seed int64) rand.Source { return rand.NewSource(seed) }", ""},
	} {
		f := sample(t, c.file, "package a\n\nimport "+c.imports+"\n\n"+c.body+"\n")
		wantOne(t, callViolations(s, f), c.want)
	}
}
