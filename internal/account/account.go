// Package account says who may do what in a shop: four roles, what each kind of record
// asks for, and how a passphrase is kept. It is asked in one place, where records and
// accounts are written (internal/store), so that pages, programs and the command line
// cannot differ. A shop without accounts is its owner's alone, as it was before.
package account

import (
	"hopperful/fact"

	"context"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

// Role is what somebody may do; each may do what those before it may.
type Role string

// The roles, from the least to the most.
const (
	Look   Role = "look"   // see everything, write nothing
	Record Role = "record" // write down what happened
	Plan   Role = "plan"   // say what is wanted and what there is: prints, campaigns, machines, materials
	Own    Role = "own"    // decide for the shop, and about accounts
)

// Roles are all of them, the least first.
func Roles() []Role { return []Role{Look, Record, Plan, Own} }

// ReadRole reads a role.
func ReadRole(text string) (Role, error) {
	if r := Role(text); slices.Contains(Roles(), r) {
		return r, nil
	}
	return "", &Refused{fact.Say("account.no_role", fact.Name("text", clip(text))), fact.Say("account.do_roles")}
}

// May says whether the role is enough for what asks for another.
func (r Role) May(asked Role) bool {
	return slices.Index(Roles(), r) >= max(0, slices.Index(Roles(), asked)) && slices.Contains(Roles(), asked)
}

// Account is somebody who may log in.
type Account struct {
	Name  string
	Role  Role
	Hash  string // of the passphrase; see [Hash]
	Since time.Time
}

// Session is a log-in, or the token of a program.
type Session struct {
	ID          string // names it where it is listed; says nothing of the token
	Account     string
	Role        Role   // of the account, now
	Program     string // what the token is for; "" for a person's log-in
	Device      string // what the browser said it is
	Address     string // where it was last seen
	Begun, Seen time.Time
}

// mostName bounds a name.
const mostName = 80

// CheckName says whether a name can be an account's.
func CheckName(name string) error {
	bad := strings.ContainsFunc(name, func(r rune) bool { return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) })
	if n := utf8.RuneCountInString(name); n < 1 || n > mostName || bad || !utf8.ValidString(name) || strings.TrimSpace(name) != name {
		return &Refused{fact.Say("account.not_a_name", fact.Name("name", clip(name))), fact.Say("account.do_name_length", fact.Count("most_name", mostName))}
	}
	return nil
}

// clip keeps quoted input in a message short.
func clip(text string) string { return text[:min(len(text), mostName)] }

// Refused says that somebody may not do something, or not like this.
type Refused struct{ What, Advice fact.Saying }

// Error is the code of what was wrong; the edges word it.
func (e *Refused) Error() string { return e.What.Code }

// needs is the role that each kind of record asks for. A kind that is not here asks for
// the owner; a test names it.
var needs = map[string]Role{
	"shop_set": Own, "person_set": Plan, "mill_set": Plan, "scale_set": Plan, "printer_set": Plan, "dryer_set": Plan, "material_set": Plan,
	"need_set": Plan, "campaign_begun": Plan,
	"taken_in": Record, "sorted": Record, "ground": Record, "weighed": Record, "sieved": Record, "passed_magnet": Record, "dedusted": Record,
	"dried": Record, "jar_weighed": Record, "coloured": Record, "blended": Record, "flow_tested": Record, "printed": Record,
	"discarded": Record, "serviced": Record, "happened": Record, "confirmed": Record, "pictured": Record, "campaign_marked": Record,
}

// Needs is the role that a kind of record asks for. What strikes a record out asks for
// the role of what is struck out.
func Needs(kind string) Role {
	if r, ok := needs[kind]; ok {
		return r
	}
	return Own
}

// Check refuses what asks for more than a role may do.
func Check(who string, has, asked Role) error {
	if has.May(asked) {
		return nil
	}
	return &Refused{fact.Say("account.role_too_low", fact.Name("who", who), fact.Name("asked", string(asked)), fact.Name("has", string(has))), fact.Say("account.do_ask_owner")}
}

// ErrUnknown refuses somebody a shop with accounts does not know.
func ErrUnknown() error {
	return &Refused{fact.Say("account.nobody_known"), fact.Say("account.do_log_in")}
}

// asker is the key of a context's account.
type asker struct{}

// As is a context in which somebody asks. Who sets it has seen a passphrase or a token.
func As(ctx context.Context, name string) context.Context {
	return context.WithValue(ctx, asker{}, name)
}

// Asks is who asks; "" when nobody is known.
func Asks(ctx context.Context) string {
	name, _ := ctx.Value(asker{}).(string)
	return name
}
