// Walks the tags of an XML part as a stream, bounded in depth and in the size of
// each token. Package encoding/xml is right and an order of magnitude too slow for
// what a small package may unpack to; what a 3MF part needs of XML 1.0 is little.

package mesh

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
)

// name is the name of an element or attribute, Space its namespace.
type name struct{ Space, Local string }

// attribute is one name with its value. Its text lives until the next tag.
type attribute struct {
	name
	Value string
}

// element is one start tag. It lives until the next one.
type element struct {
	Name name
	Attr []attribute
	part string
	byte int64
}

// attr returns an attribute without namespace, or "".
func (e *element) attr(local string) string {
	for i := range e.Attr {
		if e.Attr[i].Space == "" && e.Attr[i].Local == local {
			return e.Attr[i].Value
		}
	}
	return ""
}

// where says at which place the tag ends.
func (e *element) where() Place { return placeIn(e.part, e.byte) }

func placeIn(part string, at int64) Place { return Place{part, "byte", at} }

func (e *element) fail(f Fault, format string, args ...any) error {
	return &ReadError{Fault: f, Where: e.where(), What: fmt.Sprintf(format, args...)}
}

// binding gives a prefix its namespace, from an element on.
type binding struct {
	prefix, space string
	depth         int
}

// walker reads the tags of one part.
type walker struct {
	in         io.Reader
	part       string
	buf        []byte // read and not yet used
	start, end int    // of what is in it
	used       int64  // bytes before start
	ended      bool
	words      map[string]string // each name once
	open       []string          // names as written, with their prefixes
	bound      []binding
	tag        element
}

// walkXML calls start and end for every tag of the part.
func walkXML(in io.Reader, part string, start func(*element) error, end func(name) error) error {
	w := &walker{in: in, part: part, buf: make([]byte, maxToken), words: map[string]string{}}
	for {
		token, err := w.token()
		if errors.Is(err, io.EOF) {
			if len(w.open) > 0 {
				return w.broken(Truncated, "the part ends within the element %s", short(w.open[len(w.open)-1]))
			}
			return nil
		}
		if err == nil {
			err = w.take(token, start, end)
		}
		if err != nil {
			return err
		}
	}
}

// take acts on one token between angle brackets.
func (w *walker) take(token []byte, start func(*element) error, end func(name) error) error {
	switch {
	case token[1] == '/':
		written := w.word(bytes.TrimRight(token[2:len(token)-1], " \t\r\n"))
		if n := len(w.open); n == 0 || w.open[n-1] != written {
			return w.broken(Malformed, "an end tag %s closes nothing that is open", short(written))
		}
		return w.close(end)
	case token[1] == '?':
		return w.instruction(token)
	case token[1] == '!':
		if bytes.HasPrefix(token, []byte("<!--")) || bytes.HasPrefix(token, []byte("<![CDATA[")) {
			return nil
		}
		return &ReadError{Fault: Malformed, Where: placeIn(w.part, w.used), What: "a document type, which 3MF forbids"}
	}
	if len(w.open) >= maxXMLDepth {
		return &ReadError{Fault: TooLarge, Where: placeIn(w.part, w.used), What: fmt.Sprintf("elements nest deeper than %d", maxXMLDepth)}
	}
	inner := token[1 : len(token)-1]
	inner, alone := bytes.CutSuffix(inner, []byte("/"))
	if err := w.read(inner); err != nil {
		return err
	}
	if err := start(&w.tag); err != nil || !alone {
		return err
	}
	return w.close(end)
}

// close ends the innermost element.
func (w *walker) close(end func(name) error) error {
	depth := len(w.open)
	n := w.resolve(w.open[depth-1], true)
	w.open = w.open[:depth-1]
	for len(w.bound) > 0 && w.bound[len(w.bound)-1].depth == depth {
		w.bound = w.bound[:len(w.bound)-1]
	}
	return end(n)
}

