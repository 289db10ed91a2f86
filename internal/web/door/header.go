package door

import (
	"crypto/sha256"
	"encoding/base64"
	"net"
	"net/http"
	"net/netip"
	"strings"

	"hopperful/internal/say"
)

// plotStyle is the one style element that the chart library writes into its
// drawings. It is fixed text, so the policy names its hash and still refuses
// every other inline style.
const plotStyle = `:where(.plot) {
  --plot-background: white;
  display: block;
  height: auto;
  height: intrinsic;
  max-width: 100%;
}
:where(.plot text),
:where(.plot tspan) {
  white-space: pre;
}`

// contentPolicy lets a page load only what this program serves.
var contentPolicy = func() string {
	sum := sha256.Sum256([]byte(plotStyle))
	return "default-src 'self'; script-src 'self'; " +
		"style-src 'self' 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'; " +
		"img-src 'self' blob:; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
}()

// Secured sets the headers every answer carries.
func Secured(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", contentPolicy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("X-Frame-Options", "DENY")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Permissions-Policy", "camera=(), microphone=(), geolocation=()")
		next.ServeHTTP(w, r)
	})
}

// embedding are the places of a page that another page is loaded into.
var embedding = map[string]bool{"iframe": true, "frame": true, "object": true, "embed": true, "fencedframe": true}

// ForeignPartsRefused turns away what another site's page asks for by itself:
// pictures, scripts, frames and fetches from here, each of which could make the
// program reckon. A link that a person follows is let in. The headers are those of
// Fetch Metadata Request Headers, W3C working draft; browsers set them, pages cannot.
func ForeignPartsRefused(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		site, mode, dest := r.Header.Get("Sec-Fetch-Site"), r.Header.Get("Sec-Fetch-Mode"), r.Header.Get("Sec-Fetch-Dest")
		foreign := site == "cross-site" || site == "same-site"
		if foreign && (mode != "navigate" || embedding[dest]) {
			http.Error(w, spoken(r).Line("api.foreign_page"), http.StatusForbidden)
			return
		}
		next.ServeHTTP(w, r)
	})
}

// HostChecked refuses names that are not this server's, so that a foreign page
// cannot reach it by pointing its own name here (DNS rebinding). A plain
// address cannot be rebound and is always served.
func HostChecked(names []string, next http.Handler) http.Handler {
	known := map[string]bool{"localhost": true}
	for _, n := range names {
		known[strings.ToLower(strings.TrimSuffix(n, "."))] = true
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		host := r.Host
		if h, _, err := net.SplitHostPort(host); err == nil {
			host = h
		}
		host = strings.ToLower(strings.TrimSuffix(strings.Trim(host, "[]"), "."))
		if _, err := netip.ParseAddr(host); err != nil && !known[host] {
			http.Error(w, spoken(r).Line("api.unknown_name"), http.StatusMisdirectedRequest)
			return
		}
		next.ServeHTTP(w, r)
	})
}

// spoken is the language of the browser: no shop is asked before a stranger is let in.
func spoken(r *http.Request) *say.Printer { return say.For(r.Header.Get("Accept-Language")) }
