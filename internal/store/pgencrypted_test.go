package store

import (
	"context"
	"crypto/tls"
	"io"
	"net"
	"net/url"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"hopperful/internal/store/pgtest"
	"hopperful/internal/trust"
)

// serverHere is the shared server, or the test is skipped.
func serverHere(t *testing.T) *pgtest.Server {
	t.Helper()
	s, err := pgtest.Shared()
	if err != nil {
		pgtest.Missing(t, err)
	}
	return s
}

// TestTheWayToAServerIsEncrypted: as the address asks, and what is known of it is told.
// What each sslmode promises: PostgreSQL 15 documentation, table 34.1.
func TestTheWayToAServerIsEncrypted(t *testing.T) {
	t.Parallel()
	server := serverHere(t)
	host, root := "127.0.0.1:"+server.Port(), server.Authority()
	for _, c := range []struct {
		mode, root string
		encrypted  bool
		checked    bool // that it is the server it says it is
	}{
		{"disable", "", false, false},
		{"", "", true, false}, // prefer
		{"require", "", true, false},
		{"verify-full", root, true, true},
	} {
		settings := url.Values{}
		for name, value := range map[string]string{"sslmode": c.mode, "sslrootcert": c.root} {
			if value != "" {
				settings.Set(name, value)
			}
		}
		path := server.Secure(host, pgtest.Name(t.Name()+c.mode), settings)
		s, err := Create(t.Context(), path, Options{})
		if err != nil {
			t.Errorf("%q: %v", c.mode, err)
			continue
		}
		s.Close()
		f, err := LookAtServer(t.Context(), path)
		if err != nil || strings.HasPrefix(f.Encryption, "TLSv1.") != c.encrypted || f.Checked != c.checked {
			t.Errorf("%q: %+v, %v", c.mode, f, err)
		}
	}
}

// TestAServerThatIsNotTheOneIsLeft: at once, without a passphrase on the wire, and with
// what to do.
func TestAServerThatIsNotTheOneIsLeft(t *testing.T) {
	t.Parallel()
	server := serverHere(t)
	stranger := t.TempDir()
	if _, err := trust.Open(stranger, nil, time.Now); err != nil {
		t.Fatal(err)
	}
	late := t.TempDir()
	expired, err := trust.Open(late, nil, func() time.Time { return time.Now().AddDate(-1, 0, 0) })
	if err != nil {
		t.Fatal(err)
	}
	there := func(context.Context, string, string) (net.Conn, error) {
		return net.Dial("tcp", "127.0.0.1:"+server.Port())
	}
	full := func(root string) url.Values { return url.Values{"sslmode": {"verify-full"}, "sslrootcert": {root}} }
	for _, c := range []struct {
		host     string
		settings url.Values
		dial     func(context.Context, string, string) (net.Conn, error)
		say      string
	}{
		{"127.0.0.1:1", full(filepath.Join(stranger, "authority.crt")), there, "Nobody this computer trusts"},
		{"127.0.0.1:1", full(filepath.Join(late, "authority.crt")), answering(t, expired.TLS(func() []net.IP { return nil })), "does not hold"},
		{"127.0.0.2:1", full(server.Authority()), there, "for another name"},
		{"127.0.0.1:1", full(server.Authority()), answering(t, nil), "does not encrypt"},
		{"127.0.0.1:1", url.Values{"sslmode": {"require"}}, answering(t, nil), "does not encrypt"},
		{"127.0.0.1:1", full(filepath.Join(stranger, "none.crt")), there, "a file it names, is not as it should be"},
	} {
		path := server.Secure(c.host, "nobody", c.settings)
		_, err := Open(t.Context(), path, Options{dial: c.dial})
		if err == nil || !strings.Contains(worded(err), c.say) || strings.Contains(worded(err), pgtest.Password) {
			t.Errorf("%s %v: %v", c.host, c.settings, err)
		}
	}
}

// answering dials a server of the test's own, which encrypts with a certificate, or not at all
// where it has none, and fails the test where anything of a log-in is sent to it.
func answering(t *testing.T, with *tls.Config) func(context.Context, string, string) (net.Conn, error) {
	return func(context.Context, string, string) (net.Conn, error) {
		here, there := net.Pipe()
		go func() {
			defer there.Close()
			asked := make([]byte, 8) // length, and the number of SSLRequest: PostgreSQL 15 documentation, 55.2.10
			if _, err := io.ReadFull(there, asked); err != nil {
				return
			}
			if with != nil {
				there.Write([]byte("S")) // whoever does not hear it sends nothing either
				c := tls.Server(there, with)
				if c.Handshake() == nil {
					if n, _ := c.Read(asked); n > 0 {
						t.Errorf("sent to a stranger: %q", asked[:n])
					}
				}
				return
			}
			there.Write([]byte("N"))
			if more, _ := io.ReadAll(there); len(more) > 0 {
				t.Errorf("sent in the clear: %q", more)
			}
		}()
		return here, nil
	}
}

// TestAServerThatWantsEncryption says so to whoever comes without.
func TestAServerThatWantsEncryption(t *testing.T) {
	t.Parallel()
	server := serverHere(t)
	plain, err := url.Parse(server.At("127.0.0.1:"+server.Port(), "nobody"))
	if err != nil {
		t.Fatal(err)
	}
	plain.User = url.UserPassword(pgtest.Guarded, pgtest.Password)
	if _, err := Open(t.Context(), plain.String(), Options{ReadOnly: true}); err == nil || !strings.Contains(worded(err), "not encrypted") {
		t.Error(err)
	}
	plain.RawQuery = "sslmode=require"
	if _, err := Open(t.Context(), plain.String(), Options{ReadOnly: true}); err == nil || strings.Contains(worded(err), "not encrypted") {
		t.Error("and encrypted: ", err) // it is let in and finds no shop
	}
}
