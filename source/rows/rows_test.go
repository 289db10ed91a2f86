package rows

import (
	"errors"
	"fmt"
	"strings"
	"testing"
)

const header = "name,value"

func TestEachHandsLinesTrimmed(t *testing.T) {
	t.Parallel()
	var got []string
	err := Each("mine.csv", header, strings.NewReader("name, value\n a ,1\n\"b,c\", 2 "), func(f []string) error {
		got = append(got, f...)
		return nil
	})
	if want := []string{"a", "1", "b,c", "2"}; err != nil || fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("got %q, %v; want %q", got, err, want)
	}
}

func TestFaultsTellFileAndLine(t *testing.T) {
	t.Parallel()
	bad := errors.New("no such name")
	for text, want := range map[string]string{
		"":                   "mine.csv: EOF; the columns are name,value",
		"name\n":             "wrong number of fields",
		"name,worth\n":       "mine.csv:1: the first line must be name,value",
		header + "\na,1\nb,": "mine.csv:3: no such name",
		header + "\na,1,2":   "wrong number of fields",
		header + "\na," + strings.Repeat("x", maxText+1): "mine.csv:2: column 2 is longer than 400 bytes",
		strings.Repeat("x", maxBytes+1):                  "mine.csv: longer than",
	} {
		err := Each("mine.csv", header, strings.NewReader(text), func(f []string) error {
			if f[1] == "" {
				return bad
			}
			return nil
		})
		if err == nil || !strings.Contains(err.Error(), want) || !strings.HasPrefix(err.Error(), "mine.csv") {
			t.Errorf("%.40q gave %v; want %q", text, err, want)
		}
		if want == "mine.csv:3: no such name" && !errors.Is(err, bad) {
			t.Errorf("%v does not wrap the fault", err)
		}
	}
}
