package cli

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/quantity"
	"hopperful/shop"
)

// quantityFlag is a flag that takes a quantity with its unit. The word
// "unknown" takes a known value away again.
type quantityFlag struct {
	kind quantity.Kind
	into **float64
}

func (f quantityFlag) Set(text string) error {
	if text == "unknown" {
		*f.into = nil
		return nil
	}
	v, err := f.kind.Parse(text)
	if err != nil {
		return err
	}
	*f.into = &v
	return nil
}

func (f quantityFlag) String() string {
	if f.into == nil || *f.into == nil {
		return ""
	}
	return f.kind.Show(**f.into)
}

// Type is what help shows after the flag's name.
func (f quantityFlag) Type() string { return strings.ReplaceAll(f.kind.String(), " ", "-") }

// quantityVar adds a flag for a quantity that may be unknown.
func quantityVar(c *cobra.Command, into **float64, name string, kind quantity.Kind) {
	c.Flags().Var(quantityFlag{kind, into}, name, "")
}

// yesNoFlag is a flag that takes yes, no or unknown.
type yesNoFlag struct{ into *shop.YesNo }

func (f yesNoFlag) Set(text string) error {
	switch strings.ToLower(text) {
	case "yes":
		*f.into = shop.Yes
	case "no":
		*f.into = shop.No
	case "unknown":
		*f.into = shop.Unknown
	default:
		return cannotBe(fact.Say("cli.not_yes_or_no", fact.Name("text", text)))
	}
	return nil
}

func (f yesNoFlag) String() string {
	if f.into == nil {
		return ""
	}
	return string(*f.into)
}

func (f yesNoFlag) Type() string { return "yes|no|unknown" }

func yesNoVar(c *cobra.Command, into *shop.YesNo, name string) {
	c.Flags().Var(yesNoFlag{into}, name, "")
}

// wordFlag is a flag that takes one of a few words.
type wordFlag struct {
	words []string
	into  *string
}

// Set takes a word however its parts are joined: desiccant-box is "desiccant box".
func (f wordFlag) Set(text string) error {
	i := slices.IndexFunc(f.words, func(w string) bool { return strings.EqualFold(joinedUp(w), joinedUp(text)) })
	if i < 0 {
		var typed []string
		for _, w := range f.words {
			typed = append(typed, joinedUp(w))
		}
		return cannotBe(fact.Say("cli.value_not_one_of", fact.Name("text", text), fact.Name("typed", strings.Join(typed, ", "))))
	}
	*f.into = f.words[i]
	return nil
}

// joinedUp is a word as it is typed without quotes.
func joinedUp(word string) string { return strings.ReplaceAll(word, " ", "-") }

func (f wordFlag) String() string {
	if f.into == nil {
		return ""
	}
	return *f.into
}

func (f wordFlag) Type() string { return joinedUp(strings.Join(f.words, "|")) }

// wordVar adds a flag that takes one of a few words, which the shell completes.
func wordVar(c *cobra.Command, env *Env, into *string, name string, words []string) {
	c.Flags().Var(wordFlag{words, into}, name, "")
	completesFlag(c, env, name, func(*shop.State) []string {
		var typed []string
		for _, w := range words {
			typed = append(typed, joinedUp(w))
		}
		return typed
	})
}

// levelFlag is a flag that takes a controller's level, which may be unknown.
type levelFlag struct{ into **int }

func (f levelFlag) Set(text string) error {
	if text == "unknown" {
		*f.into = nil
		return nil
	}
	n, err := strconv.Atoi(text)
	if err != nil {
		return cannotBe(fact.Say("cli.not_a_level", fact.Name("text", text)))
	}
	*f.into = &n
	return nil
}

func (f levelFlag) String() string {
	if f.into == nil || *f.into == nil {
		return ""
	}
	return strconv.Itoa(**f.into)
}

func (f levelFlag) Type() string { return "level" }

// whenFlag is a flag that takes a moment. A clock time alone lies today, or
// with ahead set at its next coming.
type whenFlag struct {
	now   func() time.Time
	ahead bool
	into  *time.Time
}

func (f whenFlag) Set(text string) error {
	t, err := parseWhen(text, f.now(), f.ahead)
	if err != nil {
		return err
	}
	*f.into = t
	return nil
}

func (f whenFlag) String() string {
	if f.into == nil || f.into.IsZero() {
		return ""
	}
	return f.into.Format("2006-01-02 15:04")
}

func (f whenFlag) Type() string { return "time" }

// parseWhen reads "16:40", "2026-11-20", "2026-11-20 16:40" or RFC 3339.
func parseWhen(text string, now time.Time, ahead bool) (time.Time, error) {
	for _, layout := range []string{"2006-01-02 15:04", "2006-01-02T15:04", "2006-01-02"} {
		if t, err := time.ParseInLocation(layout, text, now.Location()); err == nil {
			return t, nil
		}
	}
	if t, err := time.Parse(time.RFC3339, text); err == nil {
		return t, nil
	}
	clock, err := time.ParseInLocation("15:04", text, now.Location())
	if err != nil {
		return time.Time{}, cannotBe(fact.Say("cli.not_a_time", fact.Name("text", text)))
	}
	y, m, d := now.Date()
	t := time.Date(y, m, d, clock.Hour(), clock.Minute(), 0, 0, now.Location())
	if ahead && !t.After(now) {
		t = t.AddDate(0, 0, 1)
	}
	return t, nil
}

// needed refuses a command that lacks a flag it cannot do without.
func needed(c *cobra.Command, names ...string) error {
	if correcting(c) { // what is not given stays as it was
		return nil
	}
	var missing []string
	for _, n := range names {
		if !c.Flags().Changed(n) {
			missing = append(missing, "--"+n)
		}
	}
	if len(missing) > 0 {
		return usagef(c, fact.Say("cli.needs", fact.Name("command", c.CommandPath()), fact.Names("missing", missing)))
	}
	return nil
}
