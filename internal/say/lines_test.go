package say

import (
	"encoding/json"
	"path"
	"strings"
	"testing"

	"golang.org/x/text/language"
)

// What is cut out of the files and read when it is said is what an ordinary reader of JSON
// finds in them.
func TestLinesAreThoseOfTheFiles(t *testing.T) {
	t.Parallel()
	for _, tag := range languages {
		l, err := linesOf(tag)
		if err != nil {
			t.Fatal(err)
		}
		all := 0
		entries, err := files.ReadDir("words")
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range entries {
			if !strings.HasSuffix(e.Name(), "."+tag.String()+".json") {
				continue
			}
			text, err := files.ReadFile(path.Join("words", e.Name()))
			if err != nil {
				t.Fatal(err)
			}
			want := map[string]any{}
			if err := json.Unmarshal(text, &want); err != nil {
				t.Fatal(err)
			}
			all += len(want)
			for code, w := range want {
				m := l.line(code)
				one, other := "", ""
				switch w := w.(type) {
				case string:
					other = w
				case map[string]any:
					one, other = w["one"].(string), w["other"].(string)
				}
				if m.One != one || m.Other != other || other == "" {
					t.Errorf("%s in %s reads %q and %q, not %q and %q", code, tag, m.One, m.Other, one, other)
				}
			}
		}
		if len(l.raw) != all || all < 1000 {
			t.Errorf("%d lines in %s, %d in the files", len(l.raw), tag, all)
		}
	}
}

// A file that cannot be cut into lines is no catalogue, nor are two lines of one code.
func TestABrokenFileOfWordsIsRefused(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		`{"a": "b", "c": {"one": "}\"", "other": "\\\\"}}`: "", ` { "a" : "b" } `: "",
		``: "cannot be read", `{`: "cannot be read", `{"a": "b"`: "cannot be read", `{"a": "b",}`: "cannot be read", `{"a" "b"}`: "cannot be read",
		`{"a": 1}`: "cannot be read", `{"a": "b" "c": "d"}`: "cannot be read", `{"a": "b\"}`: "cannot be read", `{"a": {"one": "b"}`: "cannot be read",
		`{"a": "b", "a": "c"}`: "a has a line already", `{"a\"": "b"}`: "cannot be read", `{"a": "b"} more`: "cannot be read",
	} {
		err := cut(text, map[string]string{})
		if (err == nil) != (want == "") || err != nil && !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, wanted %q", text, err, want)
		}
	}
}

// A code that nobody wrote a line for is not kept, whoever asks for it.
func TestACodeWithoutALineIsNotKept(t *testing.T) {
	t.Parallel()
	l, err := linesOf(language.English)
	if err != nil {
		t.Fatal(err)
	}
	if m := l.line("nobody.wrote_this"); m.Other != "" {
		t.Errorf("it says %q", m.Other)
	}
	l.read.Range(func(code, _ any) bool { t.Errorf("%v is kept", code); return true })
}
