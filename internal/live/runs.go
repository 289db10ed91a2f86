package live

import (
	"encoding/json"
	"errors"
	"io/fs"
	"path/filepath"
	"slices"

	"hopperful/fact"
	"hopperful/plan/sensing"
)

// Runs seen wait here until a person confirms them or sets them aside; the oldest go.
const (
	runsFile  = "runs.json"
	mostRuns  = 200
	mostRunsB = 1 << 20
)

// LoadRuns reads the runs seen, newest last.
func LoadRuns(shop string) ([]sensing.Run, error) {
	name := filepath.Join(Folder(shop), runsFile)
	text, _, err := readBounded(name, mostRunsB)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var runs []sensing.Run
	if err := json.Unmarshal(text, &runs); err != nil || len(text) > mostRunsB {
		return nil, &Refusal{fact.Say("live.runs_unread", fact.Name("name", name)), fact.Say("live.do_delete_runs")}
	}
	return runs, nil
}

// SaveRuns writes them, whole or not at all.
func SaveRuns(shop string, runs []sensing.Run) error {
	if n := len(runs); n > mostRuns {
		runs = runs[n-mostRuns:]
	}
	text, err := json.Marshal(runs)
	if err != nil {
		return err
	}
	return writeWhole(filepath.Join(Folder(shop), runsFile), text)
}

// SetAside says in a shop's folder that nobody wants a run on record, and reports whether
// there is one; where a service listens it is asked instead.
func SetAside(shop string, id int64) (bool, error) {
	runs, err := LoadRuns(shop)
	if err != nil || !aside(runs, id) {
		return false, err
	}
	return true, SaveRuns(shop, runs)
}

// aside marks a run, and reports whether there is one.
func aside(runs []sensing.Run, id int64) bool {
	i := slices.IndexFunc(runs, func(r sensing.Run) bool { return r.ID == id })
	if i >= 0 {
		runs[i].Aside = true
	}
	return i >= 0
}

// noted adds a run, unless that stretch of the mill is there already.
func noted(runs []sensing.Run, r sensing.Run) ([]sensing.Run, bool) {
	for _, o := range runs {
		if o.Mill == r.Mill && o.Start.At < r.Stop.At && r.Start.At < o.Stop.At {
			return runs, false
		}
	}
	for slices.ContainsFunc(runs, func(o sensing.Run) bool { return o.ID == r.ID }) {
		r.ID++
	}
	runs = append(runs, r)
	if n := len(runs); n > mostRuns {
		runs = append(runs[:0], runs[n-mostRuns:]...)
	}
	return runs, true
}
