package main

// Reads the list of changes that change nothing, so that they count neither way.

import (
	"errors"
	"fmt"
	"os"
	"strings"
)

// sames holds the reason for each change that changes nothing. A change is found again by
// its file, its line's text and what it does, so that code moved around it leaves it listed
// and code that changes under it does not.
type sames map[[3]string]string

// readSame reads a list: a file's name on a line by itself, then the changes to it, each as
// "change | line | reason".
func readSame(path string) (sames, error) {
	if path == "" {
		return nil, nil
	}
	text, err := os.ReadFile(path)
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil
	} else if err != nil {
		return nil, err
	}
	all, file := sames{}, ""
	for i, line := range strings.Split(string(text), "\n") {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		what, rest, ok := strings.Cut(line, " | ")
		if !ok {
			file = line
			continue
		}
		last := strings.LastIndex(rest, " | ") // the line itself may hold a bar
		if last < 0 || file == "" {
			return nil, fmt.Errorf("%s:%d: want change | line | reason under a file's name", path, i+1)
		}
		all[[3]string{file, strings.TrimSpace(rest[:last]), what}] = rest[last+3:]
	}
	return all, nil
}

func (s sames) why(c site) string { return s[[3]string{c.file, c.text, c.what}] }
