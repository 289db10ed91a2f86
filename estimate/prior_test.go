package estimate

import "testing"

func TestEveryParameterHasAPrior(t *testing.T) {
	t.Parallel()
	keys := map[string]bool{}
	all := Prior()
	for p, b := range all.List() {
		if b.Key == "" {
			t.Errorf("parameter %d has no prior", p)
			continue
		}
		if keys[b.Key] {
			t.Errorf("key %s stands twice", b.Key)
		}
		keys[b.Key] = true
		if err := b.Check(); err != nil {
			t.Error(err)
		}
	}
}
