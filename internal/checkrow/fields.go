package checkrow

// Holds the ranges that the comments of a struct's fields tell.

import (
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"os"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// told finds a range in a comment: "0.01 to 2", "above 0 to 1e6".
var told = regexp.MustCompile(`(?:^|[ ,;:])(above )?([−-]?[0-9][0-9._]*(?:e[+−-]?[0-9]+)?) to ([−-]?[0-9][0-9._]*(?:e[+−-]?[0-9]+)?)(?:[ ,;:.]|$)`)

// Fields tries every number of a good value on either side of both ends of the range
// that the comment of its field tells, and wants the refusal to name that range.
func Fields[T any](t *testing.T, good T, check func(T) error) {
	t.Helper()
	kind := reflect.TypeFor[T]()
	comments := fieldComments(t, kind.Name())
	held := 0
	for i := range kind.NumField() {
		f := kind.Field(i)
		m := told.FindStringSubmatch(comments[f.Name])
		if m == nil || f.Type.Kind() != reflect.Float64 {
			continue
		}
		held++
		with := func(x float64) error {
			v := good
			reflect.ValueOf(&v).Elem().Field(i).SetFloat(x)
			return check(v)
		}
		from := plainNumber(t, m[2])
		if m[1] != "" { // how far above is the code's own matter
			if with(from) == nil {
				t.Errorf("%s.%s: %g is taken, the comment wants more", kind.Name(), f.Name, from)
			}
			from = math.NaN()
		}
		Range(t, kind.Name()+"."+f.Name, from, plainNumber(t, m[3]), with)
	}
	if err := check(good); err != nil || held == 0 {
		t.Errorf("%s: %d ranges are told; the good one: %v", kind.Name(), held, err)
	}
}

func plainNumber(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(strings.TrimRight(strings.NewReplacer("−", "-", "_", "").Replace(text), "."), 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// fieldComments are the comments of a struct's fields in the folder the test runs in.
func fieldComments(t *testing.T, name string) map[string]string {
	t.Helper()
	files, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]string{}
	for _, file := range files {
		if !strings.HasSuffix(file.Name(), ".go") {
			continue
		}
		tree, err := parser.ParseFile(token.NewFileSet(), file.Name(), nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(tree, func(n ast.Node) bool {
			spec, ok := n.(*ast.TypeSpec)
			if !ok || spec.Name.Name != name {
				return true
			}
			body, ok := spec.Type.(*ast.StructType)
			if !ok {
				return false
			}
			for _, f := range body.Fields.List {
				text := f.Doc.Text() + " " + f.Comment.Text()
				for _, n := range f.Names {
					all[n.Name] = strings.Join(strings.Fields(text), " ")
				}
			}
			return false
		})
	}
	return all
}
