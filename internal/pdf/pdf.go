// Package pdf writes the few kinds of object our printed sheets are made of as a PDF
// document (ISO 32000-1).
package pdf

import (
	"bytes"
	"fmt"
	"strings"
)

// Document writes objects, numbered from 1 as they come, with the table that finds
// them. The first is the catalogue.
func Document(objects ...string) []byte {
	var b bytes.Buffer
	var at []int
	b.WriteString("%PDF-1.4\n")
	for i, object := range objects {
		at = append(at, b.Len())
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, object)
	}
	from := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(at)+1)
	for _, a := range at {
		fmt.Fprintf(&b, "%010d 00000 n \n", a)
	}
	fmt.Fprintf(&b, "trailer\n<< /Size %d /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF\n", len(at)+1, from)
	return b.Bytes()
}

// Latin writes a text for a string of such a document, in the Windows Latin encoding
// that every reader has; what that lacks becomes a question mark.
func Latin(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case r == '(' || r == ')' || r == '\\':
			b.WriteString(`\` + string(r))
		case r == '…':
			b.WriteByte(0x85)
		case r == '’':
			b.WriteByte(0x92)
		case r == '–' || r == '−':
			b.WriteByte(0x96)
		case r == '\u202f' || r == '\u2009':
			b.WriteByte(' ')
		case r < 0x20 || r > 0xff:
			b.WriteByte('?')
		default:
			b.WriteByte(byte(r))
		}
	}
	return b.String()
}
