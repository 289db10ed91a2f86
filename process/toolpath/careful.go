package toolpath

import (
	"bytes"
	"math"
	"slices"
	"strings"
)

// words is what the careful reader has gathered from one line.
type words struct {
	block
	letters   uint32 // seen so far, one bit a letter
	g, m      [8]int32
	ng, nm    int
	toolFirst bool // the first word is T
	any       bool
	text      bool // the rest of the line is text for a command that does not matter here
}

// careful reads any line: NIST words in any order and case, comments, checksums.
func (x *lexer) careful(line []byte) {
	w := &x.words
	w.has, w.bare, w.letters, w.ng, w.nm, w.toolFirst, w.any, w.text = 0, 0, 0, 0, 0, false, false, false
	i := 0
	for i < len(line) && isBlank(line[i]) {
		i++
	}
	if i == len(line) || line[i] == '%' {
		return
	}
	if line[i] == '/' {
		x.warn.show(BlockDelete, x.line, line)
		return
	}
	if line[i] == '@' || bytes.HasPrefix(line[i:], []byte("T?")) {
		return // for the computer that sends the file, or to choose a tool by hand
	}
	if i+1 < len(line) && isLetter(line[i]) && (isLetter(line[i+1]) || line[i+1] == '_') {
		if mayExtrude(line[i:]) {
			x.warn.show(NamedCommand, x.line, line)
		}
		return
	}
	for i >= 0 && i < len(line) {
		switch c := line[i]; {
		case isBlank(c):
			i++
		case c == ';':
			i = len(line)
		case c == '(':
			i = x.comment(line, i)
		case c == '*':
			i = x.checksum(line, i)
		case isLetter(c):
			i = x.word(line, i)
			if w.text {
				i = x.textEnd(line, i)
			}
		case c == '#' || c == '[':
			x.fail(line, i, Expression)
			return
		default:
			x.fail(line, i, NoLetter)
			return
		}
	}
	if i >= 0 && w.any && x.fatal == nil {
		x.hand(line)
	}
}

func isBlank(c byte) bool { return c == ' ' || c == '\t' }

// comment skips a comment in round brackets.
func (x *lexer) comment(line []byte, i int) int {
	n := bytes.IndexByte(line[i:], ')')
	if n < 0 {
		x.warn.show(OpenComment, x.line, line)
		return len(line)
	}
	return i + n + 1
}

// checksum compares the number behind * with the XOR of all bytes before it.
func (x *lexer) checksum(line []byte, i int) int {
	v, next, state := number(line, i+1)
	if state != numberOK {
		x.fail(line, i, NoChecksum)
		return -1
	}
	sum := byte(0)
	for _, c := range line[:i] {
		sum ^= c
	}
	x.checksums++
	if float64(sum) != v {
		x.warn.show(BadChecksum, x.line, line)
	}
	for ; next < len(line); next++ {
		if line[next] == ';' || line[next] == '(' {
			return next
		}
		if !isBlank(line[next]) {
			x.fail(line, next, BehindChecksum)
			return -1
		}
	}
	return next
}

// textEnd skips text and verifies a checksum at its very end.
func (x *lexer) textEnd(line []byte, i int) int {
	if i < 0 {
		return i
	}
	star := bytes.LastIndexByte(line, '*')
	if star < i {
		return len(line)
	}
	rest := bytes.TrimRight(line[star+1:], " \t")
	for _, c := range rest {
		if !isDigit(c) {
			return len(line)
		}
	}
	if len(rest) == 0 || len(rest) > 3 {
		return len(line)
	}
	return x.checksum(line, star)
}

// word reads a letter and its number; a negative result means a bad line.
func (x *lexer) word(line []byte, i int) int {
	w := &x.words
	c := line[i] &^ 0x20
	at := i
	for i++; i < len(line) && isBlank(line[i]); i++ {
	}
	v, next, state := number(line, i)
	if state == numberHuge {
		x.fatal = x.syntax(line, at, ManyDigits)
		return -1
	}
	switch c {
	case 'G', 'M':
		return x.command(line, at, next, c, v, state)
	case 'N':
		if w.any || state == numberNone || w.letters&(1<<('N'-'A')) != 0 {
			x.fail(line, at, LineNumber)
			return -1
		}
		w.letters |= 1 << ('N' - 'A')
		return next
	}
	bit := uint32(1) << (c - 'A')
	if w.letters&bit != 0 {
		x.fail(line, at, LetterTwice)
		return -1
	}
	w.letters |= bit
	if !w.any && c == 'T' {
		w.toolFirst = true
	}
	w.any = true
	slot := slotOf[c]
	if state == numberNone {
		w.bare |= 1 << slot
		return next
	}
	w.has |= 1 << slot
	if slot < slots {
		w.v[slot] = v
	}
	return next
}

// command notes a G or M word.
func (x *lexer) command(line []byte, at, next int, c byte, v float64, state numberState) int {
	w := &x.words
	code := math.Round(v * 10)
	if state == numberNone || v < 0 || v > 99999 || math.Abs(v*10-code) > 1e-6 {
		x.fail(line, at, CommandNumber)
		return -1
	}
	w.any = true
	list, n := &w.g, &w.ng
	if c == 'M' {
		list, n = &w.m, &w.nm
	}
	if *n == len(list) {
		x.fail(line, at, ManyCommands)
		return -1
	}
	list[*n] = int32(code)
	*n++
	if c == 'M' {
		w.text = takesText(int32(code)) || code == 300 && !blankRest(line[next:])
	}
	return next
}

// blankRest reports whether only blanks, a comment or a checksum follow.
func blankRest(rest []byte) bool {
	for _, c := range rest {
		if !isBlank(c) {
			return c == ';' || c == '(' || c == '*'
		}
	}
	return true
}

// Macros by name: a first word that only sets or tells something, and the words of
// one that may push plastic out. Judgement.
var (
	settingWords   = []string{"SET", "EXCLUDE", "TIMELAPSE", "SAVE", "RESTORE", "RESPOND", "QUERY", "STATUS", "UPDATE", "DEFINE", "CLEAR", "BED"}
	extrudingWords = []string{"START", "BEGIN", "PRIME", "PURGE", "LOAD", "UNLOAD", "EXTRUDE", "LINE", "CHANGE", "FEED", "WIPE"}
)

// mayExtrude reports whether the name of a macro lets one think that it extrudes.
func mayExtrude(line []byte) bool {
	end := bytes.IndexFunc(line, func(r rune) bool { return r != '_' && (r > 'z' || !isLetter(byte(r)) && !isDigit(byte(r))) })
	if end < 0 {
		end = len(line)
	}
	words := strings.Split(strings.ToUpper(string(line[:end])), "_")
	if slices.Contains(settingWords, words[0]) {
		return false
	}
	return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(extrudingWords, w) })
}
