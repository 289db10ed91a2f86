package web

import (
	"compress/gzip"
	"io"
	"net/http"
	"net/http/httptest"
	"regexp"
	"strconv"
	"testing"

	"hopperful/internal/web/assets"
	"hopperful/internal/web/door"
)

// anew is what a page says otherwise each time: the key of a form sent once.
var anew = regexp.MustCompile(`name="key" value="[^"]*"`)

// TestWhatIsSentIsPacked: a page is the same unpacked, and much shorter on the way.
func TestWhatIsSentIsPacked(t *testing.T) {
	t.Parallel()
	b := shopToLookAt(t)
	for _, path := range []string{"/", "/stock", "/records", assets.Path("app.css"), "/nowhere", "/plan/vase"} {
		plain := b.get(path)
		r := httptest.NewRequest("GET", path, nil)
		r.Header.Set("Accept-Encoding", "br;q=1.0, gzip;q=0.8")
		w := b.ask(r)
		if w.Header().Get("Content-Encoding") != "gzip" || w.Header().Get("Content-Length") != "" && w.Header().Get("Content-Length") != strconv.Itoa(w.Body.Len()) || w.Header().Get("Vary") == "" || w.Code != plain.Code {
			t.Errorf("%s: %d, %v", path, w.Code, w.Header())
			continue
		}
		short := w.Body.Len()
		z, err := gzip.NewReader(w.Body)
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(z)
		if err != nil || anew.ReplaceAllString(string(text), "") != anew.ReplaceAllString(plain.Body.String(), "") {
			t.Errorf("%s is not the same unpacked: %v", path, err)
		}
		if 2*short > len(text) {
			t.Errorf("%s: %d bytes are sent for %d", path, short, len(text))
		}
		t.Logf("%s: %d bytes for %d", path, short, len(text))
	}
}

// TestWhatIsNotPacked: for who does not read it, small answers, pictures, events.
func TestWhatIsNotPacked(t *testing.T) {
	t.Parallel()
	for accept, want := range map[string]bool{"gzip": true, "GZIP": true, "gzip;q=0": false, "br": false, "": false, "deflate, gzip ; q=0.5": true, "gzip;q=x": false} {
		if door.ReadsGzip(accept) != want {
			t.Errorf("%q: %v", accept, !want)
		}
	}
	for kind, length := range map[string]string{"text/html; charset=utf-8": "100", "image/png": "50000", "text/event-stream": "", "font/woff2": "20000"} {
		h := door.Packed(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
			w.Header().Set("Content-Type", kind)
			if length != "" {
				w.Header().Set("Content-Length", length)
			}
			io.WriteString(w, "x")
		}))
		r := httptest.NewRequest("GET", "/", nil)
		r.Header.Set("Accept-Encoding", "gzip")
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		if w.Header().Get("Content-Encoding") != "" || w.Body.String() != "x" {
			t.Errorf("%s of %s bytes is packed", kind, length)
		}
	}
}
