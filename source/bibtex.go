package source

import (
	"fmt"
	"strings"
)

// parse reads the plain subset of BibTeX we write ourselves: "@kind{key," then
// one "name = {value}," a line, then "}". A line that fits none is an error
// that names file and line.
func parse(name, text string) ([]Entry, error) {
	var entries []Entry
	var open *Entry
	for i, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		fail := func(what string) error { return fmt.Errorf("%s:%d: %s: %q", name, i+1, what, line) }
		switch {
		case line == "" || strings.HasPrefix(line, "%"):
		case strings.HasPrefix(line, "@"):
			kind, key, ok := strings.Cut(strings.TrimPrefix(line, "@"), "{")
			if !ok || open != nil {
				return nil, fail("an entry starts inside another or without {")
			}
			open = &Entry{Kind: kind, Key: strings.TrimSuffix(key, ","), Fields: map[string]string{}}
		case line == "}":
			if open == nil {
				return nil, fail("a closing brace without an entry")
			}
			for _, must := range []string{"author", "title", "year"} {
				if open.Fields[must] == "" {
					return nil, fail("entry " + open.Key + " lacks " + must)
				}
			}
			entries = append(entries, *open)
			open = nil
		default:
			field, value, ok := strings.Cut(line, "=")
			value = strings.TrimSuffix(strings.TrimSpace(value), ",")
			if !ok || open == nil || !strings.HasPrefix(value, "{") || !strings.HasSuffix(value, "}") {
				return nil, fail("not a field")
			}
			open.Fields[strings.ToLower(strings.TrimSpace(field))] = value[1 : len(value)-1]
		}
	}
	if open != nil {
		return nil, fmt.Errorf("%s: entry %s is not closed", name, open.Key)
	}
	return entries, nil
}
