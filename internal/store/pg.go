package store

import (
	"context"
	"crypto/rand"
	"database/sql"
	"errors"
	mathrand "math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/jackc/pgx/v5/stdlib"

	"hopperful/fact"
	"hopperful/shop"
)

// Bounds of what is asked of a server.
const (
	connectTime = 10 * time.Second
	mostLines   = 8  // connections of one program
	mostTries   = 14 // of one write, with waits from a few milliseconds to a second: some ten seconds
	firstWait   = 5 * time.Millisecond
	mostWait    = time.Second
	mostRows    = 1000 // written in one statement
)

// onServer is a shop on a PostgreSQL server. Whatever belongs to it is found by its
// key, and nothing counts across shops, so that a server may keep each shop elsewhere.
type onServer struct {
	at   pgAddress
	db   *sql.DB
	key  string // never changes, while the name may
	form int
}

// openServer opens a shop that is there.
func openServer(ctx context.Context, path string, o Options) (*Store, error) {
	at, err := readAddress(path)
	if err != nil {
		return nil, err
	}
	s := &Store{path: at.shown, readOnly: o.ReadOnly, read: o.Read, line: newLine()}
	p := &onServer{at: at}
	s.medium, s.db = p, p.connect(o)
	if !o.ReadOnly {
		err = pgMigrate(ctx, p.db)
	}
	if err == nil {
		err = p.find(ctx)
	}
	if err == nil {
		s.source = &source{reader: patient{p}, path: s.path, db: p.db}
		s.beside = besideServer(p.key)
		err = s.Refresh(ctx)
	}
	if err != nil {
		p.db.Close()
		return nil, explain(err, "doing.opening", s.path)
	}
	return s, nil
}

// besideServer begins the name of the file in which this computer keeps what followed
// from the records of a shop on a server, in the user's folder for what can be made
// anew; "" where there is none.
func besideServer(key string) string {
	folder, err := os.UserCacheDir()
	if err != nil {
		return ""
	}
	folder = filepath.Join(folder, "hopperful")
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return ""
	}
	return filepath.Join(folder, key)
}

// connect opens a pool of connections; none is made yet.
func (p *onServer) connect(o Options) *sql.DB {
	config := p.at.config.Copy()
	if o.ReadOnly {
		config.RuntimeParams["default_transaction_read_only"] = "on"
	}
	if o.dial != nil {
		config.DialFunc = o.dial
	}
	p.db = stdlib.OpenDB(*config)
	p.db.SetMaxOpenConns(mostLines)
	p.db.SetConnMaxIdleTime(5 * time.Minute)
	return p.db
}

// find looks the shop up by its name.
func (p *onServer) find(ctx context.Context) error {
	return trying(ctx, func() error {
		var err error
		if p.form, err = pgForm(ctx, p.db); err != nil {
			return err
		}
		if p.form > len(pgMigrations) {
			return &Error{Newer, fact.Say("store.server_of_later_version", fact.Name("shown", p.at.shown), fact.Count("form", int(p.form)), fact.Count("n", len(pgMigrations))),
				fact.Say("store.use_that_version"), nil}
		}
		err = p.db.QueryRowContext(ctx, "SELECT key FROM hopperful.shop WHERE name = $1", p.at.name).Scan(&p.key)
		if errors.Is(err, sql.ErrNoRows) {
			return p.none(ctx)
		}
		return err
	})
}

// mostListed is how many shops of a server are listed.
const mostListed = 12

// none says that there is no such shop, and which there are.
func (p *onServer) none(ctx context.Context) error {
	rows, err := p.db.QueryContext(ctx, "SELECT name FROM hopperful.shop ORDER BY name LIMIT $1", mostListed)
	if err != nil {
		return err
	}
	defer rows.Close()
	var list []string
	for rows.Next() {
		var name string
		if err := rows.Scan(&name); err != nil {
			return err
		}
		list = append(list, name)
	}
	return errors.Join(rows.Err(), &Error{Missing, fact.Say("store.no_shop", fact.Name("shown", p.at.shown)), fact.Say("store.do_start_or_name", fact.Name("list", strings.Join(list, " "))), nil})
}

func (p *onServer) rows(ctx context.Context, db asker, known tail, most int) ([]row, tail, error) {
	rows, err := db.QueryContext(ctx, `SELECT id, kind, at, noted_at, by, note, coalesce(corrects, 0), body, seal
FROM hopperful.record WHERE shop = $1 AND id > $2 ORDER BY id LIMIT nullif($3, 0)`, p.key, int64(known.id), most)
	if err != nil {
		return nil, known, err
	}
	list, end, err := chained(ctx, rows, known, most)
	var bad *badRecord
	if errors.As(err, &bad) && (again(bad.err) || explainServer(bad.err, "", "") != nil) {
		return nil, known, bad.err // nothing is wrong with the record: the server said no more
	}
	return list, end, err
}

