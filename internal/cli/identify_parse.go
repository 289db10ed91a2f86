package cli

import (
	"errors"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/shop"
)

// misread is a flag that was asked wrongly, unless the plan already said what is
// wrong with its value.
func misread(c *cobra.Command, err error) error {
	var said *shop.Error
	if errors.As(err, &said) {
		return err
	}
	return usage(c, err)
}

// shortened bounds what a message repeats.
func shortened(text string) string {
	const most = 60
	if len(text) <= most {
		return text
	}
	return strings.ToValidUTF8(text[:most], "") + "…"
}
