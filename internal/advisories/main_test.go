package main

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
)

func TestLayOut(t *testing.T) {
	t.Parallel()
	from, to := t.TempDir(), t.TempDir()
	if _, err := layOut(from, to); !errors.Is(err, errEmpty) {
		t.Errorf("an empty folder: %v", err)
	}
	put := func(name, text string) {
		if err := os.WriteFile(filepath.Join(from, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	put("GO-1.json", `{"id":"GO-1","modified":"2026-01-02T00:00:00Z","affected":[
		{"package":{"name":"stdlib"},"ranges":[{"events":[{"introduced":"0"},{"fixed":"1.26.9"},{"introduced":"1.27.0"},{"fixed":"1.27.1"}]}]},
		{"package":{"name":"example.org/a"},"ranges":[{"events":[{"introduced":"0"}]}]}]}`)
	put("GO-2.json", `{"id":"GO-2","modified":"2026-03-02T00:00:00Z","affected":[{"package":{"name":"stdlib"}}]}`)
	if n, err := layOut(from, to); err != nil || n != 2 {
		t.Fatalf("%d, %v", n, err)
	}
	for name, want := range map[string]string{
		"index/modules.json": `[{"path":"example.org/a","vulns":[{"id":"GO-1","modified":"2026-01-02T00:00:00Z"}]},` +
			`{"path":"stdlib","vulns":[{"id":"GO-1","modified":"2026-01-02T00:00:00Z","fixed":"1.27.1"},{"id":"GO-2","modified":"2026-03-02T00:00:00Z"}]}]`,
		"index/db.json": `{"modified":"2026-03-02T00:00:00Z"}`,
	} {
		if got, err := os.ReadFile(filepath.Join(to, name)); err != nil || string(got) != want {
			t.Errorf("%s: %v\ngot    %s\nwanted %s", name, err, got, want)
		}
	}
	if _, err := os.Stat(filepath.Join(to, "ID", "GO-2.json")); err != nil {
		t.Error(err)
	}
	put("GO-3.json", "{")
	if _, err := layOut(from, to); err == nil {
		t.Error("a broken document was taken")
	}
}
