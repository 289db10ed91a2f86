package rules

import (
	"os"
	"path/filepath"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/internal/say"
)

// The documentation of the fields is the table's own.
func TestTheFieldsAreDocumented(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile(filepath.Join("..", "..", "docs", "use", "records.md"))
	if err != nil {
		t.Fatal(err)
	}
	if string(text) != checkrow.RecordsPage(func(code string) string { return say.For("en").Word(code) }) {
		t.Error("docs/use/records.md is not current; run go run ./internal/checkrow/print")
	}
}
