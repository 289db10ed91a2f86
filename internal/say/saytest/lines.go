package saytest

import (
	"encoding/json"
	"fmt"
	"index/suffixarray"
	"os"
	"path/filepath"
	"regexp"
	"strings"
)

var (
	filled = regexp.MustCompile(`\{\{[^}]*\}\}`)
	spaces = regexp.MustCompile(`\s+`)
)

// fewestWords is from how many words on a piece of a line tells its language.
const fewestWords = 3

// Pieces are what stands between the places of the lines of a language, from three
// words on, and in no line of any other language; folder holds the files of words.
func Pieces(folder, lang string) ([]string, error) {
	names, err := filepath.Glob(filepath.Join(folder, "*.json"))
	if err != nil {
		return nil, err
	}
	own, others := map[string]bool{}, []byte{}
	for _, name := range names {
		raw, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		var file map[string]any
		if err := json.Unmarshal(raw, &file); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		mine := strings.HasSuffix(name, "."+lang+".json")
		for _, line := range file {
			forms, several := line.(map[string]any)
			if !several {
				forms = map[string]any{"": line}
			}
			for _, form := range forms {
				for _, piece := range filled.Split(fmt.Sprint(form), -1) {
					piece = strings.TrimSpace(spaces.ReplaceAllString(piece, " "))
					if !mine {
						others = append(append(others, piece...), '\n')
					} else if len(strings.Fields(piece)) >= fewestWords {
						own[piece] = true
					}
				}
			}
		}
	}
	var all []string
	said := suffixarray.New(others) // thousands of pieces are looked for in it
	for piece := range own {
		if said.Lookup([]byte(piece), 1) == nil {
			all = append(all, piece)
		}
	}
	return all, nil
}
