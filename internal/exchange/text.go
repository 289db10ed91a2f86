package exchange

import (
	"bytes"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// decode turns the bytes of a text file into text with plain line ends. It
// knows UTF-8 and UTF-16 by their marks; what is neither is taken for Latin-1,
// which old spreadsheets write and in which µ and ° are one byte.
func decode(raw []byte) (text string, ok bool) {
	switch {
	case bytes.HasPrefix(raw, []byte{0xef, 0xbb, 0xbf}):
		raw = raw[3:]
	case bytes.HasPrefix(raw, []byte{0xff, 0xfe}):
		raw = narrow(raw[2:], 0, 1)
	case bytes.HasPrefix(raw, []byte{0xfe, 0xff}):
		raw = narrow(raw[2:], 1, 0)
	}
	if bytes.IndexByte(raw, 0) >= 0 {
		return "", false
	}
	text = string(raw)
	if !utf8.Valid(raw) {
		wide := make([]rune, len(raw))
		for i, b := range raw {
			wide[i] = rune(b)
		}
		text = string(wide)
	}
	return strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n"), true
}

// narrow turns UTF-16 into UTF-8; low and high are where the bytes of a unit stand.
func narrow(raw []byte, low, high int) []byte {
	units := make([]uint16, 0, len(raw)/2)
	for i := 0; i+1 < len(raw); i += 2 {
		units = append(units, uint16(raw[i+low])|uint16(raw[i+high])<<8)
	}
	return []byte(string(utf16.Decode(units)))
}
