package cli

import (
	"bytes"
	"fmt"

	"hopperful/answer"
	"hopperful/internal/say"
)

// heard is an answer as a room gave it, so that a test that reads it in several languages
// and widths has it reckoned once.
type heard struct {
	folder, command string
	document        *answer.Document
}

// asked is one way to read an answer.
type asked struct {
	lang    string
	columns int
	full    bool
}

func (a asked) words(command string) []string {
	words := append(split(command), "--lang", a.lang)
	if a.full {
		words = append(words, "--full")
	}
	return words
}

// hear asks once, and reads the answer in the first way. Where what the command prints is
// not its document and nothing else, each further way of reading asks again.
func hear(folder, command string, first asked) (h heard, out, errs string, code int) {
	h = heard{folder: folder, command: command}
	n := 0
	out, errs, code = answerTold(folder, columns(first.columns), first.words(command), func(d answer.Document) { h.document, n = &d, n+1 })
	if n != 1 || out != h.shown(first) {
		h.document = nil
	}
	return h, out, errs, code
}

// read is the answer in another way.
func (h heard) read(a asked) (out, errs string, code int) {
	if h.document == nil {
		return answerWith(h.folder, columns(a.columns), a.words(h.command))
	}
	return h.shown(a), "", exitDone
}

// shown prints the document as a command does.
func (h heard) shown(a asked) string {
	if h.document == nil {
		return ""
	}
	var out bytes.Buffer
	vars := columns(a.columns)
	env := &Env{Getenv: func(name string) string { return vars[name] }, words: say.For(a.lang)}
	lines := &wrapping{w: &out, env: env}
	env.Out = lines
	if told := env.words.Document(*h.document); a.full {
		printDocument(env, env.words, told, whole)
	} else {
		printShort(env, env.words, told)
	}
	if err := lines.flush(); err != nil {
		return err.Error()
	}
	return out.String()
}

func columns(n int) map[string]string { return map[string]string{"COLUMNS": fmt.Sprint(n)} }