// instruction takes <?…?>; the declaration must not name another encoding.
func (w *walker) instruction(token []byte) error {
	if !bytes.HasPrefix(token, []byte("<?xml ")) {
		return nil
	}
	_, rest, ok := bytes.Cut(bytes.ToLower(token), []byte("encoding"))
	if rest = bytes.TrimLeft(rest, " =\"'"); ok && !bytes.HasPrefix(rest, []byte("utf-8")) {
		return w.broken(Malformed, "another encoding than UTF-8")
	}
	return nil
}

// read reads the name and the attributes of a start tag into w.tag.
func (w *walker) read(inner []byte) error {
	written, rest := cutName(inner)
	if len(written) == 0 {
		return w.broken(Malformed, "a tag without a name")
	}
	if !qualified(written) {
		return w.broken(Malformed, "a name with a colon that parts nothing")
	}
	w.open = append(w.open, w.word(written))
	w.tag = element{Attr: w.tag.Attr[:0], part: w.part, byte: w.used}
	for {
		rest = bytes.TrimLeft(rest, " \t\r\n")
		if len(rest) == 0 {
			break
		}
		var key []byte
		key, rest = cutName(rest)
		rest = bytes.TrimLeft(rest, " \t\r\n")
		if len(key) == 0 || len(rest) == 0 || rest[0] != '=' {
			return w.broken(Malformed, "an attribute without a value")
		}
		if !qualified(key) {
			return w.broken(Malformed, "a name with a colon that parts nothing")
		}
		rest = bytes.TrimLeft(rest[1:], " \t\r\n")
		if len(rest) == 0 || rest[0] != '"' && rest[0] != '\'' {
			return w.broken(Malformed, "an attribute whose value is not quoted")
		}
		length := bytes.IndexByte(rest[1:], rest[0])
		if length < 0 {
			return w.broken(Malformed, "an attribute whose value does not end")
		}
		value, ok := unescaped(rest[1 : 1+length])
		if !ok {
			return w.broken(Malformed, "an attribute whose value is no text of XML")
		}
		w.tag.Attr = append(w.tag.Attr, attribute{name{Local: w.word(key)}, value})
		rest = rest[2+length:]
	}
	for i := range w.tag.Attr {
		switch a := &w.tag.Attr[i]; {
		case a.Local == "xmlns":
			w.bound = append(w.bound, binding{"", a.Value, len(w.open)})
		case strings.HasPrefix(a.Local, "xmlns:"):
			w.bound = append(w.bound, binding{a.Local[len("xmlns:"):], a.Value, len(w.open)})
			a.name = name{"xmlns", a.Local[len("xmlns:"):]}
		}
	}
	for i := range w.tag.Attr {
		if a := &w.tag.Attr[i]; a.Space == "" {
			a.name = w.resolve(a.Local, false)
		}
	}
	w.tag.Name = w.resolve(w.open[len(w.open)-1], true)
	return nil
}

// qualified says whether a name is one with at most one prefix, neither part of it empty.
// Source: W3C, Namespaces in XML 1.0 (third edition, 2009), section 4.
func qualified(written []byte) bool {
	prefix, local, has := bytes.Cut(written, []byte(":"))
	return !has || len(prefix) > 0 && len(local) > 0 && bytes.IndexByte(local, ':') < 0
}

// resolve gives a name as written its namespace. A prefix that is bound to none
// stands for itself; the default holds for elements only.
func (w *walker) resolve(written string, isElement bool) name {
	prefix, local, has := strings.Cut(written, ":")
	if !has {
		prefix, local = "", written
	}
	if !has && !isElement {
		return name{"", local}
	}
	for _, b := range slices.Backward(w.bound) {
		if b.prefix == prefix {
			return name{b.space, local}
		}
	}
	return name{prefix, local}
}

// word is a text that names something, the same string each time.
func (w *walker) word(text []byte) string {
	if known, ok := w.words[string(text)]; ok {
		return known
	}
	s := string(text)
	if len(w.words) < 1000 { // more names than any format has
		w.words[s] = s
	}
	return s
}

func (w *walker) broken(f Fault, format string, args ...any) error {
	return &ReadError{Fault: f, Where: placeIn(w.part, w.used), What: fmt.Sprintf(format, args...)}
}
