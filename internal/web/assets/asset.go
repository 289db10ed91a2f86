package assets

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"slices"
	"strings"
	"sync"
)

// Files are the assets as they lie here.
//
//go:embed *.js *.svg css fonts vendor
var Files embed.FS

// asset is one file the pages are drawn with, and a tag that changes with it.
type asset struct {
	Content []byte
	Kind    string
	Tag     string
}

// All holds every embedded file by its address under /assets/. The parts of
// the style sheet, split for the reader, are served as one.
var All = sync.OnceValue(func() map[string]asset {
	all := map[string]asset{}
	var css []byte
	err := fs.WalkDir(Files, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		content, err := Files.ReadFile(name)
		if path.Dir(name) == "css" {
			css = append(css, content...) // in the order of their names
			return err
		}
		all[name] = newAsset(name, content)
		return err
	})
	if err != nil {
		panic(err) // only a broken build can bring this about
	}
	all["app.css"] = newAsset("app.css", css)
	return all
})

func newAsset(name string, content []byte) asset {
	kind := mime.TypeByExtension(path.Ext(name))
	switch path.Ext(name) { // the machine's own table of types is not to be trusted
	case ".woff2":
		kind = "font/woff2"
	case ".js":
		kind = "text/javascript; charset=utf-8"
	case ".css":
		kind = "text/css; charset=utf-8"
	case ".txt":
		kind = "text/plain; charset=utf-8"
	case ".svg":
		kind = "image/svg+xml"
	}
	sum := sha256.Sum256(content)
	return asset{Content: content, Kind: kind, Tag: hex.EncodeToString(sum[:8])}
}

// Path is the address of an asset with its tag, so that a browser may keep
// it for good and still sees a new one at once.
func Path(name string) string {
	a, ok := All()[name]
	if !ok {
		panic("no asset " + name) // a slip in a template, found by the first test that renders it
	}
	return "/assets/" + name + "?v=" + a.Tag
}

// Serve sends an asset, to be kept for good when its address carries the tag.
func Serve(w http.ResponseWriter, r *http.Request) {
	a, ok := All()[strings.TrimPrefix(r.URL.Path, "/assets/")]
	if !ok {
		http.NotFound(w, r)
		return
	}
	h := w.Header()
	h.Set("Content-Type", a.Kind)
	h.Set("ETag", `"`+a.Tag+`"`)
	h.Set("Cache-Control", "no-cache")
	if r.URL.Query().Get("v") == a.Tag || a.Kind == "font/woff2" {
		h.Set("Cache-Control", "public, max-age=31536000, immutable")
	}
	if slices.Contains(r.Header["If-None-Match"], `"`+a.Tag+`"`) {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	w.Write(a.Content)
}
