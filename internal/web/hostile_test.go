package web

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"hopperful/internal/say"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/sheets"
	"hopperful/plan/reckon"
)

// hostile are answers nobody means well with, or that slipped from a keyboard.
var hostile = []string{"1e400", "NaN", "-1", "0", "\x00", "\xff\xfe", strings.Repeat("9", 5000), `"><script>alert(1)</script>`, "{{.}}", "../../x",
	"0x1p-2", "1,2,3", "١٢٣", "--", "S1", "S0", "yes", "😀 kg", "1 kg 1 kg", "javascript:alert(1)", "2026-13-45T99:99", "; DROP TABLE record"}

// TestHostileAnswersAreAnswered fills every field of every sheet with each of
// them. Whatever comes back, it is no failure, and nothing typed comes back as
// markup.
func TestHostileAnswersAreAnswered(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	b, sieved := sievedShop(t)
	for what, make := range sheets.All {
		for _, bad := range hostile {
			form := url.Values{"at": {bad}, "by": {bad}, "note": {bad}, "next": {bad}}
			make(&desk.Desk{State: b.store.State(), Say: say.For(), Now: noon, Query: form.Get}).Fields(func(f forms.Field) { form.Set(f.Path, bad) })
			w := b.post("/record/"+what, form)
			if w.Code != http.StatusSeeOther && w.Code != http.StatusUnprocessableEntity {
				t.Errorf("%s with %.20q answers %d", what, bad, w.Code)
			}
			if strings.Contains(w.Body.String(), "<script>alert") || strings.Contains(w.Body.String(), "ZgotmplZ") {
				t.Errorf("%s gives %.20q back as markup", what, bad)
			}
			if to := w.Header().Get("Location"); to != "" && (!strings.HasPrefix(to, "/") || strings.HasPrefix(to, "//")) {
				t.Errorf("%s with %.20q leads to %s", what, bad, to)
			}
		}
	}
	for i, bad := range hostile {
		for _, path := range []string{"/stock/", "/records/", "/plan/", "/materials/", "/record/", "/start/", "/plan/x/", "/plan/vase/", "/stock/R1/sieve/", sieved + "/", "/machines/Rattle/learn/",
			"/identify/", "/fit/", "/fit/R1/", "/dry/", "/dry/R1/", "/reckon/", "/reckon/air/"} {
			if w := b.get(path + url.PathEscape(bad)); w.Code >= 500 {
				t.Errorf("%s%.20q answers %d", path, bad, w.Code)
			}
		}
		for _, topic := range []string{"drying", "screw", "grinding", "weighing", "scrap-colour", "concentrate", "loop"} {
			q := url.Values{}
			t, err := reckon.TopicOf(topic)
			for _, in := range t.Inputs {
				q.Set(in.Key, bad)
			}
			if w := b.get("/reckon/" + topic + "?" + q.Encode()); err != nil || w.Code >= 500 || strings.Contains(w.Body.String(), "<script>alert") {
				b.t.Errorf("/reckon/%s with %.20q answers %d (%v)", topic, bad, w.Code, err)
			}
		}
		for j, key := range []string{"lot", "found", "skip", "chlorine", "solid", "label", "liquid", "strength", "density", "temperature", "metal", "mass", "volume", "scale", "answer", "back",
			"host", "stray", "pieces", "wrong", "in", "floated", "sank", "piece"} {
			paths := []string{"/identify/S7?add=floats&liquid=brine&chip=yes", "/identify/S7?add=sticks", "/identify/S7?add=weighed&volume=3&whole=yes", "/identify/liquid?liquid=brine", "/identify/mixed?host=PLA&stray=PETG&pieces=9"}
			path := paths[(i+j)%len(paths)] // each with each other answer: all of them take too long
			if w := b.get(path + "&" + key + "=" + url.QueryEscape(bad)); w.Code >= 500 || strings.Contains(w.Body.String(), "<script>alert") || strings.Contains(w.Body.String(), "ZgotmplZ") {
				t.Errorf("%s&%s=%.20q answers %d", path, key, bad, w.Code)
			}
			if w := b.post("/identify/S7", url.Values{"found": {"limp70=yes"}, key: {bad}}); w.Code >= 500 || w.Code == http.StatusSeeOther && !strings.HasPrefix(w.Header().Get("Location"), "/stock/") {
				t.Errorf("keeping with %s=%.20q answers %d", key, bad, w.Code)
			}
		}
		for k, path := range []string{"/", "/stock", "/records", "/record/charge", "/record/material", "/record/mill"} {
			together := url.Values{} // all at once, and each by itself with a third of the answers
			for j, query := range []string{"lot", "of", "done", "page", "by", "polymer", "next", "empty"} {
				together.Set(query, bad)
				if (i+j+k)%3 == 0 {
					if w := b.get(path + "?" + query + "=" + url.QueryEscape(bad)); w.Code >= 500 {
						t.Errorf("%s?%s=%.20q answers %d", path, query, bad, w.Code)
					}
				}
			}
			if w := b.get(path + "?" + together.Encode()); w.Code >= 500 {
				t.Errorf("%s with %.20q everywhere answers %d", path, bad, w.Code)
			}
		}
		if i%3 != 0 {
			continue // what takes long to reckon is asked with a third of them
		}
		for _, query := range []string{"series", "own", "openings", "holes", "nozzle_m", "temperature_k", "strength", "printer", "way", "with", "need", "lot"} {
			for _, path := range []string{"/record/sieve", "/fit/R1/four%20planter%20feet", "/dry/R1", "/fit", sieved} {
				if w := b.get(path + "?" + query + "=" + url.QueryEscape(bad)); w.Code >= 500 || strings.Contains(w.Body.String(), "<script>alert") {
					b.t.Errorf("%s?%s=%.20q answers %d", path, query, bad, w.Code)
				}
			}
		}
		if w := b.multipart("/record/sieve/table", "x.csv", []byte(bad), "lot", bad, "table", bad); w.Code >= 500 {
			b.t.Errorf("a table of %.20q answers %d", bad, w.Code)
		}
	}
}
