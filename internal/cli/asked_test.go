package cli

import (
	"slices"
	"testing"
	"time"

	"github.com/spf13/pflag"

	"hopperful/shop/fields"
)

// A command has a flag for every field of its record in the table, of its kind and
// with its words, and no other but those every record has. The pages are held in
// internal/web.
func TestACommandAsksWhatTheTableHas(t *testing.T) {
	t.Parallel()
	root := rootCommand(&Env{Now: time.Now})
	for kind, words := range map[string][]string{"ground": {"record", "ground"}, "taken_in": {"take-in"}, "mill_set": {"machines", "set", "mill"}} {
		c, _, err := root.Find(words)
		if err != nil {
			t.Fatal(err)
		}
		var have, want []string
		c.LocalNonPersistentFlags().VisitAll(func(f *pflag.Flag) {
			if !slices.Contains([]string{"at", "by", "note", "corrects", "shop", "help", "json"}, f.Name) {
				have = append(have, f.Name)
			}
		})
		for _, f := range fields.Of(kind) {
			if f.Flag == "" { // a word of the command
				continue
			}
			want = append(want, f.Flag)
			if flag := c.Flags().Lookup(f.Flag); flag != nil && flag.Usage != f.Usage {
				t.Errorf("--%s of %s says %q, the table %q", f.Flag, kind, flag.Usage, f.Usage)
			}
		}
		slices.Sort(have)
		slices.Sort(want)
		if !slices.Equal(have, want) {
			t.Errorf("%s: the command has %v, the table %v", kind, have, want)
		}
	}
}
