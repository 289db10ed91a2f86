package store

import (
	"net/url"
	"strings"
	"testing"
)

// FuzzAddress: what is shown and said of the address of a server, good or bad, holds nothing
// of its passphrase.
func FuzzAddress(f *testing.F) {
	for _, rest := range []string{"@host:5433/mill?sslmode=require#north", "@ho st/mill#n", "@host/mill#North", "@/mill?host=/run#n", "@[::1]:9/m#n", "@h/d?connect_timeout=x#n", "/@@:#?%", "@h,i:5,6/d#n"} {
		f.Add(rest)
	}
	const secret = "qzwvk9s3cret"
	f.Fuzz(func(t *testing.T, rest string) {
		path := (&url.URL{Scheme: "postgres", User: url.UserPassword("ann", secret)}).String() + rest
		if shown := Shown(path); strings.Contains(shown, secret) {
			t.Fatalf("%s is shown as %s", path, shown)
		}
		a, err := readAddress(path)
		if err != nil && strings.Contains(err.Error(), secret) || strings.Contains(a.shown, secret) {
			t.Fatalf("%s: %s, %v", path, a.shown, err)
		}
		if err == nil && (a.config == nil || !shopName.MatchString(a.name)) {
			t.Fatalf("%s is taken for %q", path, a.name)
		}
	})
}
