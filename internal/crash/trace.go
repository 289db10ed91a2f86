package main

import (
	"bufio"
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// What a program asked of the disk, in the order it asked, as the tracer strace wrote it
// down (strace(1), with -f -y -xx): what reaches the disk and when is the promise of these
// calls, whoever makes them.

// kind is what an event does.
type kind int

const (
	write    kind = iota // bytes into a file, which may stay in memory
	truncate             // a file's length, which may too
	synced               // a file, or a folder's names, lie on the disk from here on
	create               // a name for a new file
	rename               // a name takes the place of another
	unlink               // a name is gone
	heard                // a client was told that its record is kept
)

// event is one of them.
type event struct {
	kind
	path, to string
	at       int64 // where bytes go, or the new length
	bytes    []byte
	note     string // of the record
}

// call is a line of the trace, its two halves put together where others came between.
type call struct {
	name, words, result string
	begun, ended        int // lines
}

var (
	line   = regexp.MustCompile(`^(\d+) +(?:<\.\.\. (\w+) resumed>|(\w+)\()(.*)$`)
	file   = regexp.MustCompile(`^(\d+|AT_FDCWD)<((?:\\x[0-9a-f]{2})*)>`)
	quoted = regexp.MustCompile(`"((?:\\x[0-9a-f]{2})*)"`)
	asked  = regexp.MustCompile(`note=(piece\+\d+)`)
)

// readTrace reads the events of a trace that concern a folder, and what clients were told.
func readTrace(path, folder string) ([]event, error) {
	calls, err := readCalls(path)
	if err != nil {
		return nil, err
	}
	r := reader{folder: folder, asked: map[string]string{}, at: map[string]int64{}}
	var all []placed
	for _, c := range calls {
		for _, e := range r.events(c) {
			where := c.begun // bytes may reach the disk as soon as they are given away
			if e.kind == synced || e.kind == heard {
				where = c.ended // what is promised counts when the call is over
			}
			all = append(all, placed{where, e})
		}
	}
	slices.SortStableFunc(all, func(a, b placed) int { return cmp.Compare(a.line, b.line) })
	var events []event
	for _, p := range all {
		events = append(events, p.event)
	}
	return events, nil
}

// placed is an event and the line it counts from.
type placed struct {
	line int
	event
}

// readCalls puts the halves of interrupted calls together.
func readCalls(path string) ([]call, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var calls []call
	open := map[string]call{}
	in := bufio.NewScanner(f)
	in.Buffer(nil, 16<<20)
	for n := 0; in.Scan(); n++ {
		m := line.FindStringSubmatch(in.Text())
		if m == nil {
			continue // a signal, an end
		}
		pid, resumed, name, rest := m[1], m[2], m[3], m[4]
		if begin, ok := strings.CutSuffix(rest, " <unfinished ...>"); ok && resumed == "" {
			open[pid] = call{name: name, words: begin, begun: n}
			continue
		}
		c := call{name: name, begun: n, ended: n}
		if resumed != "" {
			c = open[pid]
			c.ended = n
		}
		i := strings.LastIndex(rest, ") = ")
		if i < 0 {
			if i = strings.LastIndex(rest, ")"); i < 0 { // padded to a column: ")      = 0"
				continue
			}
		}
		c.words += rest[:i]
		c.result = strings.TrimLeft(rest[i+1:], " =")
		calls = append(calls, c)
	}
	return calls, in.Err()
}

// reader makes events of calls.
type reader struct {
	folder string
	asked  map[string]string // the note last asked to be kept, by connection
	at     map[string]int64  // where a file is written next that is written in a row, by its number
}

func (r *reader) events(c call) []event {
	if strings.HasPrefix(c.result, "-1") {
		return nil
	}
	of := file.FindStringSubmatch(c.words)
	var texts []string
	for _, q := range quoted.FindAllStringSubmatch(c.words, -1) {
		texts = append(texts, plain(q[1]))
	}
	if of == nil && c.name != "open" && c.name != "unlink" && c.name != "rename" {
		return nil
	}
	path := ""
	if of != nil {
		path = plain(of[2])
	}
	if strings.HasPrefix(path, "socket:") || strings.HasPrefix(path, "TCP") {
		return r.talk(c.name, path, strings.Join(texts, ""))
	}
	var e event
	switch c.name {
	case "open", "openat":
		return r.opened(c, texts)
	case "pwrite64":
		e = event{kind: write, path: path, at: last(c.words), bytes: []byte(texts[0])}
	case "write":
		e = event{kind: write, path: path, at: r.at[of[1]], bytes: []byte(texts[0])}
		r.at[of[1]] += int64(len(e.bytes))
	case "ftruncate":
		e = event{kind: truncate, path: path, at: last(c.words)}
	case "fsync", "fdatasync":
		e = event{kind: synced, path: path}
	case "unlink", "unlinkat":
		e = event{kind: unlink, path: texts[0]}
	case "rename", "renameat", "renameat2":
		e = event{kind: rename, path: texts[0], to: texts[1]}
	}
	if !r.inside(e.path) {
		return nil
	}
	return []event{e}
}

// opened notes a file's new name, that it was emptied, and that it is written from its start.
func (r *reader) opened(c call, texts []string) []event {
	if fd, _, ok := strings.Cut(c.result, "<"); ok {
		r.at[fd] = 0
	}
	var all []event
	if r.inside(texts[0]) && strings.Contains(c.words, "O_CREAT") {
		all = append(all, event{kind: create, path: texts[0]})
	}
	if r.inside(texts[0]) && strings.Contains(c.words, "O_TRUNC") {
		all = append(all, event{kind: truncate, path: texts[0]})
	}
	return all
}

// talk follows what a connection asks and is told.
func (r *reader) talk(name, connection, text string) []event {
	switch {
	case name == "read":
		if m := asked.FindStringSubmatch(text); m != nil {
			r.asked[connection] = strings.ReplaceAll(m[1], "+", " ")
		}
	case strings.HasPrefix(text, "HTTP/1.1 303") && r.asked[connection] != "":
		note := r.asked[connection]
		delete(r.asked, connection)
		return []event{{kind: heard, note: note}}
	}
	return nil
}

// inside says whether a path is the folder or a file of it that counts; the index
// "-shm" lives in memory only and is made anew.
func (r *reader) inside(path string) bool {
	return path == r.folder || filepath.Dir(path) == r.folder && !strings.HasSuffix(path, "-shm")
}

// plain is what strace wrote as \x and two digits a byte.
func plain(hex string) string {
	b := make([]byte, 0, len(hex)/4)
	for i := 0; i+4 <= len(hex); i += 4 {
		n, err := strconv.ParseUint(hex[i+2:i+4], 16, 8)
		if err != nil {
			panic(fmt.Sprintf("the pattern lets only digits in: %v", err))
		}
		b = append(b, byte(n))
	}
	return string(b)
}

// last is the last number of a call's words.
func last(words string) int64 {
	n, _ := strconv.ParseInt(strings.TrimSpace(words[strings.LastIndex(words, ",")+1:]), 10, 64) // these calls end with one
	return n
}
