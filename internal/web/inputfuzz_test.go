package web

import (
	"net/url"
	"strings"
	"testing"
	"time"

	"hopperful/internal/say"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/sheets"
)

// FuzzLocalPath: what a link may lead to stays on this server, whatever is asked for.
func FuzzLocalPath(f *testing.F) {
	for _, s := range []string{"/stock", "//x.example", `/\x.example`, "https://x.example", "/a\nb", "/a%2f%2fb?x=1#y", "", "\t//x"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, wanted string) {
		got := address.Local(wanted, "/else")
		u, err := url.Parse(got)
		if err != nil || u.IsAbs() || u.Host != "" || !strings.HasPrefix(got, "/") || strings.HasPrefix(got, "//") || strings.HasPrefix(got, `/\`) || strings.ContainsAny(got, "\r\n\t") {
			t.Errorf("%q leads to %q (%v)", wanted, got, err)
		}
	})
}

// FuzzMoment: a date and time is read within its years, or refused at its field.
func FuzzMoment(f *testing.F) {
	for _, s := range []string{"2026-11-25T16:40", "2026-11-25T16:40:01", "2026-11-25 16:40", "", "tomorrow", "2026-13-45T99:99"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, typed string) {
		in := forms.NewInput(say.For(), url.Values{"at": {typed}})
		at := in.Moment(time.UTC)
		if at.IsZero() && strings.TrimSpace(typed) != "" && in.Wrong["at"].Say == "" && !strings.HasPrefix(strings.TrimSpace(typed), "0001-01-01") {
			t.Errorf("%q is neither read nor refused", typed)
		}
	})
}

// FuzzLevels: what a meter showed at some levels, and lists of quantities.
func FuzzLevels(f *testing.F) {
	for _, s := range []string{"3: 420 W", "level 3 = 0.42 kW; 5: 610W", "3:", "x", "999: 1e309 W", "3: 420 W\n3: 420 W"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, typed string) {
		got, err := forms.ParseLevels(typed)
		list, _ := got.([]any)
		for _, e := range list {
			m := e.(map[string]any)
			if n := m["level"].(int); err == nil && (n < 0 || n > 999) {
				t.Errorf("%q has level %d", typed, n)
			}
			if w := m["w"].(float64); w != w {
				t.Errorf("%q has no number of watts", typed)
			}
		}
	})
}

// FuzzSheet fills every field of the sheets that read lists, colours and curves
// with one text; what comes out is a body or a refusal at a field.
func FuzzSheet(f *testing.F) {
	for _, s := range hostile {
		f.Add(s)
	}
	f.Add("3: 420 W")
	f.Add("#aabbcc")
	f.Add("400 0.1\n410 0.2")
	b := emptyShop(f, Options{})
	f.Fuzz(func(t *testing.T, typed string) {
		d := &desk.Desk{State: b.store.State(), Say: say.For(), Now: noon, Query: func(string) string { return "" }}
		for _, what := range []string{"mill", "colour", "sieve", "blend", "take-in"} {
			sh := sheets.All[what](d)
			values := url.Values{}
			sh.Fields(func(fd forms.Field) { values.Set(fd.Path, typed) })
			in := forms.NewInput(say.For(), values)
			if body := in.Read(sh, nil); body == nil && len(in.Wrong) == 0 {
				t.Errorf("%s with %q is neither read nor refused", what, typed)
			}
		}
	})
}
