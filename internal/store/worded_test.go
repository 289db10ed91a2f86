package store

import (
	"errors"
	"fmt"

	"hopperful/internal/account"
	"hopperful/internal/say"
)

// worded is what a person is told of an error: in words, with what the system said.
func worded(err error) string {
	p := say.For("en")
	var own *Error
	var barred *account.Refused
	switch {
	case errors.As(err, &own):
		return fmt.Sprintf("%s (%v) %s", p.Say(own.What), own.Err, p.Say(own.Advice))
	case errors.As(err, &barred):
		return p.Say(barred.What) + " " + p.Say(barred.Advice)
	}
	return err.Error()
}
