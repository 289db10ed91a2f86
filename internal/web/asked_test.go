package web

import (
	"slices"
	"testing"

	"hopperful/internal/say"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/sheets"
	"hopperful/shop/fields"
)

// A page asks every field of a record in the table, and nothing else: what one
// edge can say the other can. The flags are held in internal/cli.
func TestAPageAsksWhatTheTableHas(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	d := &desk.Desk{State: b.store.State(), Say: say.For(), Now: noon, Query: answers("of", "Rattle").Get} // a change may mean more than a first description
	for _, kind := range fields.Kinds() {
		sh, ok := sheets.OfKind(d, kind)
		if !ok {
			t.Errorf("no page asks for %s", kind)
			continue
		}
		var asked, want []string
		sh.Fields(func(f forms.Field) {
			asked = append(asked, f.Path)
			if in, ok := fields.Find(kind, f.Path); ok && in.Numeric() && (f.Kind != in.Kind || f.Unit != in.Unit) {
				t.Errorf("%s asks %s in %v %s", kind, f.Path, f.Kind, f.Unit)
			}
		})
		for _, f := range fields.Of(kind) {
			want = append(want, f.Path)
		}
		slices.Sort(asked)
		slices.Sort(want)
		if !slices.Equal(asked, want) {
			t.Errorf("%s: the page asks %v, the table has %v", kind, asked, want)
		}
	}
}
