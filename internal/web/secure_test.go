package web

import (
	"bytes"
	"context"
	"crypto/tls"
	"crypto/x509"
	"io"
	"net"
	"net/http"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"hopperful/internal/store"
	"hopperful/internal/trust"
	"hopperful/internal/web/address"
)

// overHTTPS serves a new shop with its own authority and returns where, and the client
// of one who trusts only that authority.
func overHTTPS(t *testing.T, o Options) (string, *http.Client, *trust.Authority) {
	t.Helper()
	folder := t.TempDir()
	st, err := store.Create(context.Background(), filepath.Join(folder, "my.shop"), store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	a, err := trust.Open(filepath.Join(folder, "my.shop"+trust.Ending), nil, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	_, port, _ := net.SplitHostPort(l.Addr().String())
	o.Secure = &Secure{TLS: a.TLS(func() []net.IP { return nil }), Certificate: a.Certificate(), Fingerprint: a.Fingerprint(),
		Addresses: func() []string { return []string{"127.0.0.1:" + port, "192.168.7.5:" + port} }}
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- Serve(ctx, l, st, o) }()
	pool := x509.NewCertPool()
	cert, err := x509.ParseCertificate(a.Certificate())
	if err != nil {
		t.Fatal(err)
	}
	pool.AddCert(cert)
	tr := &http.Transport{TLSClientConfig: &tls.Config{RootCAs: pool}}
	t.Cleanup(func() {
		tr.CloseIdleConnections()
		stop()
		if err := <-done; err != nil {
			t.Errorf("it ended with %v", err)
		}
		st.Close()
	})
	return l.Addr().String(), &http.Client{Transport: tr, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}, a
}

func fetched(t *testing.T, c *http.Client, to string) (*http.Response, string) {
	t.Helper()
	r, err := c.Get(to)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	text, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return r, string(text)
}

// TestHTTPSByWhoTrustsOnlyTheShop: a client that trusts nobody but the shop's own
// authority is served; one that trusts the world is not. A plain caller is shown how
// to trust it, without a log-in, and led to HTTPS for all else.
func TestHTTPSByWhoTrustsOnlyTheShop(t *testing.T) {
	t.Parallel()
	at, client, a := overHTTPS(t, Options{Passphrase: "three loud mills"})
	if r, _ := fetched(t, client, "https://"+at+"/login"); r.StatusCode != http.StatusOK || r.TLS == nil || r.TLS.Version < tls.VersionTLS12 {
		t.Errorf("over HTTPS it answers %d", r.StatusCode)
	}
	if r, err := (&http.Client{Transport: &http.Transport{DisableKeepAlives: true}}).Get("https://" + at + "/login"); err == nil {
		r.Body.Close()
		t.Error("who trusts the world trusts the shop")
	}
	if r, _ := fetched(t, client, "http://"+at+"/stock?q=a"); r.StatusCode != http.StatusTemporaryRedirect || r.Header.Get("Location") != "https://"+at+"/stock?q=a" {
		t.Errorf("a plain caller is answered with %d to %s", r.StatusCode, r.Header.Get("Location"))
	}
	if r, err := client.Post("http://"+at+"/login", "application/x-www-form-urlencoded", strings.NewReader("passphrase=three+loud+mills")); err != nil || r.StatusCode != http.StatusTemporaryRedirect || len(r.Cookies()) > 0 {
		t.Errorf("a plain log-in is answered with %+v, %v", r, err)
	}
	r, page := fetched(t, client, "http://"+at+"/trust")
	if r.StatusCode != http.StatusOK || !strings.Contains(page, a.Fingerprint()) || !strings.Contains(page, "http://192.168.7.5:") {
		t.Errorf("the page that takes a phone through it answers %d:\n%s", r.StatusCode, page)
	}
	r, text := fetched(t, client, "http://"+at+"/trust/authority.crt")
	if !bytes.Equal([]byte(text), a.Certificate()) || r.Header.Get("Content-Type") != "application/x-x509-ca-cert" {
		t.Errorf("the certificate is sent as %s, %d bytes", r.Header.Get("Content-Type"), len(text))
	}
	if r, text := fetched(t, client, "http://"+at+"/trust/code.svg"); r.Header.Get("Content-Type") != "image/svg+xml" || !strings.Contains(text, "<path") {
		t.Errorf("the code is sent as %s", r.Header.Get("Content-Type"))
	}
	req, err := http.NewRequest("GET", "http://"+at+"/trust", nil)
	if err != nil {
		t.Fatal(err)
	}
	req.Host = "elsewhere.example"
	if r, err := client.Do(req); err != nil || r.StatusCode != http.StatusMisdirectedRequest {
		t.Errorf("a foreign name is answered with %+v, %v", r, err)
	}
}

// TestWithoutHTTPS says how to get it; there is no certificate to take.
func TestWithoutHTTPS(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{})
	if w := b.get("/trust"); w.Code != http.StatusOK || !strings.Contains(w.Body.String(), "--https") {
		t.Errorf("/trust answers %d", w.Code)
	}
	for _, path := range []string{"/trust/authority.crt", "/trust/code.svg"} {
		if w := b.get(path); w.Code != http.StatusNotFound {
			t.Errorf("%s answers %d", path, w.Code)
		}
	}
}

// TestTheCodeIsOne: its size and its finder patterns are as ISO/IEC 18004 wants them,
// from memory: three corners of seven modules, four of white around. Whether a camera
// reads it nobody here has tried.
func TestTheCodeIsOne(t *testing.T) {
	t.Parallel()
	svg, err := codeOf("http://192.168.7.5:8614/trust")
	if err != nil {
		t.Fatal(err)
	}
	// Version 3 at level M holds 42 bytes: 29 modules and 4 of quiet zone each side (ISO/IEC 18004, tables 1 and 7).
	if !strings.Contains(svg, `viewBox="0 0 37 37"`) {
		t.Errorf("the code begins %.120s", svg)
	}
	for _, corner := range [][2]int{{4, 4}, {26, 4}, {4, 26}} {
		for i := range 7 {
			for _, at := range [][2]int{{corner[0] + i, corner[1]}, {corner[0], corner[1] + i}} {
				if !strings.Contains(svg, moduleAt(at[0], at[1])) {
					t.Errorf("the finder at %v lacks the module at %v", corner, at)
				}
			}
		}
		if strings.Contains(svg, moduleAt(corner[0]+1, corner[1]+1)) {
			t.Errorf("the finder at %v has no white ring", corner)
		}
	}
}

func moduleAt(x, y int) string { return "M" + address.Number(x) + " " + address.Number(y) + "h1" }

// TestTrustPageLooks at it on a phone.
func TestTrustPageLooks(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	at, _, _ := overHTTPS(t, Options{})
	w := window(t, oneBrowser(t), "http://"+at)
	w.look(390, 844, false)
	w.do("/trust", chromedp.Navigate(w.home+"/trust"))
	w.accessible("/trust", 390)
	w.picture("trust")
	for _, fault := range w.complaints() {
		t.Error(fault)
	}
}
