package toolpath

import "bytes"

// sniffed is how much of the start is looked at for NUL bytes: text has none.
const sniffed = 64 << 10

// formats are known by their first bytes: the registered signatures.
var formats = []struct {
	start string
	looks Looks
}{{"\x1f\x8b", Gzip}, {"PK\x03\x04", Zip}, {"\x89PNG", PNG}, {"\xff\xd8\xff", JPEG}, {"%PDF", PDF}, {"\xff\xfe", UTF16}, {"\xfe\xff", UTF16}, {"<", XML}, {"{", JSON}}

// byteOrderMark of UTF-8; it carries nothing.
const byteOrderMark = "\xef\xbb\xbf"

// sniff looks at the start of a stream and blanks a byte order mark.
func sniff(b []byte) error {
	if bytes.HasPrefix(b, []byte(byteOrderMark)) {
		copy(b, "   ")
	}
	for _, f := range formats {
		if bytes.HasPrefix(b, []byte(f.start)) {
			return &FormatError{Looks: f.looks}
		}
	}
	head := b[:min(len(b), sniffed)]
	if bytes.HasPrefix(head, []byte("solid")) && bytes.Contains(head, []byte("facet")) {
		return &FormatError{Looks: STL}
	}
	if i := bytes.IndexByte(head, 0); i >= 0 {
		return &FormatError{Looks: Binary}
	}
	return nil
}
