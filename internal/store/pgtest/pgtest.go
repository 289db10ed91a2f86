// Package pgtest starts a real PostgreSQL server for a test: Debian's package, a
// cluster of its own in a temporary folder, a free port of this computer alone, ended
// with the test program whatever becomes of it.
package pgtest

import (
	"bytes"
	"context"
	"fmt"
	"net"
	"net/url"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/jackc/pgx/v5"
)

// Password is of the user the tests connect with: no message may ever hold it.
const Password = "s3cret/word"

// Server is a running PostgreSQL.
type Server struct {
	folder, programs, port string
	owner                  *user.User
	ended                  chan struct{} // closed when the process of Start is over
	process                *os.Process
}

// test is what Shop needs of a test.
type test interface {
	Helper()
	Fatal(...any)
	Skip(...any)
	Name() string
}

var shared struct {
	once   sync.Once
	server *Server
	err    error
}

// Shop is the address of a shop of the test's own that is not there yet, on a server
// that all tests of the program share. Without PostgreSQL the test is skipped, never in CI.
func Shop(t test) string {
	t.Helper()
	s, err := Shared()
	if err != nil {
		Missing(t, err)
	}
	return s.Address(Name(t.Name()))
}

// Shared is the server that all tests of the program share.
func Shared() (*Server, error) {
	shared.once.Do(func() { shared.server, shared.err = Start(false) })
	return shared.server, shared.err
}

// Missing skips a test that cannot have a server; in CI it fails.
func Missing(t test, err error) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatal("PostgreSQL may not be left out here: ", err)
	}
	t.Skip("NOT TESTED on PostgreSQL: ", err, " (on Debian: apt-get install postgresql)")
}

// Name makes a shop's name of a test's.
func Name(text string) string {
	text = strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			return r
		}
		return '-'
	}, strings.ToLower(text))
	return "t" + text[max(0, len(text)-60):]
}

// Stop ends the server that tests share, if there is one; for TestMain.
func Stop() {
	if shared.server != nil {
		shared.server.Stop()
	}
}

// programs finds the folder of PostgreSQL's programs; the newest where there are several.
func programs() (string, error) {
	if path, err := exec.LookPath("initdb"); err == nil {
		if path, err = filepath.EvalSymlinks(path); err == nil {
			return filepath.Dir(path), nil
		}
	}
	all, err := filepath.Glob("/usr/lib/postgresql/*/bin/initdb")
	if err != nil || len(all) == 0 {
		return "", fmt.Errorf("PostgreSQL is not installed")
	}
	newest := slices.MaxFunc(all, func(a, b string) int { return len(a) - len(b) + strings.Compare(a, b) })
	return filepath.Dir(newest), nil
}

// Start makes a cluster and starts it. One that is not durable is fast: it is for
// tests that kill no server.
func Start(durable bool) (*Server, error) {
	s := &Server{}
	var err error
	if s.programs, err = programs(); err != nil {
		return nil, err
	}
	if s.owner, err = runner(); err != nil {
		return nil, err
	}
	sweep(os.TempDir(), time.Now())
	if s.folder, err = os.MkdirTemp("", folders); err != nil {
		return nil, err
	}
	if err = s.make(durable); err == nil {
		err = s.Run()
	}
	if err != nil {
		os.RemoveAll(s.folder)
		return nil, err
	}
	return s, nil
}

// Folders of clusters, and how old one is that a killed test has left behind: its server
// ended with it, its folder could not. No test runs so long.
const (
	folders   = "hopperful-pg-*"
	leftAfter = 24 * time.Hour
)

// sweep removes what killed tests left behind.
func sweep(in string, now time.Time) {
	all, _ := filepath.Glob(filepath.Join(in, folders)) // the pattern is a constant
	for _, folder := range all {
		if f, err := os.Stat(folder); err == nil && now.Sub(f.ModTime()) > leftAfter {
			os.RemoveAll(folder) // what is another user's stays
		}
	}
}

// runner is whom the server runs as: never the superuser, who may not run one.
func runner() (*user.User, error) {
	if os.Geteuid() != 0 {
		return user.Current()
	}
	if u, err := user.Lookup("postgres"); err == nil {
		return u, nil
	}
	return user.Lookup("nobody")
}

