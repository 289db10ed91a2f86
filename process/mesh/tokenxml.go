// Cuts an XML part into tokens and reads names and values out of them.

package mesh

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"
)

// token returns the next text between angle brackets, with them, and passes over
// what stands before it. It lives until the next call.
func (w *walker) token() ([]byte, error) {
	passed := 0
	for {
		if i := bytes.IndexByte(w.buf[w.start:w.end], '<'); i >= 0 {
			w.skip(i)
			break
		}
		if passed += w.end - w.start; passed > maxToken {
			return nil, w.tooLong()
		}
		w.skip(w.end - w.start)
		if err := w.fill(); err != nil {
			return nil, err
		}
	}
	for seen := 0; ; {
		if n := tokenEnd(w.buf[w.start:w.end]); n > 0 {
			token := w.buf[w.start : w.start+n]
			w.skip(n)
			return token, nil
		}
		if seen = w.end - w.start; seen >= maxToken {
			return nil, w.tooLong()
		}
		if err := w.fill(); err != nil {
			if errors.Is(err, io.EOF) {
				return nil, w.broken(Truncated, "the part ends within a tag")
			}
			return nil, err
		}
	}
}

func (w *walker) skip(n int) {
	w.start += n
	w.used += int64(n)
}

func (w *walker) tooLong() error {
	return &ReadError{Fault: TooLarge, Where: placeIn(w.part, w.used), What: fmt.Sprintf("one tag or text is longer than %d bytes", maxToken)}
}

// fill reads on; io.EOF when there is no more.
func (w *walker) fill() error {
	if w.ended {
		return io.EOF
	}
	w.end = copy(w.buf, w.buf[w.start:w.end])
	w.start = 0
	for range 100 { // a reader may give nothing now and then
		n, err := w.in.Read(w.buf[w.end:])
		w.end += n
		if errors.Is(err, io.EOF) {
			w.ended, err = true, nil
			if n == 0 {
				return io.EOF
			}
		}
		if err != nil {
			return w.failed(err)
		}
		if n > 0 {
			return nil
		}
	}
	return w.failed(io.ErrNoProgress)
}

func (w *walker) failed(err error) error {
	at := placeIn(w.part, w.used)
	if own := (*ReadError)(nil); errors.As(err, &own) {
		if own.Where == (Place{}) {
			own.Where = at
		}
		return own
	}
	fault := Malformed
	if errors.Is(err, io.ErrUnexpectedEOF) {
		fault = Truncated
	}
	return &ReadError{Fault: fault, Where: at, What: "the part cannot be read", Err: err}
}

// tokenEnd is the length of the token that text begins with, 0 when it is not whole.
func tokenEnd(text []byte) int {
	if len(text) > 1 && (text[1] == '!' || text[1] == '?') {
		return specialEnd(text)
	}
	for at := 1; at < len(text); at++ {
		switch c := text[at]; c {
		case '>':
			if at == 1 {
				return 0
			}
			return at + 1
		case '"', '\'':
			i := bytes.IndexByte(text[at+1:], c)
			if i < 0 {
				return 0
			}
			at += i + 1
		}
	}
	return 0
}

// specialEnd is tokenEnd of what is no tag: comments, text as it is, instructions,
// and the document type, which is refused whatever it says.
func specialEnd(text []byte) int {
	for _, s := range [][2]string{{"<!--", "-->"}, {"<![CDATA[", "]]>"}, {"<?", "?>"}} {
		if !bytes.HasPrefix(text, []byte(s[0])) {
			continue
		}
		if i := bytes.Index(text[len(s[0]):], []byte(s[1])); i >= 0 {
			return len(s[0]) + i + len(s[1])
		}
		return 0
	}
	if len(text) < len("<![CDATA[") {
		return 0 // it may yet become one of those
	}
	return len("<![CDATA[")
}

// cutName cuts a name off the front of a tag's inside.
func cutName(text []byte) (word, rest []byte) {
	i := 0
	for i < len(text) && text[i] != '=' && text[i] != ' ' && text[i] != '\t' && text[i] != '\r' && text[i] != '\n' {
		i++
	}
	return text[:i], text[i:]
}

// entities are the five that need no declaration (XML 1.0, section 4.6).
var entities = map[string]string{"lt": "<", "gt": ">", "amp": "&", "quot": `"`, "apos": "'"}

// unescaped is the text of a value; false when it is none.
func unescaped(raw []byte) (string, bool) {
	if !utf8.Valid(raw) || bytes.IndexByte(raw, '<') >= 0 {
		return "", false
	}
	if bytes.IndexByte(raw, '&') < 0 {
		return string(raw), true
	}
	var out strings.Builder
	for text := string(raw); ; {
		before, after, more := strings.Cut(text, "&")
		out.WriteString(before)
		if !more {
			return out.String(), true
		}
		word, rest, ok := strings.Cut(after, ";")
		if !ok {
			return "", false
		}
		if digits, isNumber := strings.CutPrefix(word, "#"); isNumber {
			base := 10
			if hex, isHex := strings.CutPrefix(digits, "x"); isHex {
				digits, base = hex, 16
			}
			v, err := strconv.ParseUint(digits, base, 21)
			if err != nil || !utf8.ValidRune(rune(v)) {
				return "", false
			}
			out.WriteRune(rune(v))
		} else if c, known := entities[word]; known {
			out.WriteString(c)
		} else {
			return "", false
		}
		text = rest
	}
}

// short is the beginning of a text for a person.
func short(text string) string {
	if len(text) > 40 {
		return strconv.Quote(text[:40]) + "…"
	}
	return strconv.Quote(text)
}
