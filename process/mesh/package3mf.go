// Opens a 3MF package: a zip of parts, the model found by its relationship.

package mesh

import (
	"archive/zip"
	"errors"
	"fmt"
	"io"
	"path"
	"strconv"
	"strings"
)

// The relationship that points from a package to its model.
const modelRelation = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"

// container is an opened package.
type container struct {
	parts  map[string]*zip.File // by lower-case name without leading slash
	twice  map[string]bool
	limits Limits
	read   int64 // unpacked so far, of all parts
}

// opened bounds what is read to find the parts, then steps aside.
type opened struct {
	r     io.ReaderAt
	left  int64
	bound bool
}

// ReadAt reads on until the bound.
func (o *opened) ReadAt(p []byte, off int64) (int, error) {
	if o.bound {
		if o.left -= int64(len(p)); o.left < 0 {
			return 0, &ReadError{Fault: TooLarge, What: "the package holds too many parts"}
		}
	}
	return o.r.ReadAt(p, off)
}

// openContainer reads the directory of the package. The search for its end may
// take 66 kB beside the directory itself.
func openContainer(r io.ReaderAt, size int64, limits Limits) (*container, error) {
	if size > limits.Bytes {
		return nil, &ReadError{Fault: TooLarge, What: fmt.Sprintf("the package has %d bytes, more than %d", size, limits.Bytes)}
	}
	bound := &opened{r: r, left: limits.Directory + 80<<10, bound: true}
	z, err := zip.NewReader(bound, size)
	if err != nil {
		if own := (*ReadError)(nil); errors.As(err, &own) {
			return nil, own
		}
		return nil, &ReadError{Fault: Malformed, What: "not a zip package", Err: err}
	}
	bound.bound = false
	c := &container{parts: map[string]*zip.File{}, twice: map[string]bool{}, limits: limits}
	for _, f := range z.File {
		name := partName(f.Name)
		_, c.twice[name] = c.parts[name]
		c.parts[name] = f
	}
	return c, nil
}

// partName brings the spellings of a part's name together: names count
// without regard to case, a relationship may escape letters.
func partName(name string) string {
	var plain []byte
	for i := 0; i < len(name); i++ {
		if name[i] == '%' && i+2 < len(name) {
			if v, err := strconv.ParseUint(name[i+1:i+3], 16, 8); err == nil {
				plain = append(plain, byte(v))
				i += 2
				continue
			}
		}
		plain = append(plain, name[i])
	}
	name = string(plain)
	return strings.ToLower(strings.TrimPrefix(path.Clean("/"+name), "/"))
}

// open opens one part for reading as a bounded stream.
func (c *container) open(name string) (io.ReadCloser, error) {
	f, ok := c.parts[partName(name)]
	switch {
	case !ok:
		return nil, &ReadError{Fault: Malformed, Where: Place{Part: partName(name)}, What: fmt.Sprintf("the package has no part %q", name)}
	case f.UncompressedSize64 > swells && float64(f.UncompressedSize64) > c.limits.Ratio*float64(f.CompressedSize64):
		return nil, tooSwollen(f.Name, c.limits.Ratio)
	case c.twice[partName(name)]:
		return nil, &ReadError{Fault: Malformed, What: fmt.Sprintf("the package has the part %q twice", name)}
	}
	body, err := f.Open()
	if err != nil {
		return nil, &ReadError{Fault: Malformed, Where: Place{Part: f.Name}, What: "the part cannot be unpacked", Err: err}
	}
	return &inflated{ReadCloser: body, name: f.Name, zipped: f.CompressedSize64, whole: c}, nil
}

// inflated stops a part that swells without end.
type inflated struct {
	io.ReadCloser
	name   string
	zipped uint64
	read   int64
	whole  *container
}

// Read reads on until a limit.
func (f *inflated) Read(p []byte) (int, error) {
	n, err := f.ReadCloser.Read(p)
	limits := f.whole.limits
	f.read += int64(n)
	f.whole.read += int64(n)
	if f.whole.read > limits.Unzipped {
		return 0, &ReadError{Fault: TooLarge, Where: Place{Part: f.name}, What: fmt.Sprintf("the parts unpack to more than %d bytes", limits.Unzipped)}
	}
	if f.read > swells && float64(f.read) > limits.Ratio*float64(f.zipped) {
		return 0, tooSwollen(f.name, limits.Ratio)
	}
	return n, err
}

// swells is the size from which the ratio counts: a short part may well be one
// text again and again.
const swells = 1 << 20

func tooSwollen(name string, ratio float64) error {
	return &ReadError{Fault: TooLarge, Where: Place{Part: name}, What: fmt.Sprintf("the part swells to more than %g times its packed size", ratio)}
}

// modelPart returns the name of the model the package's root points at.
func (c *container) modelPart() (string, error) {
	body, err := c.open("_rels/.rels")
	if err != nil {
		return "", err
	}
	defer body.Close()
	target := ""
	err = walkXML(body, "_rels/.rels", func(e *element) error {
		if e.Name.Local == "Relationship" && e.attr("Type") == modelRelation {
			if target != "" {
				return e.fail(Malformed, "a second model")
			}
			target = e.attr("Target")
		}
		return nil
	}, func(name) error { return nil })
	if err == nil && target == "" {
		err = &ReadError{Fault: Malformed, Where: Place{Part: "_rels/.rels"}, What: "no relationship points at a model"}
	}
	return target, err
}
