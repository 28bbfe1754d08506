package postgres

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
)

// Variable is the name of the environment variable with the directory of initdb, pg_ctl and
// psql. If it is set, [Start] fails the test instead of skipping it.
const Variable = "LONGPOINT_POSTGRES"

// port is a part of the name of the socket; nothing listens on a network.
const port = "5432"

// A Cluster is a running server with its databases in a private directory.
type Cluster struct {
	programs   string // the directory of initdb, pg_ctl and psql
	folder     string // of the socket, the log and the data
	keeper     *exec.Cmd
	keeperDies io.Closer // the keeper's standard input: once it is closed, the keeper stops the server

	lock      sync.Mutex
	databases int
}

// supervise starts the server, waits until its standard input ends, and stops the server. Its
// input is a pipe that ends with the test's process, however that ends.
const supervise = `
trap '' INT TERM HUP
cd "$2" || exit 1
"$1/pg_ctl" start -w -s -D data -l log </dev/null >/dev/null 2>&1 || { cat log >&2; echo failed; exit 1; }
echo started
cat >/dev/null
"$1/pg_ctl" stop -w -s -m immediate -D data </dev/null >/dev/null 2>&1
cd / && rm -rf "$2"
`

// settings keep the server small. Committed data is on disk: fsync, synchronous_commit and
// full_page_writes are on, as by default.
var settings = []string{
	"listen_addresses = ''",
	"port = " + port,
	"max_connections = 60",
	"shared_buffers = 16MB",
	"wal_level = minimal",
	"max_wal_senders = 0",
	"jit = off",
	"fsync = on",
	"synchronous_commit = on",
	"full_page_writes = on",
	"log_min_messages = warning",
}

// Start makes a cluster and starts its server. The server is stopped and everything removed at
// the end of the test, and when the test's process dies. If the programs are missing, it skips
// the test with a message, or fails it if [Variable] is set.
func Start(t testing.TB) *Cluster {
	t.Helper()
	c, err := started(t)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := c.stop(); err != nil {
			t.Errorf("stopping PostgreSQL: %v", err)
		}
	})
	return c
}

// started returns a cluster with a running server, or skips the test.
func started(t testing.TB) (*Cluster, error) {
	t.Helper()
	programs, err := find()
	if err != nil && os.Getenv(Variable) != "" {
		return nil, fmt.Errorf("%s is set but cannot be used: %w", Variable, err)
	}
	if err != nil {
		t.Skipf("no PostgreSQL server (Debian: package postgresql; elsewhere set %s to the directory of its programs): %v", Variable, err)
	}
	c := &Cluster{programs: programs}
	if err := c.start(); err != nil {
		return nil, fmt.Errorf("PostgreSQL in %s: %w", programs, err)
	}
	return c, nil
}

// shared is the cluster shared by tests of a process.
var shared struct {
	sync.Mutex
	cluster *Cluster
}

// Shared returns a cluster that all tests of the process share, each with its own databases.
// The server is stopped and everything removed when the process ends. A test that restarts its
// server calls [Start].
func Shared(t testing.TB) *Cluster {
	t.Helper()
	shared.Lock()
	defer shared.Unlock()
	if shared.cluster == nil {
		c, err := started(t)
		if err != nil {
			t.Fatal(err)
		}
		shared.cluster = c
	}
	return shared.cluster
}

// find returns the directory of the programs: from the environment, from the path, or that of
// the newest version in Debian's location.
func find() (string, error) {
	if dir := os.Getenv(Variable); dir != "" {
		_, err := os.Stat(filepath.Join(dir, "initdb"))
		return dir, err
	}
	if initdb, err := exec.LookPath("initdb"); err == nil {
		// The others are beside the program itself, not beside a link to it.
		program, err := filepath.EvalSymlinks(initdb)
		return filepath.Dir(program), err
	}
	found, err := filepath.Glob("/usr/lib/postgresql/*/bin/initdb")
	if err != nil || len(found) == 0 {
		return "", errors.Join(errors.New("initdb is neither on the path nor in /usr/lib/postgresql"), err)
	}
	return filepath.Dir(found[len(found)-1]), nil
}

