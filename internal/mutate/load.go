package main

// Reads the packages, with what the compiler knows of each expression.

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
)

// unit is one package: its files as they are, and what can be changed in them.
type unit struct {
	path, dir string
	files     []source
	sites     []site
}

type source struct {
	path       string
	text       []byte
	packageEnd int // where the package's name ends, in bytes
}

// listed is what `go list` says of a package.
type listed struct {
	ImportPath, Dir, Export string
	GoFiles                 []string
	TestGoFiles             []string
	XTestGoFiles            []string
	DepOnly                 bool
}

// list names packages, and where what they build on lies compiled.
func list(ctx context.Context, patterns []string) (own []listed, exports map[string]string, err error) {
	list := exec.CommandContext(ctx, "go", append([]string{"list", "-export", "-deps", "-json=ImportPath,Dir,Export,GoFiles,TestGoFiles,XTestGoFiles,DepOnly"}, patterns...)...)
	var said bytes.Buffer
	list.Stderr = &said
	text, err := list.Output()
	if err != nil {
		return nil, nil, fmt.Errorf("listing the packages: %w: %s", err, said.String())
	}
	exports = map[string]string{}
	for d := json.NewDecoder(bytes.NewReader(text)); ; {
		var l listed
		if err := d.Decode(&l); errors.Is(err, io.EOF) {
			return own, exports, nil
		} else if err != nil {
			return nil, nil, err
		}
		exports[l.ImportPath] = l.Export
		if !l.DepOnly {
			own = append(own, l)
		}
	}
}

// load reads the packages and finds every change to them.
func load(ctx context.Context, patterns []string) ([]*unit, error) {
	own, exports, err := list(ctx, patterns)
	if err != nil {
		return nil, err
	}
	set := token.NewFileSet()
	known := importer.ForCompiler(set, "gc", func(path string) (io.ReadCloser, error) { return os.Open(exports[path]) })
	root, err := os.Getwd()
	if err != nil {
		return nil, err
	}
	var all []*unit
	for _, l := range own {
		u, err := read(set, known, root, l)
		if err != nil {
			return nil, err
		}
		all = append(all, u)
	}
	return all, nil
}

func read(set *token.FileSet, known types.Importer, root string, l listed) (*unit, error) {
	u := &unit{path: l.ImportPath, dir: l.Dir}
	var trees []*ast.File
	for _, name := range l.GoFiles {
		path := filepath.Join(l.Dir, name)
		text, err := os.ReadFile(path)
		if err != nil {
			return nil, err
		}
		tree, err := parser.ParseFile(set, path, text, 0)
		if err != nil {
			return nil, err
		}
		trees = append(trees, tree)
		u.files = append(u.files, source{path, text, set.Position(tree.Name.End()).Offset})
	}
	info := &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Uses: map[*ast.Ident]types.Object{}, Defs: map[*ast.Ident]types.Object{}}
	if _, err := (&types.Config{Importer: known}).Check(l.ImportPath, set, trees, info); err != nil {
		return nil, err
	}
	for i, tree := range trees {
		short, err := filepath.Rel(root, u.files[i].path)
		if err != nil {
			return nil, err
		}
		for _, s := range changes(set, tree, info, u.files[i].text) {
			s.pkg, s.file = l.ImportPath, short
			u.sites = append(u.sites, s)
		}
	}
	return u, nil
}
