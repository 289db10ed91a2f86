package mesh

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"
)

// tagsOf lists the tags of a document as the walker sees them.
func tagsOf(text string) ([]string, error) {
	var tags []string
	err := walkXML(strings.NewReader(text), "x", func(e *element) error {
		tag := fmt.Sprintf("<%q %q", e.Name.Space, e.Name.Local)
		for _, a := range e.Attr {
			tag += fmt.Sprintf(" %q %q=%q", a.Space, a.Local, a.Value)
		}
		tags = append(tags, tag)
		return nil
	}, func(n name) error {
		tags = append(tags, fmt.Sprintf(">%q %q", n.Space, n.Local))
		return nil
	})
	return tags, err
}

// tagsByLibrary lists them as encoding/xml does.
func tagsByLibrary(text string) ([]string, error) {
	var tags []string
	d := xml.NewDecoder(strings.NewReader(text))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return tags, nil
		}
		if err != nil {
			return tags, err
		}
		switch e := token.(type) {
		case xml.StartElement:
			tag := fmt.Sprintf("<%q %q", e.Name.Space, e.Name.Local)
			for _, a := range e.Attr {
				tag += fmt.Sprintf(" %q %q=%q", a.Name.Space, a.Name.Local, a.Value)
			}
			tags = append(tags, tag)
		case xml.EndElement:
			tags = append(tags, fmt.Sprintf(">%q %q", e.Name.Space, e.Name.Local))
		}
	}
}

// documents are read alike by both.
var documents = []string{
	`<?xml version="1.0" encoding="UTF-8"?><a b="1" c='2'><!-- <no/> --><d/><![CDATA[<no/>]]>text</a>`,
	`<model xmlns="urn:one" xmlns:p="urn:two" p:path="/x" id="7"><p:q r="s"/><q xmlns="urn:three"><r/></q><r/></model>`,
	`<a b="&lt;&amp;&gt;&quot;&apos;&#65;&#x42;é"  c = "x>y" ></a >`,
	"<a\n\tb=\"1\"\r\n/>", `<x:a y:b="1"/>`, "  <a/>  ",
}

// TestTheWalkerReadsAsTheLibrary: encoding/xml is the second library.
func TestTheWalkerReadsAsTheLibrary(t *testing.T) {
	t.Parallel()
	for _, text := range documents {
		got, err := tagsOf(text)
		want, libErr := tagsByLibrary(text)
		if err != nil || libErr != nil || strings.Join(got, "\n") != strings.Join(want, "\n") {
			t.Errorf("%s\n%v (%v)\nthe library:\n%v (%v)", text, got, err, want, libErr)
		}
	}
}

// TestTheWalkerRefuses what is no XML, with the place.
func TestTheWalkerRefuses(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]Fault{
		"<a>": Truncated, "<a": Truncated, "<a b=\"": Truncated, "<!-- ": Truncated, "</a>": Malformed, "<a></b>": Malformed, "<a><b></a>": Malformed,
		"<a b/>": Malformed, "<a b=c/>": Malformed, "<a b=\"&x;\"/>": Malformed, "<a b=\"&#xD800;\"/>": Malformed, "<a b=\"<\"/>": Malformed, "<a b=\"\xff\"/>": Malformed,
		"<a:/>": Malformed, "<:a/>": Malformed, "<a:b:c/>": Malformed, "<a b:=\"\"/>": Malformed, "<a :b=\"\"/>": Malformed, "< a/>": Malformed, "<!DOCTYPE a>": Malformed, `<?xml version="1.0" encoding="latin-1"?><a/>`: Malformed,
		strings.Repeat("<a>", maxXMLDepth+1): TooLarge, "<a/>" + strings.Repeat(" ", 2*maxToken) + "<a/>": TooLarge,
	} {
		_, err := tagsOf(text)
		var own *ReadError
		if !errors.As(err, &own) || own.Fault != want || own.Where == (Place{}) {
			t.Errorf("%.40q: %v, want %s", text, err, want)
		}
	}
}

// FuzzWalkXML: whatever the text is, the walker ends, and where the library reads
// it too, both see the same tags.
func FuzzWalkXML(f *testing.F) {
	for _, text := range documents {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got, err := tagsOf(text)
		want, libErr := tagsByLibrary(text)
		if err == nil && libErr == nil && strings.Join(got, "\n") != strings.Join(want, "\n") {
			t.Errorf("%q\n%v\nthe library:\n%v", text, got, want)
		}
	})
}
