package exchange

import (
	"errors"

	"hopperful/internal/say"
)

// worded is what a person is told of an error, in English.
func worded(err error) string {
	var e *Error
	if !errors.As(err, &e) {
		return err.Error()
	}
	p := say.For("en")
	return p.Say(e.Says()) + " " + p.Say(e.Advice)
}
