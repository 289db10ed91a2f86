package shop

import (
	"errors"
	"strings"

	"hopperful/fact"
)

// worded is a saying in the English of the catalogue, which may import this
// package; the tests outside of it fill it in.
var worded func(fact.Saying) string

// SetWorded is called by them.
func SetWorded(f func(fact.Saying) string) { worded = f }

// inWords is a refusal as people read it: what is wrong and what to do.
func inWords(err error) string {
	var e *Error
	if !errors.As(err, &e) {
		return err.Error()
	}
	return strings.TrimSpace(worded(e.What) + " " + worded(e.Advice))
}
