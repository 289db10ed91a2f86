package trust

import (
	"crypto/tls"
	"crypto/x509"
	"errors"
	"io"
	"net"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

var monday = time.Date(2026, 11, 23, 9, 0, 0, 0, time.UTC)

func opened(t *testing.T, folder string, now func() time.Time, hosts ...string) *Authority {
	t.Helper()
	a, err := Open(folder, hosts, now)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func still() time.Time { return monday }

// leafOf is the certificate that a caller is shown now.
func leafOf(t *testing.T, conf *tls.Config) *x509.Certificate {
	t.Helper()
	c, err := conf.GetCertificate(nil)
	if err != nil {
		t.Fatal(err)
	}
	leaf, err := x509.ParseCertificate(c.Certificate[0])
	if err != nil {
		t.Fatal(err)
	}
	return leaf
}

func trusts(a *Authority, leaf *x509.Certificate, name string, at time.Time) error {
	pool := x509.NewCertPool()
	pool.AddCert(a.cert)
	_, err := leaf.Verify(x509.VerifyOptions{Roots: pool, DNSName: name, CurrentTime: at})
	return err
}

// TestTheAuthorityStays: made on first use, found afterwards, its key for its owner
// alone; one that others can read, or that is damaged, is refused with a way on.
func TestTheAuthorityStays(t *testing.T) {
	t.Parallel()
	folder := filepath.Join(t.TempDir(), "my.shop"+Ending)
	a := opened(t, folder, still)
	b := opened(t, folder, still)
	if a.Fingerprint() != b.Fingerprint() || len(strings.Fields(a.Fingerprint())) != 16 {
		t.Errorf("the authority is %s, then %s", a.Fingerprint(), b.Fingerprint())
	}
	key := filepath.Join(folder, "authority.key")
	if runtime.GOOS != "windows" {
		for name, want := range map[string]os.FileMode{key: 0o600, folder: 0o700} {
			if about, err := os.Stat(name); err != nil || about.Mode().Perm() != want {
				t.Errorf("%s has the rights %v, %v", name, about.Mode(), err)
			}
		}
		if err := os.Chmod(key, 0o640); err != nil {
			t.Fatal(err)
		}
		var r *Refusal
		if _, err := Open(folder, nil, still); !errors.As(err, &r) || r.Advice.Empty() {
			t.Errorf("a key that others can read is taken: %v", err)
		}
	}
	if err := os.WriteFile(key, []byte("nothing"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(key, 0o600); err != nil {
		t.Fatal(err)
	}
	var r *Refusal
	if _, err := Open(folder, nil, still); !errors.As(err, &r) {
		t.Errorf("a damaged key is taken: %v", err)
	}
}

// TestItVouchesForTheNetworkOnly: for names and addresses of a local network, and by
// its own constraints (RFC 5280, section 4.2.1.10) for nothing else, whoever has its
// key.
func TestItVouchesForTheNetworkOnly(t *testing.T) {
	t.Parallel()
	a := opened(t, filepath.Join(t.TempDir(), "x"), still, "workshop.local", "bench")
	leaf := leafOf(t, a.TLS(func() []net.IP { return []net.IP{net.ParseIP("192.168.7.5"), net.ParseIP("203.0.113.9")} }))
	for _, name := range []string{"localhost", "workshop.local", "bench", "127.0.0.1", "192.168.7.5", "::1"} {
		if err := trusts(a, leaf, name, monday); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, name := range []string{"203.0.113.9", "other.local", "bank.example"} {
		if trusts(a, leaf, name, monday) == nil {
			t.Errorf("it vouches for %s", name)
		}
	}
	stolen := *a
	stolen.hosts = []string{"bank.example"}
	forged, _, err := stolen.issue(nil)
	if err != nil {
		t.Fatal(err)
	}
	bad, err := x509.ParseCertificate(forged.Certificate[0])
	if err != nil {
		t.Fatal(err)
	}
	if trusts(a, bad, "bank.example", monday) == nil {
		t.Error("whoever has the key could pass for a bank")
	}
	var r *Refusal
	if _, err := Open(filepath.Join(t.TempDir(), "y"), []string{"shop.example.com"}, still); !errors.As(err, &r) || r.Advice.Code != "trust.do_local_name" {
		t.Errorf("a public name is taken: %v", err)
	}
}

// TestCertificatesRenewThemselves: the same for weeks, another before it ends and
// when the computer has another address.
func TestCertificatesRenewThemselves(t *testing.T) {
	t.Parallel()
	now := monday
	ips := []net.IP{net.ParseIP("10.0.0.7")}
	a := opened(t, filepath.Join(t.TempDir(), "x"), func() time.Time { return now })
	conf := a.TLS(func() []net.IP { return ips })
	first := leafOf(t, conf)
	now = now.Add(59 * 24 * time.Hour)
	if again := leafOf(t, conf); !again.Equal(first) {
		t.Error("a certificate of 59 days is made anew")
	}
	now = now.Add(2 * 24 * time.Hour)
	next := leafOf(t, conf)
	if next.Equal(first) || !next.NotAfter.After(now.Add(89*24*time.Hour)) {
		t.Errorf("after 61 days it holds until %v", next.NotAfter)
	}
	if err := trusts(a, next, "10.0.0.7", now); err != nil {
		t.Error(err)
	}
	ips = []net.IP{net.ParseIP("10.0.0.9")}
	if same := leafOf(t, conf); !same.Equal(next) {
		t.Error("addresses are asked for at every call")
	}
	now = now.Add(2 * time.Minute)
	if moved := leafOf(t, conf); trusts(a, moved, "10.0.0.9", now) != nil {
		t.Error("another address is not vouched for")
	}
	now = now.AddDate(11, 0, 0)
	if b := opened(t, filepath.Join(t.TempDir(), "z"), func() time.Time { return now }); b.cert.NotAfter.Before(now) {
		t.Error("an authority is made that has ended")
	}
}

// TestOwnCertificate: that of the user is shown, and the next one when the file
// changed; one that does not fit is refused.
func TestOwnCertificate(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	now := monday
	a := opened(t, filepath.Join(folder, "a"), still)
	b := opened(t, filepath.Join(folder, "b"), still)
	from := func(x string) (string, string) {
		return filepath.Join(folder, x, "authority.crt"), filepath.Join(folder, x, "authority.key")
	}
	cert, key := from("a")
	conf, err := Own(cert, key, func() time.Time { return now })
	if err != nil {
		t.Fatal(err)
	}
	if !leafOf(t, conf).Equal(a.cert) {
		t.Error("another certificate is shown")
	}
	otherCert, otherKey := from("b")
	if _, err := Own(cert, otherKey, still); err == nil {
		t.Error("a key of another certificate is taken")
	}
	for to, with := range map[string]string{cert: otherCert, key: otherKey} {
		text, err := os.ReadFile(with)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(to, text, 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(to, monday, monday.Add(time.Hour)); err != nil {
			t.Fatal(err)
		}
	}
	now = now.Add(2 * time.Minute)
	if !leafOf(t, conf).Equal(b.cert) {
		t.Error("a renewed certificate is not shown")
	}
}

// TestCallersAreTakenApart: by their first byte, and one that says nothing holds up
// nobody.
func TestCallersAreTakenApart(t *testing.T) {
	t.Parallel()
	a := opened(t, filepath.Join(t.TempDir(), "x"), time.Now)
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	secure, plain := Split(l, a.TLS(func() []net.IP { return nil }))
	var group sync.WaitGroup
	heard := make(chan string, 2)
	for name, half := range map[string]net.Listener{"secure": secure, "plain": plain} {
		group.Go(func() {
			for {
				c, err := half.Accept()
				if err != nil {
					return
				}
				text := make([]byte, 5)
				if _, err := io.ReadFull(c, text); err == nil {
					heard <- name + " " + string(text)
				}
				c.Close()
			}
		})
	}
	silent, err := net.Dial("tcp", l.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer silent.Close()
	pool := x509.NewCertPool()
	pool.AddCert(a.cert)
	c, err := tls.Dial("tcp", l.Addr().String(), &tls.Config{RootCAs: pool, ServerName: "127.0.0.1"})
	if err != nil {
		t.Fatal(err)
	}
	io.WriteString(c, "quiet")
	p, err := net.Dial("tcp", l.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	io.WriteString(p, "aloud")
	got := []string{<-heard, <-heard}
	slices.Sort(got)
	if !slices.Equal(got, []string{"plain aloud", "secure quiet"}) {
		t.Errorf("heard %q", got)
	}
	c.Close()
	p.Close()
	if err := secure.Close(); err != nil {
		t.Error(err)
	}
	group.Wait()
}
