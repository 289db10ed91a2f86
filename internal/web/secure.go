package web

import (
	"crypto/tls"
	"fmt"
	"image/color"
	"net"
	"net/http"
	"strings"

	"github.com/boombuler/barcode/qr"

	"hopperful/internal/trust"
	"hopperful/internal/web/assets"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/door"
	"hopperful/internal/web/site"
)

// Secure is how HTTPS is spoken. At the same port a plain caller is only shown how to
// trust the shop, and led to HTTPS for all else.
type Secure struct {
	TLS         *tls.Config
	Certificate []byte          // of the shop's own authority, DER; nil: the user's own certificate
	Fingerprint string          // of that
	Addresses   func() []string // HOST:PORT the pages are reached by, the likeliest first
}

// splitOff serves plain callers beside the encrypted ones, and returns the listener of
// these; it ends with it.
func (s *server) splitOff(l net.Listener, o Options) net.Listener {
	secure, plain := trust.Split(l, o.Secure.TLS)
	srv := &http.Server{Handler: s.plainly(o), ReadHeaderTimeout: headTime, ReadTimeout: headTime, IdleTimeout: idleTime, MaxHeaderBytes: mostHead}
	go srv.Serve(plain) // ends when the other half is closed
	return secure
}

// plainly answers callers that do not talk TLS.
func (s *server) plainly(o Options) http.Handler {
	mux := http.NewServeMux()
	s.routeTrust(mux)
	mux.HandleFunc("GET /assets/", assets.Serve)
	mux.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) {
		http.Redirect(w, r, "https://"+r.Host+r.URL.RequestURI(), http.StatusTemporaryRedirect) // another day it may be served plainly
	})
	return s.Logged(s.Recovered(door.HostChecked(o.Hosts, door.Secured(mux))))
}

// routeTrust lists the addresses that take a phone through trusting the shop.
func (s *server) routeTrust(mux *http.ServeMux) {
	mux.HandleFunc("GET /trust", s.showTrust)
	mux.HandleFunc("GET /trust/authority.crt", s.showAuthority)
	mux.HandleFunc("GET /trust/code.svg", s.showTrustCode)
}

// trustView is the page.
type trustView struct {
	None        bool   // HTTPS is not spoken
	Own         bool   // with the user's own certificate
	Address     string // for the phone, plain; "" where no phone reaches it
	Secure      string // where the pages are
	Fingerprint string
}

func (s *server) showTrust(w http.ResponseWriter, r *http.Request) {
	v := trustView{None: s.secure == nil}
	if s.secure != nil {
		v.Own, v.Fingerprint, v.Secure = s.secure.Certificate == nil, s.secure.Fingerprint, "https://"+r.Host+"/"
		if at := s.phoneAddress(); at != "" {
			v.Address = "http://" + at + "/trust"
		}
	}
	s.Render(w, r, http.StatusOK, "trust", site.View{Title: desk.Speaks(r, s.Store.State()).Line("page.trust_title"), Bare: true, Body: v})
}

// phoneAddress is the likeliest address that a phone reaches, "" for none.
func (s *server) phoneAddress() string {
	if s.secure == nil {
		return ""
	}
	for _, at := range s.secure.Addresses() {
		host, _, err := net.SplitHostPort(at)
		if ip := net.ParseIP(host); err == nil && host != "localhost" && (ip == nil || !ip.IsLoopback()) {
			return at
		}
	}
	return ""
}

func (s *server) showAuthority(w http.ResponseWriter, r *http.Request) {
	if s.secure == nil || s.secure.Certificate == nil {
		s.ShowMissing(w, r)
		return
	}
	h := w.Header()
	h.Set("Content-Type", "application/x-x509-ca-cert")
	h.Set("Content-Disposition", `attachment; filename="hopperful-authority.crt"`)
	h.Set("Cache-Control", "no-store")
	w.Write(s.secure.Certificate)
}

// showTrustCode draws the address of the page as a QR code.
func (s *server) showTrustCode(w http.ResponseWriter, r *http.Request) {
	at := s.phoneAddress()
	if at == "" {
		s.ShowMissing(w, r)
		return
	}
	text, err := codeOf("http://" + at + "/trust")
	if err != nil {
		s.FailWith(w, r, err)
		return
	}
	w.Header().Set("Content-Type", "image/svg+xml")
	w.Header().Set("Cache-Control", "no-store")
	fmt.Fprint(w, text)
}

// quietZone is the white that a reader needs around a code [modules] (ISO/IEC 18004).
const quietZone = 4

// codeOf draws a text as a QR code: black on white whatever the page's light, since
// readers want it so.
func codeOf(text string) (string, error) {
	code, err := qr.Encode(text, qr.M, qr.Auto)
	if err != nil {
		return "", err
	}
	var b strings.Builder
	wide := code.Bounds().Dx()
	size := wide + 2*quietZone
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" shape-rendering="crispEdges"><path fill="#fff" d="M0 0h%dv%dH0z"/><path d="`, size, size, size, size)
	for y := range wide {
		for x := range wide {
			if code.At(x, y) == color.Black {
				fmt.Fprintf(&b, "M%d %dh1v1h-1z", x+quietZone, y+quietZone)
			}
		}
	}
	b.WriteString(`"/></svg>`)
	return b.String(), nil
}
