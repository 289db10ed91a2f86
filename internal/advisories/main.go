// Command advisories lays a folder of known vulnerabilities (one OSV document a file) out
// as the database govulncheck reads from a disk, so that it needs no network:
//
//	go run ./internal/advisories FROM TO
package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

func main() {
	if len(os.Args) != 3 {
		fmt.Fprintln(os.Stderr, "usage: advisories FROM TO")
		os.Exit(2)
	}
	n, err := layOut(os.Args[1], os.Args[2])
	if err != nil {
		fmt.Fprintln(os.Stderr, "advisories:", err)
		os.Exit(1)
	}
	fmt.Printf("%d known vulnerabilities\n", n)
}

// document is what is read of an OSV document (ossf.github.io/osv-schema, 1.3.1).
type document struct {
	ID       string    `json:"id"`
	Modified time.Time `json:"modified"`
	Affected []struct {
		Package struct {
			Name string `json:"name"`
		} `json:"package"`
		Ranges []struct {
			Events []struct {
				Fixed string `json:"fixed"`
			} `json:"events"`
		} `json:"ranges"`
	} `json:"affected"`
}

// entry is a vulnerability of a module, as the index lists it.
type entry struct {
	ID       string    `json:"id"`
	Modified time.Time `json:"modified"`
	Fixed    string    `json:"fixed,omitempty"`
}

type indexed struct {
	Path  string  `json:"path"`
	Vulns []entry `json:"vulns"`
}

var errEmpty = errors.New("no documents")

// layOut writes the database and returns how many vulnerabilities it knows.
func layOut(from, to string) (int, error) {
	files, err := filepath.Glob(filepath.Join(from, "*.json"))
	if err != nil {
		return 0, err
	}
	if len(files) == 0 {
		return 0, fmt.Errorf("%w in %s", errEmpty, from)
	}
	for _, folder := range []string{"ID", "index"} {
		if err := os.MkdirAll(filepath.Join(to, folder), 0o755); err != nil {
			return 0, err
		}
	}
	modules := map[string][]entry{}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			return 0, err
		}
		var d document
		if err := json.Unmarshal(text, &d); err != nil {
			return 0, fmt.Errorf("%s: %w", file, err)
		}
		for _, a := range d.Affected {
			e := entry{ID: d.ID, Modified: d.Modified}
			for _, r := range a.Ranges {
				for _, v := range r.Events {
					if v.Fixed != "" {
						e.Fixed = v.Fixed // the newest stands last
					}
				}
			}
			modules[a.Package.Name] = append(modules[a.Package.Name], e)
		}
		if err := os.WriteFile(filepath.Join(to, "ID", d.ID+".json"), text, 0o644); err != nil {
			return 0, err
		}
	}
	return len(files), writeIndex(modules, filepath.Join(to, "index"))
}

// writeIndex writes which module has which vulnerability.
func writeIndex(modules map[string][]entry, folder string) error {
	var all []indexed
	var newest time.Time
	for path, vulns := range modules {
		all = append(all, indexed{path, vulns})
		for _, v := range vulns {
			if v.Modified.After(newest) {
				newest = v.Modified
			}
		}
	}
	slices.SortFunc(all, func(a, b indexed) int { return strings.Compare(a.Path, b.Path) })
	for name, content := range map[string]any{"modules.json": all, "db.json": struct {
		Modified time.Time `json:"modified"`
	}{newest}} {
		text, err := json.Marshal(content)
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(folder, name), text, 0o644); err != nil {
			return err
		}
	}
	return nil
}
