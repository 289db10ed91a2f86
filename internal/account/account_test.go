package account

import (
	"context"
	"errors"
	"strings"
	"testing"

	"hopperful/shop"
)

// TestEachKindOfRecordAsksForARole, and none that there is not.
func TestEachKindOfRecordAsksForARole(t *testing.T) {
	t.Parallel()
	kinds := map[string]bool{"void": true} // asks for the role of what it strikes out
	for _, b := range shop.Bodies() {
		kinds[b.Kind()] = true
		if _, ok := needs[b.Kind()]; !ok && b.Kind() != "void" {
			t.Errorf("say in needs which role %s asks for", b.Kind())
		}
	}
	for kind, role := range needs {
		if !kinds[kind] || role == Look {
			t.Errorf("%s asks for %s", kind, role)
		}
	}
	if Needs("dreamt") != Own {
		t.Error("a kind nobody thought of asks for less than the owner")
	}
}

// TestRolesContainOneAnother: each may do what those before it may, and nothing else.
func TestRolesContainOneAnother(t *testing.T) {
	t.Parallel()
	for i, has := range Roles() {
		for j, asked := range Roles() {
			if got := has.May(asked); got != (i >= j) || (Check("Ann", has, asked) == nil) != got {
				t.Errorf("%s may do what asks for %s: %v", has, asked, got)
			}
		}
		if has.May("") || has.May("boss") || Role("").May(has) || Role("boss").May(has) {
			t.Errorf("%s and what is no role", has)
		}
	}
	if _, err := ReadRole("boss"); err == nil {
		t.Error("boss is a role")
	}
}

// TestPassphrasesAreKeptAsHashes: salted, in the form of the reference implementation of
// Argon2 (its README, "Command-line utility": $argon2id$v=19$m=…,t=…,p=…$salt$hash), with
// the costs of RFC 9106, section 4, second choice: t=3, p=4, m=2^16 KiB.
func TestPassphrasesAreKeptAsHashes(t *testing.T) {
	t.Parallel()
	one, err := Hash(" four loud mills\n")
	two, err2 := Hash("four loud mills")
	if err := errors.Join(err, err2); err != nil || one == two || !strings.HasPrefix(one, "$argon2id$v=19$m=65536,t=3,p=4$") || strings.Contains(one, "loud") {
		t.Errorf("%s %s %v", one, two, err)
	}
	if !Fits(one, "four loud mills") || Fits(one, "four loud mill") || Fits(one, "") || Fits("", "") || Fits(Nobody(), "") || Fits(strings.Replace(one, "t=3", "t=1", 1), "four loud mills") {
		t.Error("what fits, and what does not")
	}
	for _, bad := range []string{"", "eleven char", strings.Repeat("x", 5000)} {
		if _, err := Hash(bad); err == nil || bad != "" && strings.Contains(err.Error(), bad) {
			t.Errorf("%.20q: %v", bad, err)
		}
	}
}

// TestNames of accounts.
func TestNames(t *testing.T) {
	t.Parallel()
	for name, good := range map[string]bool{"Ada": true, "Änne Müller": true, "": false, " Ada": false, "A\nda": false, "A\u202eda": false, "A\xff": false, strings.Repeat("ä", 81): false, strings.Repeat("ä", 80): true} {
		if err := CheckName(name); (err == nil) != good {
			t.Errorf("%q: %v", name, err)
		}
	}
	if Asks(context.Background()) != "" || Asks(As(t.Context(), "Ada")) != "Ada" {
		t.Error("who asks")
	}
}
