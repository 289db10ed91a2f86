// Gives the parts of a 3MF package that are no meshes: sliced jobs, for one.

package mesh

import (
	"io"
	"slices"
	"strings"
)

// Package is an opened package of parts.
type Package struct{ c *container }

// OpenPackage reads the directory of a package, bounded by the limits of o.
//
// Errors: *ReadError for input that is no package or beyond a limit.
func OpenPackage(r io.ReaderAt, size int64, o Options) (*Package, error) {
	c, err := openContainer(r, size, o.Limits.withDefaults())
	if err != nil {
		return nil, err
	}
	return &Package{c}, nil
}

// Ending lists the parts whose names end in one of these, in upper or lower case, sorted
// so that 2 stands before 10.
func (p *Package) Ending(endings ...string) []string {
	var all []string
	for name := range p.c.parts {
		if slices.ContainsFunc(endings, func(e string) bool { return strings.HasSuffix(name, e) }) {
			all = append(all, name)
		}
	}
	slices.SortFunc(all, func(a, b string) int {
		if len(a) != len(b) {
			return len(a) - len(b)
		}
		return strings.Compare(a, b)
	})
	return all
}

// Part opens a part as a bounded stream. What is read counts anew.
func (p *Package) Part(name string) (io.ReadCloser, error) {
	p.c.read = 0
	return p.c.open(name)
}
