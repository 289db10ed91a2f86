package toolpath

import "bytes"

// sniffed is how much of the start is looked at for NUL bytes: text has none.
const sniffed = 64 << 10

// formats are known by their first bytes: the registered signatures.
var formats = []struct{ start, looks, hint string }{
	{"\x1f\x8b", "a gzip-compressed file", "unpack it first, or read it through Open"},
	{"PK\x03\x04", "a ZIP container, such as 3MF", "unpack it, or have the printing program write plain G-code"},
	{"\x89PNG", "a PNG picture", "choose the G-code file"},
	{"\xff\xd8\xff", "a JPEG picture", "choose the G-code file"},
	{"%PDF", "a PDF document", "choose the G-code file"},
	{"\xff\xfe", "text in UTF-16", "save it as plain text or UTF-8"},
	{"\xfe\xff", "text in UTF-16", "save it as plain text or UTF-8"},
	{"<", "XML or a web page", "choose the G-code file"},
	{"{", "JSON", "choose the G-code file"},
}

// byteOrderMark of UTF-8; it carries nothing.
const byteOrderMark = "\xef\xbb\xbf"

// sniff looks at the start of a stream and blanks a byte order mark.
func sniff(b []byte) error {
	if bytes.HasPrefix(b, []byte(byteOrderMark)) {
		copy(b, "   ")
	}
	for _, f := range formats {
		if bytes.HasPrefix(b, []byte(f.start)) {
			return &FormatError{Looks: f.looks, Hint: f.hint}
		}
	}
	head := b[:min(len(b), sniffed)]
	if bytes.HasPrefix(head, []byte("solid")) && bytes.Contains(head, []byte("facet")) {
		return &FormatError{Looks: "an STL mesh", Hint: "read it as a mesh, or make G-code from it"}
	}
	if i := bytes.IndexByte(head, 0); i >= 0 {
		return &FormatError{Looks: "a binary file", Hint: "choose the G-code file; if it is an STL mesh, read it as a mesh"}
	}
	return nil
}