func (c *Cluster) start() (err error) {
	// The name of a socket is limited to about a hundred bytes, so the directory is not below
	// that of the test.
	if c.folder, err = os.MkdirTemp("", "postgres"); err != nil {
		return err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, os.RemoveAll(c.folder))
		}
	}()
	if err := give(c.folder); err != nil {
		return err
	}
	// --no-sync affects only the empty cluster.
	if err := c.run("initdb", "--no-sync", "--auth=trust", "--username=postgres", "--encoding=UTF8", "--locale=C", "--pgdata=data"); err != nil {
		return err
	}
	conf, err := os.OpenFile(filepath.Join(c.folder, "data", "postgresql.conf"), os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(conf, "\n%s\nunix_socket_directories = '%s'\n", strings.Join(settings, "\n"), c.folder)
	if err := errors.Join(err, conf.Close()); err != nil {
		return err
	}
	return c.keep()
}

// keep starts the server under a keeper that outlives the test's process.
func (c *Cluster) keep() error {
	keeper := exec.Command("/bin/sh", "-c", supervise, "sh", c.programs, c.folder)
	keeper.Dir = c.folder
	var said strings.Builder
	keeper.Stderr = &said
	apart(keeper)
	in, err := keeper.StdinPipe()
	if err != nil {
		return err
	}
	out, err := keeper.StdoutPipe()
	if err != nil {
		return err
	}
	if err := keeper.Start(); err != nil {
		return err
	}
	c.keeper, c.keeperDies = keeper, in
	if line, err := bufio.NewReader(out).ReadString('\n'); line != "started\n" {
		in.Close()
		return errors.Join(fmt.Errorf("it does not start (%s)", strings.TrimSpace(line)), err, keeper.Wait(), errors.New(said.String()))
	}
	return nil
}

func (c *Cluster) stop() error {
	err := errors.Join(c.keeperDies.Close(), c.keeper.Wait())
	if _, missing := os.Stat(c.folder); err == nil && missing == nil {
		err = fmt.Errorf("%s is still there", c.folder)
	}
	return err
}

// run runs one of the programs as the server's user, in the cluster's directory.
func (c *Cluster) run(program string, args ...string) error {
	cmd := exec.Command(filepath.Join(c.programs, program), args...)
	cmd.Dir = c.folder
	apart(cmd)
	// Background processes keep the output open: a file, not a pipe.
	out, err := os.CreateTemp("", "postgres-says")
	if err != nil {
		return err
	}
	defer os.Remove(out.Name())
	defer out.Close()
	cmd.Stdout, cmd.Stderr = out, out
	if err := cmd.Run(); err != nil {
		text, _ := os.ReadFile(out.Name())
		return fmt.Errorf("%s: %w\n%s", program, err, text)
	}
	return nil
}

var plainName = regexp.MustCompile(`^[a-z][a-z0-9_]{0,40}$`)

// Database makes an empty database in the cluster and returns its address, for pgx.Connect and
// sql.Open("pgx", ...). An empty name means a unique one; others consist of lower-case letters,
// digits and underscores.
func (c *Cluster) Database(t testing.TB, name string) (address string) {
	t.Helper()
	if name == "" {
		c.lock.Lock()
		c.databases++
		name = fmt.Sprintf("test_%d", c.databases)
		c.lock.Unlock()
	}
	if !plainName.MatchString(name) {
		t.Fatalf("database %q: want small letters, digits and underscores", name)
	}
	c.SQL(t, "postgres", "CREATE DATABASE "+name)
	return c.Address(name)
}

// Address returns the address of a database of the cluster, which need not exist.
func (c *Cluster) Address(name string) string {
	q := url.Values{"host": {c.folder}, "port": {port}, "user": {"postgres"}, "sslmode": {"disable"}}
	return "postgres:///" + name + "?" + q.Encode()
}

// SQL runs statements in a database by psql, bypassing the program under test.
func (c *Cluster) SQL(t testing.TB, database, statements string) {
	t.Helper()
	if err := c.run("psql", "--no-psqlrc", "--quiet", "--set=ON_ERROR_STOP=1", "--host="+c.folder, "--port="+port, "--username=postgres", "--dbname="+database, "--command="+statements); err != nil {
		t.Fatal(err)
	}
}

// Restart stops the server as in a crash and starts it again: connections break, and the server
// recovers from its log. It returns when the server accepts connections.
func (c *Cluster) Restart(t testing.TB) {
	t.Helper()
	if err := c.run("pg_ctl", "restart", "-w", "-s", "-m", "immediate", "-D", "data", "-l", "log"); err != nil {
		t.Error(err) // not Fatal, which must not be called from another goroutine
	}
}
