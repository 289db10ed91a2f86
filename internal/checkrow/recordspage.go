package checkrow

import (
	"fmt"
	"strings"

	"hopperful/shop/fields"
)

// recordTitles are what the records of the table are called in the documentation.
var recordTitles = map[string]string{"taken_in": "Taking in", "ground": "A charge", "mill_set": "A mill"}

// RecordsPage is the table as documentation: what each record is asked, on the page, on
// the command line and in JSON, and between which bounds; word gives the words of a code.
func RecordsPage(word func(code string) string) string {
	var b strings.Builder
	b.WriteString("# What a record is asked\n\nWritten from the table of fields (`shop/fields`) by `go run ./internal/checkrow/print`; the page, the command line and\nthe checks ask by the same table. A number outside its bounds is refused as a slip.\n")
	for _, kind := range fields.Kinds() {
		fmt.Fprintf(&b, "\n## %s (`%s`)\n\n| on the page | flag | in JSON | between |\n| --- | --- | --- | --- |\n", recordTitles[kind], kind)
		for _, f := range fields.Of(kind) {
			flag := ""
			if f.Flag != "" {
				flag = "`--" + f.Flag + "`"
			}
			fmt.Fprintf(&b, "| %s | %s | `%s` | %s |\n", word(f.Label), flag, f.Path, f.Bounds())
		}
	}
	return b.String()
}
