package store

import (
	"database/sql"
	"net/url"
	"path/filepath"
	"strconv"
	"strings"

	_ "modernc.org/sqlite" // the driver "sqlite"
)

// dsn is the data source name for a file. The pragmas are part of it because
// SQLite keeps them a connection, and the pool opens connections as it likes.
func dsn(path string, settings url.Values) string {
	if abs, err := filepath.Abs(path); err == nil {
		path = abs
	}
	slashed := filepath.ToSlash(path)
	if !strings.HasPrefix(slashed, "/") { // C:/…
		slashed = "/" + slashed
	}
	settings.Set("_txlock", "immediate")
	for _, p := range []string{"busy_timeout(5000)", "foreign_keys(1)", "synchronous(FULL)"} {
		settings.Add("_pragma", p)
	}
	return (&url.URL{Scheme: "file", Path: slashed, RawQuery: settings.Encode()}).String()
}

// connect opens the pool for a shop that is there. A store that may write keeps
// a log beside the file, so that readers never wait.
func connect(path string, o Options) (*sql.DB, error) {
	settings := url.Values{"mode": {"rw"}, "_pragma": {"journal_mode(WAL)"}}
	if o.ReadOnly {
		settings = url.Values{"mode": {"ro"}}
	}
	if o.still {
		settings.Set("immutable", "1")
	}
	if o.mostPages > 0 {
		settings.Add("_pragma", "max_page_count("+strconv.Itoa(o.mostPages)+")")
	}
	db, err := sql.Open("sqlite", dsn(path, settings))
	if err != nil {
		return nil, explain(err, "doing.opening", path)
	}
	return db, nil
}
