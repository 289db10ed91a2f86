package rules

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

const (
	root   = "../.." // of the module, seen from this folder
	module = "hopperful"
)

// goFile is one parsed file of the house.
type goFile struct {
	path      string // from the root, with slashes
	dir       string // its folder, "." for the root
	lines     int
	test      bool
	generated bool
	set       *token.FileSet
	ast       *ast.File
}

// at names a place for a message.
func (f goFile) at(p token.Pos) string {
	return f.path + ":" + itoa(f.set.Position(p).Line)
}

// parseFile reads one file of Go source.
func parseFile(name, text string) (goFile, error) {
	set := token.NewFileSet()
	tree, err := parser.ParseFile(set, name, text, parser.ParseComments|parser.SkipObjectResolution)
	if err != nil {
		return goFile{}, err
	}
	return goFile{
		path: name, dir: path.Dir(name), lines: strings.Count(text, "\n"),
		test: strings.HasSuffix(name, "_test.go"), generated: ast.IsGenerated(tree), set: set, ast: tree,
	}, nil
}

// walk calls visit with the path from the root of every file of the house,
// leaving out what is not ours: version control, other modules, test data.
func walk(visit func(name string) error) error {
	return filepath.WalkDir(root, func(full string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, full)
		if err != nil {
			return err
		}
		if !d.IsDir() {
			return visit(filepath.ToSlash(rel))
		}
		if rel == "." {
			return nil
		}
		if d.Name() == ".git" || d.Name() == "testdata" || d.Name() == "vendor" || d.Name() == "node_modules" {
			return filepath.SkipDir
		}
		if _, err := os.Stat(filepath.Join(full, "go.mod")); err == nil {
			return filepath.SkipDir
		}
		return nil
	})
}

var loadTree = sync.OnceValues(func() ([]goFile, error) {
	var all []goFile
	err := walk(func(name string) error {
		if !strings.HasSuffix(name, ".go") {
			return nil
		}
		text, err := os.ReadFile(filepath.Join(root, name))
		if err != nil {
			return err
		}
		f, err := parseFile(name, string(text))
		if err != nil {
			return err
		}
		all = append(all, f)
		return nil
	})
	return all, err
})

// tree is every Go file of the house.
func tree(t *testing.T) []goFile {
	t.Helper()
	files, err := loadTree()
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// sample parses a made-up file for a negative test.
func sample(t *testing.T, name, text string) goFile {
	t.Helper()
	f, err := parseFile(name, text)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// report fails the test with each violation.
func report(t *testing.T, violations []string) {
	t.Helper()
	for _, v := range violations {
		t.Error(v)
	}
}

// wantOne fails unless exactly one violation is found and says what is wanted;
// an empty wanted text stands for a sample that breaks nothing.
func wantOne(t *testing.T, violations []string, want string) {
	t.Helper()
	switch {
	case want == "" && len(violations) == 0:
	case want != "" && len(violations) == 1 && strings.Contains(violations[0], want):
	default:
		t.Errorf("found %q, wanted one that says %q", violations, want)
	}
}

// under reports whether a path is the folder or lies below it.
func under(name, folder string) bool {
	return name == folder || strings.HasPrefix(name, folder+"/")
}

func underAny(name string, folders []string) bool {
	for _, f := range folders {
		if under(name, f) {
			return true
		}
	}
	return false
}
