package main

import (
	"context"
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

func TestChanges(t *testing.T) {
	t.Parallel()
	const text = "package a\n\nconst limit = 2\n\nvar table = [limit]float64{0: 1.5}\n\nfunc f(x float64, e error) float64 {\n\tif e != nil || x <= 0 {\n\t\treturn -2.5e-3\n\t}\n\tx +=\n\t\t3\n\treturn x/limit - 1\n}\n\nvar s = \"a\" + \"b\"\n" +
		"\nfunc g(e error) (int, []int, error) {\n\tif e != nil {\n\t\treturn 5, nil, e\n\t}\n\treturn 6, make([]int, 7, 8), nil\n}\n"
	set := token.NewFileSet()
	tree, err := parser.ParseFile(set, "a.go", text, 0)
	if err != nil {
		t.Fatal(err)
	}
	info := &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Uses: map[*ast.Ident]types.Object{}, Defs: map[*ast.Ident]types.Object{}}
	if _, err := new(types.Config).Check("a", set, []*ast.File{tree}, info); err != nil {
		t.Fatal(err)
	}
	all := changes(set, tree, info, []byte(text))
	var got []string
	for i, s := range all {
		got = append(got, s.what)
		all[i].id = i + 1
		if changed := string(switched([]byte(text), len("package a"), all[i:i+1])); !strings.Contains(changed, "mutant."+s.call+"(") {
			t.Errorf("%s stands nowhere in\n%s", s.what, changed)
		}
	}
	want := []string{"twice 1.5", "&& for ||", "> for <=", "twice 0", "twice -2.5e-3", "-= for +=", "twice 3", "+ for -", "* for /", "twice limit", "twice 1", "twice 6", "twice 7"}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, wanted %q", got, want)
	}
	if all[1].line != 8 || all[8].line != 13 {
		t.Errorf("the condition stands in line %d, the division in %d", all[1].line, all[8].line)
	}
	if _, err := parser.ParseFile(set, "b.go", switched([]byte(text), len("package a"), all), 0); err != nil {
		t.Errorf("all at once: %v", err)
	}
}

// In a package with one test, what the test holds is noticed, what it passes by is not,
// and what it never runs is told apart. A property that fails leaves nothing in the tree.
func TestTry(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("compiles a package")
	}
	ctx, stop := context.WithTimeout(t.Context(), 5*time.Minute)
	defer stop()
	// A folder of this module, so that the package sees the one that switches.
	folder := filepath.Join("testdata", "tried")
	if err := os.MkdirAll(folder, 0o755); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := os.RemoveAll("testdata"); err != nil {
			t.Error(err)
		}
	})
	for name, text := range map[string]string{
		"a.go": "package a\n\nfunc held(x float64) float64 { return x * 2 }\n\nfunc passed(x float64) bool { return x > 7 }\n\nvar Passed = passed\n\nfunc never(x int) int { return x + 1 }\n",
		"a_test.go": "package a\n\nimport (\n\t\"testing\"\n\n\t\"pgregory.net/rapid\"\n)\n" +
			"\nfunc TestA(t *testing.T) {\n\tpassed(1)\n\trapid.Check(t, func(t *rapid.T) {\n\t\tif x := rapid.IntRange(1, 9).Draw(t, \"x\"); held(float64(x)) != float64(x+x) {\n\t\t\tt.Fatal(x)\n\t\t}\n\t})\n}\n" +
			"\nfunc TestBroken(t *testing.T) { never(1); t.Fail() }\n",
	} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	list := filepath.Join(folder, "same.txt")
	if err := os.WriteFile(list, []byte("# why some changes change nothing\n"+filepath.Join(folder, "a.go")+
		"\n\n<= for > | func passed(x float64) bool { return x > 7 } | nobody asks\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for name, more := range map[string][]string{"": {}, "a.go:5: <= for >": {"-same", list}} {
		var out strings.Builder
		if err := run(ctx, append(more, "-n", "9", "-others", "", "./"+folder), &out); err != nil {
			t.Fatal(err)
		}
		testTold(t, out.String(), name)
		if _, err := os.Stat(filepath.Join(folder, "testdata")); !os.IsNotExist(err) {
			t.Errorf("the property that failed left its draw in the tree: %v", err)
		}
	}
	// Another package's test notices what its own passes by.
	beside := filepath.Join("testdata", "beside")
	if err := os.MkdirAll(beside, 0o755); err != nil {
		t.Fatal(err)
	}
	test := "package b\n\nimport (\n\t\"testing\"\n\n\ta \"hopperful/internal/mutate/testdata/tried\"\n)\n\nfunc TestB(t *testing.T) {\n\tif a.Passed(1) {\n\t\tt.Fail()\n\t}\n}\n"
	if err := os.WriteFile(filepath.Join(beside, "b_test.go"), []byte(test), 0o600); err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	if err := run(ctx, []string{"-n", "9", "-others", "./" + beside, "./" + folder}, &out); err != nil {
		t.Fatal(err)
	}
	if want := "3 of 6 changes noticed, 1 unnoticed, 2 of lines"; !strings.Contains(out.String(), want) {
		t.Errorf("%q is missing in\n%s", want, out.String())
	}
}

func testTold(t *testing.T, out, listed string) {
	t.Helper()
	for _, want := range []string{"a.go:5: <= for >", "a.go:5: twice 7", "not run: ", "a.go:9: - for +", "2 of "} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is missing in\n%s", want, out)
		}
	}
	want := "2 of 6 changes noticed, 2 unnoticed, 2 of lines"
	if listed != "" {
		want = "2 of 5 changes noticed, 1 unnoticed, 2 of lines"
	}
	if !strings.Contains(out, want) {
		t.Errorf("%q is missing in\n%s", want, out)
	}
}
