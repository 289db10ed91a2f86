package door

import (
	"bytes"
	"compress/gzip"
	"net/http"
	"strconv"
	"strings"
	"sync"
)

// leastPacked is the length from which packing pays: below it an answer is one
// packet anyway.
const leastPacked = 1400

// packers are kept for the next answer: one takes 1.4 MB.
var packers = sync.Pool{New: func() any {
	z, err := gzip.NewWriterLevel(nil, gzip.BestSpeed)
	if err != nil {
		panic(err) // the level is a constant
	}
	return z
}}

// Packed sends texts compressed to browsers that read it, which all do: a page
// over a poor radio link then takes a sixth of the time. No page holds a secret
// beside what a stranger could choose to put there, so that its length tells nothing.
func Packed(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Add("Vary", "Accept-Encoding")
		if r.Method == http.MethodHead || !ReadsGzip(r.Header.Get("Accept-Encoding")) {
			next.ServeHTTP(w, r)
			return
		}
		p := &packing{ResponseWriter: w}
		defer p.close()
		next.ServeHTTP(p, r)
	})
}

// MayPack says whether an answer of that length and kind is worth packing.
func MayPack(length int, kind string) bool { return length >= leastPacked && packs(kind) }

// Pack is a whole answer packed, for many readers.
func Pack(body []byte) []byte {
	var b bytes.Buffer
	z := packers.Get().(*gzip.Writer)
	defer packers.Put(z)
	z.Reset(&b)
	_, _ = z.Write(body) // a buffer takes all
	_ = z.Close()
	return b.Bytes()
}

// ReadsGzip says whether a list of encodings has gzip, and not at a weight of none
// (RFC 9110, section 12.5.3).
func ReadsGzip(accept string) bool {
	for part := range strings.SplitSeq(accept, ",") {
		coding, weight, _ := strings.Cut(strings.TrimSpace(part), ";")
		if !strings.EqualFold(strings.TrimSpace(coding), "gzip") {
			continue
		}
		q, has := strings.CutPrefix(strings.ReplaceAll(weight, " ", ""), "q=")
		v, err := strconv.ParseFloat(q, 64)
		return !has || err == nil && v > 0
	}
	return false
}

// packing Packs an answer when its head says that it is a text.
type packing struct {
	http.ResponseWriter
	z      *gzip.Writer // nil: as it is
	headed bool
}

// WriteHeader decides by the head.
func (p *packing) WriteHeader(status int) {
	h := p.Header()
	if !p.headed && status >= 200 {
		p.headed = true
		length, err := strconv.Atoi(h.Get("Content-Length"))
		small := err == nil && length < leastPacked
		if packs(h.Get("Content-Type")) && !small && h.Get("Content-Encoding") == "" && status != http.StatusNoContent && status != http.StatusNotModified {
			h.Del("Content-Length")
			h.Set("Content-Encoding", "gzip")
			p.z = packers.Get().(*gzip.Writer)
			p.z.Reset(p.ResponseWriter)
		}
	}
	p.ResponseWriter.WriteHeader(status)
}

// Write writes on.
func (p *packing) Write(b []byte) (int, error) {
	if !p.headed {
		p.WriteHeader(http.StatusOK)
	}
	if p.z != nil {
		return p.z.Write(b)
	}
	return p.ResponseWriter.Write(b)
}

// Unwrap lets http.ResponseController reach the connection, to flush events.
func (p *packing) Unwrap() http.ResponseWriter { return p.ResponseWriter }

func (p *packing) close() {
	if p.z == nil {
		return
	}
	_ = p.z.Close() // an error here means the reader has gone
	p.z.Reset(nil)
	packers.Put(p.z)
}

// packs says whether a kind of content is a text worth packing. A line of events
// is not: each must go out at once.
func packs(kind string) bool {
	kind, _, _ = strings.Cut(kind, ";")
	switch kind {
	case "text/html", "text/css", "text/javascript", "text/csv", "text/plain", "application/json", "image/svg+xml":
		return true
	}
	return false
}
