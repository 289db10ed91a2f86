package rules

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
)

// leastMeasured is how many rows hold a model of a process against a measurement, met or told as missed.
const leastMeasured = 40

// The page of the sources says how many check rows there are of which kind, and where
// those stand that hold a model against a measurement.
func TestChecksAreCountedByKind(t *testing.T) {
	t.Parallel()
	count, out, measured := map[string]int{}, strings.Builder{}, 0
	err := filepath.WalkDir("../..", func(path string, d os.DirEntry, err error) error {
		if err != nil || d.Name() != "checks.csv" {
			return err
		}
		rows, err := checkrow.ReadFile(path)
		if err != nil {
			return err
		}
		met, missed := 0, 0
		for _, r := range rows {
			count[r.Kind]++
			switch r.Kind {
			case "measurement":
				met++
			case checkrow.Missed:
				missed++
			}
		}
		if met+missed > 0 {
			dir := filepath.ToSlash(filepath.Dir(strings.TrimPrefix(path, "../../")))
			fmt.Fprintf(&out, "| `%s` | %d | %d |\n", dir, met, missed)
			measured += met + missed
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if measured < leastMeasured {
		t.Errorf("only %d rows hold a model against a measurement", measured)
	}
	all, kinds := 0, make([]string, 0, len(checkrow.Kinds))
	for _, k := range checkrow.Kinds {
		all += count[k]
		kinds = append(kinds, fmt.Sprintf("%d %s", count[k], k))
	}
	page, err := os.ReadFile("../../docs/sources.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{fmt.Sprintf("Of %d check rows: %s.", all, strings.Join(kinds, ", ")), out.String()} {
		if !strings.Contains(string(page), want) {
			t.Errorf("docs/sources.md must hold:\n%s", want)
		}
	}
}
