package pdf

import "testing"

// The codes of Windows Latin are those of its table (Annex D of ISO 32000-1, from memory).
func TestLatinKeepsWhatReadersHave(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{"a (b) \\": `a \(b\) \\`, "1–2 − 3": "1\x962 \x96 3", "it’s…": "it\x92s\x85", "5\u202fg": "5 g", "µ": "\xb5", "日": "?"} {
		if got := Latin(text); got != want {
			t.Errorf("%q is written %q, wanted %q", text, got, want)
		}
	}
}
