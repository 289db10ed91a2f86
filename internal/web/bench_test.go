package web

import (
	"net/http"
	"net/http/httptest"
	"testing"
)

// BenchmarkPage draws each kind of page of the invented shop. The aim is under
// 100 ms a page on a workshop's old computer; the plan's page is measured with
// the plan reckoned already, as package plan measures the reckoning.
func BenchmarkPage(b *testing.B) {
	s := plannedShop(b, Options{})
	for _, p := range shown {
		s.get(p.path)
		b.Run(p.name, func(b *testing.B) {
			for b.Loop() {
				w := httptest.NewRecorder()
				r := httptest.NewRequest("GET", p.path, nil)
				r.Host = "localhost"
				s.pages.ServeHTTP(w, r)
				if w.Code != http.StatusOK {
					b.Fatalf("%s answers %d", p.path, w.Code)
				}
			}
		})
	}
}