func (s *Server) make(durable bool) error {
	uid, gid := ids(s.owner)
	secret := filepath.Join(s.folder, "secret")
	if os.Geteuid() == 0 {
		if err := os.Chown(s.folder, uid, gid); err != nil {
			return err
		}
	}
	if err := s.write(secret, []byte(Password)); err != nil {
		return err
	}
	c := s.command("initdb", "--pgdata", s.data(), "--username", "bench", "--pwfile", secret, "--auth", "scram-sha-256", "--encoding", "UTF8", "--locale", "C", "--no-sync")
	if out, err := c.CombinedOutput(); err != nil {
		return fmt.Errorf("initdb: %w: %s", err, out)
	}
	settings := "listen_addresses = '127.0.0.1'\nunix_socket_directories = '" + s.folder + "'\nmax_connections = 60\nshared_buffers = 32MB\nlogging_collector = off\n"
	if err := s.guard(); err != nil {
		return err
	}
	encrypted, err := s.encrypt()
	if err != nil {
		return err
	}
	settings += encrypted
	if !durable {
		settings += "fsync = off\nsynchronous_commit = off\nfull_page_writes = off\n"
	}
	f, err := os.OpenFile(filepath.Join(s.data(), "postgresql.conf"), os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	if _, err = f.WriteString(settings); err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	s.port, err = freePort()
	return err
}

func (s *Server) data() string { return filepath.Join(s.folder, "data") }

// Data is the folder of the cluster.
func (s *Server) Data() string { return s.data() }

// Run starts the server, the first time or again, and waits until it answers.
func (s *Server) Run() error {
	var said bytes.Buffer
	c := s.command("postgres", "-D", s.data(), "-p", s.port)
	c.Stderr, c.Stdout = &said, &said
	started := make(chan error)
	s.ended = make(chan struct{})
	go startBound(c, started, s.ended)
	if err := <-started; err != nil {
		return err
	}
	s.process = c.Process
	for end := time.Now().Add(time.Minute); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		select {
		case <-s.ended:
			return fmt.Errorf("postgres ended: %s", said.String())
		default:
		}
		if s.answers() {
			return s.database()
		}
	}
	s.Stop()
	return fmt.Errorf("postgres did not answer")
}

func (s *Server) answers() bool {
	_, err := s.SQL("postgres", "SELECT 1")
	return err == nil
}

// database makes the tests' database when it is not there.
func (s *Server) database() error {
	out, err := s.SQL("postgres", "SELECT 1 FROM pg_database WHERE datname = 'workshops'")
	if err != nil || strings.TrimSpace(out) != "" {
		return err
	}
	if _, err = s.SQL("postgres", "CREATE DATABASE workshops"); err != nil {
		return err
	}
	_, err = s.SQL("postgres", "CREATE ROLE "+Guarded+" LOGIN PASSWORD '"+Password+"'")
	return err
}

// SQL runs a statement as whoever keeps the server would, and returns the first value.
func (s *Server) SQL(database, statement string) (string, error) {
	ctx, end := context.WithTimeout(context.Background(), time.Minute)
	defer end()
	u := url.URL{Scheme: "postgres", User: url.UserPassword("bench", Password), Host: "127.0.0.1:" + s.port, Path: "/" + database, RawQuery: "sslmode=disable"}
	line, err := pgx.Connect(ctx, u.String())
	if err != nil {
		return "", err
	}
	defer line.Close(ctx)
	results, err := line.PgConn().Exec(ctx, statement).ReadAll()
	if err != nil || len(results) == 0 || len(results[0].Rows) == 0 {
		return "", err
	}
	return string(results[0].Rows[0][0]), nil
}

// Address is where a shop lies on the server.
func (s *Server) Address(shop string) string { return s.At("127.0.0.1:"+s.port, shop) }

// At is [Server.Address] by another way, such as one that breaks.
func (s *Server) At(host, shop string) string {
	return s.Secure(host, shop, url.Values{"sslmode": {"disable"}})
}

// Port is where the server listens.
func (s *Server) Port() string { return s.port }

// Kill ends the server as a crash would: no shutdown, no last writes.
func (s *Server) Kill() error {
	err := s.process.Kill()
	<-s.ended
	// its children see that it is gone; the next start waits for them
	for range 100 {
		if out, _ := exec.Command("pgrep", "-f", "--", s.data()).Output(); len(bytes.TrimSpace(out)) == 0 {
			break
		}
		time.Sleep(20 * time.Millisecond)
	}
	return err
}

// Stop ends the server and removes its folder.
func (s *Server) Stop() {
	_ = s.process.Signal(quit) // it may be over
	select {
	case <-s.ended:
	case <-time.After(10 * time.Second):
		_ = s.process.Kill()
		<-s.ended
	}
	os.RemoveAll(s.folder)
}

func (s *Server) command(name string, words ...string) *exec.Cmd {
	c := exec.Command(filepath.Join(s.programs, name), words...)
	c.Env = append(os.Environ(), "LC_ALL=C")
	c.Dir = s.folder
	runAs(c, s.owner)
	return c
}

func ids(u *user.User) (uid, gid int) {
	uid, _ = strconv.Atoi(u.Uid) // numbers on every system that has initdb
	gid, _ = strconv.Atoi(u.Gid)
	return uid, gid
}

// freePort is a port that nobody listens at now.
func freePort() (string, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return "", err
	}
	defer l.Close()
	_, port, err := net.SplitHostPort(l.Addr().String())
	return port, err
}
