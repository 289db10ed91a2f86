package web

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"net/http"

	"hopperful/internal/web/assets"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/site"
)

// The worker that keeps the run page for a phone without a network. It is served
// from the root, since a worker may only stand before what lies below its own
// address; and to whoever asks, since it tells nothing.

// shellParts are what the pages kept are drawn with.
var shellParts = []string{"app.css", "live.js", "outbox.js", "keep.js", "run.js", "mark.svg"}

// shellFonts are asked for by the style sheet, without a tag.
var shellFonts = []string{"/assets/fonts/atkinson-latin.woff2", "/assets/fonts/atkinson-latin-ext.woff2", "/assets/fonts/hopperful-signs.woff2"}

// workerPath is the worker's address, and offlinePath that of the page shown where
// nothing is kept of what was asked for.
const (
	workerPath  = "/offline.js"
	offlinePath = "/offline"
)

// serveWorker sends the worker with what it keeps from the start, and a version that
// changes with the program, its language and the shop: one shop's pages are never
// shown for another's.
func (s *server) serveWorker(w http.ResponseWriter, r *http.Request) {
	shell := append([]string{offlinePath}, shellFonts...)
	for _, name := range shellParts {
		shell = append(shell, assets.Path(name))
	}
	worker := assets.All()["worker.js"]
	list, err := json.Marshal(shell)
	if err != nil {
		panic(err) // a list of strings
	}
	sum := sha256.Sum256(fmt.Append(nil, s.version, worker.Tag, desk.Speaks(r, s.Store.State()).Language, s.Store.Path(), string(list)))
	h := w.Header()
	h.Set("Content-Type", worker.Kind)
	h.Set("Cache-Control", "no-cache")
	fmt.Fprintf(w, "const version = %q, shell = %s;\n", hex.EncodeToString(sum[:8]), list)
	w.Write(worker.Content)
}

// showOffline is that page. It says nothing of the shop.
func (s *server) showOffline(w http.ResponseWriter, r *http.Request) {
	say := desk.Speaks(r, s.Store.State())
	s.Render(w, r, http.StatusOK, "offline", site.View{Title: say.Line("page.offline_title"), Bare: true})
}

// forgetDevice has a browser throw away all it keeps of this site: the kept pages, the
// worker, and what was typed (Clear Site Data, W3C working draft, section 3.1).
func forgetDevice(w http.ResponseWriter) {
	w.Header().Set("Clear-Site-Data", `"cache", "storage"`)
}
