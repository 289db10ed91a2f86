package rules

import (
	"fmt"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// The rooms of the pages stand in a table of docs/structure.md, each below those it takes
// from. mostRoom is how many lines of a room, without tests, a newcomer may have to read.
const (
	roomsOf  = "internal/web"
	mostRoom = 2500
)

// roomViolations judges the rooms of the pages: their lines and imports by folder, and
// the rooms as the page lists them.
func roomViolations(lines map[string]int, imports map[string][]string, listed []string) []string {
	var bad []string
	for _, dir := range slices.Sorted(maps.Keys(lines)) {
		at := slices.Index(listed, dir)
		if at < 0 {
			bad = append(bad, dir+" is not in the table of rooms")
		}
		if lines[dir] > mostRoom {
			bad = append(bad, fmt.Sprintf("%s has %d lines, more than %d", dir, lines[dir], mostRoom))
		}
		for _, other := range imports[dir] {
			switch to := slices.Index(listed, other); {
			case other == roomsOf:
				bad = append(bad, dir+" imports "+roomsOf)
			case to > at:
				bad = append(bad, dir+" imports "+other+", which stands below it in the table of rooms")
			}
		}
	}
	for _, dir := range listed {
		if lines[dir] == 0 {
			bad = append(bad, dir+" is in the table of rooms and holds nothing")
		}
	}
	return bad
}

func TestRoomsOfThePages(t *testing.T) {
	t.Parallel()
	lines, imports := map[string]int{}, map[string][]string{}
	for _, f := range tree(t) {
		if f.test || f.dir == roomsOf || !under(f.dir, roomsOf) {
			continue
		}
		lines[f.dir] += f.lines
		for _, i := range f.ast.Imports {
			if name, ours := strings.CutPrefix(strings.Trim(i.Path.Value, `"`), module+"/"); ours {
				imports[f.dir] = append(imports[f.dir], name)
			}
		}
	}
	page, err := os.ReadFile(filepath.Join(root, "docs", "structure.md"))
	if err != nil {
		t.Fatal(err)
	}
	cells, err := rows(string(page), "Rooms of the pages", 2)
	if err != nil {
		t.Fatal(err)
	}
	var listed []string
	for _, c := range cells {
		listed = append(listed, ticked(c[0])...)
	}
	report(t, roomViolations(lines, imports, listed))
}

func TestRoomRuleCanFail(t *testing.T) {
	t.Parallel()
	one, two := path.Join(roomsOf, "one"), path.Join(roomsOf, "two")
	both, order := map[string]int{one: 1, two: mostRoom}, []string{one, two}
	wantOne(t, roomViolations(both, map[string][]string{two: {one, "shop"}}, order), "")
	wantOne(t, roomViolations(both, nil, []string{one}), "two is not in the table")
	wantOne(t, roomViolations(map[string]int{one: mostRoom + 1}, nil, []string{one}), "more than 2500")
	wantOne(t, roomViolations(both, map[string][]string{two: {roomsOf}}, order), "two imports internal/web")
	wantOne(t, roomViolations(both, map[string][]string{one: {two}}, order), "stands below it")
	wantOne(t, roomViolations(map[string]int{one: 1}, nil, order), "holds nothing")
}
