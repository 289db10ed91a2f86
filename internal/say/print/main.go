// Command print writes the schema of an answer to standard output:
//
//	go run ./internal/say/print > docs/json/answer.schema.json
package main

import (
	"fmt"
	"os"

	"hopperful/internal/say"
)

func main() {
	text, err := say.Schema()
	if err == nil {
		_, err = os.Stdout.Write(text)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "print:", err)
		os.Exit(1)
	}
}
