// Reads XML as a stream, bounded in depth and in the size of each token.

package mesh

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
)

// element is one start tag and where it stands.
type element struct {
	xml.StartElement
	parent xml.Name
	where  string
}

// attr returns an attribute without namespace, or "".
func (e element) attr(name string) string {
	for _, a := range e.Attr {
		if a.Name.Space == "" && a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func (e element) fail(f Fault, format string, args ...any) error {
	return &ReadError{Fault: f, Where: e.where, What: fmt.Sprintf(format, args...), Hint: "export the part again"}
}

// rationed allows so many bytes a token; a reader of XML keeps a token whole.
type rationed struct {
	r    io.Reader
	left int
}

// Read reads on until the token's ration is used up.
func (r *rationed) Read(p []byte) (int, error) {
	if r.left <= 0 {
		return 0, &ReadError{Fault: TooLarge, What: fmt.Sprintf("one tag or text is longer than %d bytes", maxToken)}
	}
	if len(p) > r.left {
		p = p[:r.left]
	}
	n, err := r.r.Read(p)
	r.left -= n
	return n, err
}

// walkXML calls start and end for every tag of the part name.
func walkXML(in io.Reader, name string, start func(element) error, end func(xml.Name) error) error {
	ration := &rationed{r: in, left: maxToken}
	dec := xml.NewDecoder(ration)
	// The default reader refuses other encodings than UTF-8, as the format does.
	var open []xml.Name
	for {
		ration.left = maxToken
		token, err := dec.Token()
		where := fmt.Sprintf("%s, byte %d", name, dec.InputOffset())
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return xmlFailed(where, err)
		}
		switch tag := token.(type) {
		case xml.Directive:
			return &ReadError{Fault: Malformed, Where: where, What: "a document type, which 3MF forbids", Hint: "do not use this file"}
		case xml.StartElement:
			if len(open) >= maxXMLDepth {
				return &ReadError{Fault: TooLarge, Where: where, What: fmt.Sprintf("elements nest deeper than %d", maxXMLDepth)}
			}
			var parent xml.Name
			if len(open) > 0 {
				parent = open[len(open)-1]
			}
			open = append(open, tag.Name)
			err = start(element{tag, parent, where})
		case xml.EndElement:
			open = open[:len(open)-1]
			err = end(tag.Name)
		}
		if err != nil {
			return err
		}
	}
}

func xmlFailed(where string, err error) error {
	if own := (*ReadError)(nil); errors.As(err, &own) {
		if own.Where == "" {
			own.Where = where
		}
		return own
	}
	fault := Malformed
	if syntax := (*xml.SyntaxError)(nil); errors.As(err, &syntax) && syntax.Msg == "unexpected EOF" || errors.Is(err, io.ErrUnexpectedEOF) {
		fault = Truncated
	}
	return &ReadError{Fault: fault, Where: where, What: "the part cannot be read", Err: err, Hint: "export the part again"}
}
