package checkrow

import (
	"fmt"
	"strings"
)

// The marks between which a page of docs/models shows the rows of a checks.csv.
const (
	openMark  = "<!-- checks: "
	closeMark = "<!-- end checks -->"
)

// Page returns a page with the tables between its marks filled from the rows
// that read returns for each path named, and the paths. A mark that is not
// closed is an error.
func Page(text string, read func(path string) ([]Row, error)) (filled string, paths []string, err error) {
	var out strings.Builder
	for {
		before, rest, found := strings.Cut(text, openMark)
		out.WriteString(before)
		if !found {
			return out.String(), paths, nil
		}
		path, rest, ok := strings.Cut(rest, " -->")
		if !ok || strings.Contains(path, "\n") {
			return "", nil, fmt.Errorf("the mark %q is not ended by -->", openMark)
		}
		_, after, ok := strings.Cut(rest, closeMark)
		if !ok {
			return "", nil, fmt.Errorf("the rows of %s have no %q", path, closeMark)
		}
		rows, err := read(path)
		if err != nil {
			return "", nil, err
		}
		paths = append(paths, path)
		fmt.Fprintf(&out, "%s%s -->\n%s%s", openMark, path, Table(rows), closeMark)
		text = after
	}
}

// headings of the kinds, as a page shows them apart.
var headings = map[string]string{
	"measurement": "Held against measurements, within their scatter", Missed: "Measurements that are missed", "published": "Numbers that stand in the source",
	"second library": "The same by a second library", "identity": "Laws the result obeys", "own derivation": "Own arithmetic",
	"common practice": "Common practice, no source", "from memory": "From memory",
}

// Table renders rows for a reader: how many rest on what, then each, kinds apart.
func Table(rows []Row) string {
	var out strings.Builder
	fmt.Fprintf(&out, "\n%s\n\n", Count(rows))
	for _, kind := range Kinds {
		first := true
		for _, r := range rows {
			if r.Kind != kind {
				continue
			}
			if first {
				fmt.Fprintf(&out, "**%s**\n\n| case | inputs (SI) | wanted | tolerance | source, place |\n| --- | --- | --- | --- | --- |\n", headings[kind])
				first = false
			}
			from := r.Source
			if r.Place != "" {
				from += ", " + r.Place
			}
			fmt.Fprintf(&out, "| %s | %s | %s | %s | %s |\n", cell(r.Case), cell(r.Inputs), cell(r.Wanted), cell(r.Tolerance), cell(from))
		}
		if !first {
			out.WriteString("\n")
		}
	}
	return out.String()
}

// Count is "12 rows: 5 published, 7 identity.", strongest ground first.
func Count(rows []Row) string {
	if len(rows) == 0 {
		return "No rows."
	}
	by := map[string]int{}
	for _, r := range rows {
		by[r.Kind]++
	}
	var parts []string
	for _, k := range Kinds {
		if by[k] > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", by[k], k))
		}
	}
	noun := "rows"
	if len(rows) == 1 {
		noun = "row"
	}
	return fmt.Sprintf("%d %s: %s.", len(rows), noun, strings.Join(parts, ", "))
}

// cell keeps a text inside its cell of a table.
func cell(text string) string {
	return strings.NewReplacer("|", `\|`, "\n", " ", "<", "&lt;", "*", `\*`, "_", `\_`).Replace(text)
}