// write holds the shop's row first, so that writers come one after the other. On a
// server that keeps no such locks it is refused at the end and tried anew.
func (p *onServer) write(ctx context.Context, do func(context.Context, *sql.Tx) error) error {
	return trying(ctx, func() error {
		tx, err := p.db.BeginTx(ctx, nil)
		if err != nil {
			return err
		}
		defer tx.Rollback()
		var name string
		if err := tx.QueryRowContext(ctx, "SELECT name FROM hopperful.shop WHERE key = $1 FOR UPDATE", p.key).Scan(&name); err != nil {
			return err
		}
		if name != p.at.name {
			return errElsewhere
		}
		if err := do(ctx, tx); err != nil {
			return err
		}
		return tx.Commit()
	})
}

// trying does something again while that may help, with growing waits of chance.
func trying(ctx context.Context, do func() error) error {
	wait := firstWait
	for try := 1; ; try++ {
		err := do()
		if err == nil || try == mostTries || !again(err) || ctx.Err() != nil {
			return err
		}
		select {
		case <-ctx.Done():
			return err
		case <-time.After(wait/2 + mathrand.N(wait)):
		}
		wait = min(2*wait, mostWait)
	}
}

func (p *onServer) within(tx *sql.Tx) executor { return tx }

func (p *onServer) insert(ctx context.Context, tx *sql.Tx, end tail, list []shop.Record) (tail, error) {
	rows := make([]row, len(list))
	for i, r := range list {
		raw, err := rowOf(r)
		if err != nil {
			return end, err
		}
		own := raw.sealed(end.seal)
		end, raw.seal = tail{r.ID, own}, own[:]
		rows[i] = raw
	}
	return end, p.put(ctx, tx, end, rows)
}

// put writes rows as they are, notes where they end, and tells every program that listens.
func (p *onServer) put(ctx context.Context, tx *sql.Tx, end tail, rows []row) error {
	for len(rows) > 0 {
		some := rows[:min(len(rows), mostRows)]
		rows = rows[len(some):]
		var c columns
		for i := range some {
			c.add(&some[i])
		}
		if _, err := tx.ExecContext(ctx, `INSERT INTO hopperful.record (shop, id, kind, at, noted_at, by, note, corrects, body, seal)
SELECT $1, id, kind, at, noted_at, by, note, nullif(corrects, 0), body, seal
FROM unnest($2::bigint[], $3::text[], $4::text[], $5::text[], $6::text[], $7::text[], $8::bigint[], $9::text[], $10::bytea[])
AS r (id, kind, at, noted_at, by, note, corrects, body, seal) ORDER BY id`,
			p.key, c.id, c.kind, c.at, c.noted, c.by, c.note, c.corrects, c.body, c.seal); err != nil {
			return err
		}
	}
	if _, err := tx.ExecContext(ctx, "UPDATE hopperful.shop SET newest = $2, seal = $3 WHERE key = $1", p.key, int64(end.id), end.seal[:]); err != nil {
		return err
	}
	_, err := tx.ExecContext(ctx, "SELECT pg_notify($1, $2)", pgChannel, p.key)
	return err
}

// columns are rows turned on their side, for one statement.
type columns struct {
	id, corrects                    []int64
	kind, at, noted, by, note, body []string
	seal                            [][]byte
}

func (c *columns) add(r *row) {
	c.id, c.corrects = append(c.id, r.id), append(c.corrects, r.corrects)
	c.kind, c.at, c.noted = append(c.kind, r.kind), append(c.at, r.at), append(c.noted, r.noted)
	c.by, c.note, c.body = append(c.by, r.by), append(c.note, r.note), append(c.body, r.body)
	c.seal = append(c.seal, r.seal)
}

func (p *onServer) sealOf(ctx context.Context, db asker, id shop.RecordID) (seal, error) {
	return sealOf(ctx, db, "SELECT seal FROM hopperful.record WHERE shop = $1 AND id = $2", p.key, int64(id))
}

func (p *onServer) sealed() bool { return true }

func (p *onServer) again(context.Context) (*sql.DB, error) {
	anew := *p
	return anew.connect(Options{ReadOnly: true}), nil
}

// patient reads by itself, outside of any transaction, and tries again while that may help.
type patient struct{ *onServer }

func (p patient) rows(ctx context.Context, db asker, known tail, most int) (list []row, end tail, err error) {
	err = trying(ctx, func() error {
		list, end, err = p.onServer.rows(ctx, db, known, most)
		return err
	})
	return list, end, err
}

func (p *onServer) sent(ctx context.Context, tx *sql.Tx, key string) (first, last shop.RecordID, known bool, err error) {
	return span(tx.QueryRowContext(ctx, "SELECT first, last FROM hopperful.sent WHERE shop = $1 AND key = $2", p.key, key))
}

func (p *onServer) keep(ctx context.Context, tx *sql.Tx, key string, first, last shop.RecordID) error {
	_, err := tx.ExecContext(ctx, "INSERT INTO hopperful.sent (shop, key, first, last) VALUES ($1, $2, $3, $4)", p.key, key, int64(first), int64(last))
	return err
}

func (p *onServer) people() people {
	return people{p.db, p.key, func(statement string) string { return statement }}
}

// written has nothing to do: the server has it on its disk.
func (p *onServer) written() {}

// newShopKey is the key of a new shop.
func newShopKey() string { return rand.Text() }
