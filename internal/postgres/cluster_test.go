//go:build unix

package postgres

import (
	"bufio"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

// dies names the variable that makes the test's program start a server and wait to be killed.
const dies = "POSTGRES_TEST_DIES"

func TestMain(m *testing.M) {
	if os.Getenv(dies) != "" {
		programs, err := find()
		if err != nil {
			panic(err)
		}
		c := &Cluster{programs: programs}
		if err := c.start(); err != nil {
			panic(err)
		}
		os.Stdout.WriteString(c.folder + "\n")
		select {}
	}
	os.Exit(m.Run())
}

// serverProcess returns the number of the server's process.
func serverProcess(t *testing.T, folder string) int {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(folder, "data", "postmaster.pid"))
	if err != nil {
		t.Fatal(err)
	}
	line, _, _ := strings.Cut(string(text), "\n")
	pid, err := strconv.Atoi(line)
	if err != nil {
		t.Fatal(err)
	}
	return pid
}

// What was committed survives a crash, and nothing of the server is left at the end.
func TestRestart(t *testing.T) {
	var folder string
	var pid int
	t.Run("server", func(t *testing.T) {
		c := Start(t)
		folder = c.folder
		if address := c.Database(t, "shop"); address != c.Address("shop") || !strings.HasPrefix(address, "postgres:///shop?host=") {
			t.Errorf("address %s", address)
		}
		if a, b := c.Database(t, ""), c.Database(t, ""); a == b {
			t.Errorf("%s twice", a)
		}
		c.SQL(t, "shop", "CREATE TABLE stick (length BIGINT); INSERT INTO stick VALUES (195072000)")
		before := serverProcess(t, folder)
		c.Restart(t)
		if pid = serverProcess(t, folder); pid == before {
			t.Errorf("process %d is still the server", pid)
		}
		c.SQL(t, "shop", "DO $$ BEGIN ASSERT (SELECT sum(length) FROM stick) = 195072000; END $$")
		c.SQL(t, "shop", "DO $$ BEGIN ASSERT current_setting('fsync') = 'on' AND current_setting('synchronous_commit') = 'on' AND current_setting('full_page_writes') = 'on'; END $$")
	})
	if pid != 0 {
		gone(t, folder, pid)
	}
}

// A test that is killed takes its server along.
func TestKilled(t *testing.T) {
	if _, err := find(); err != nil {
		Start(t) // which says why not
	}
	child := exec.Command(os.Args[0])
	child.Env = append(os.Environ(), dies+"=1")
	child.Stderr = os.Stderr
	out, err := child.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := child.Start(); err != nil {
		t.Fatal(err)
	}
	line, err := bufio.NewReader(out).ReadString('\n')
	folder := strings.TrimSpace(line)
	if err != nil || folder == "" {
		t.Fatalf("%q, %v", line, err)
	}
	pid := serverProcess(t, folder)
	if err := child.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	child.Wait()
	gone(t, folder, pid)
}

// gone waits until the server and its folder are.
func gone(t *testing.T, folder string, pid int) {
	t.Helper()
	for range 600 {
		_, err := os.Stat(folder)
		if os.IsNotExist(err) && syscall.Kill(pid, 0) != nil {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	t.Errorf("%s or process %d is still there", folder, pid)
}

func TestShared(t *testing.T) {
	a, b := Shared(t), Shared(t)
	if a != b || a.Database(t, "") == b.Database(t, "") {
		t.Error("two clusters, or one database")
	}
}

// If skipping is not allowed, the test fails.
func TestNotThere(t *testing.T) {
	t.Setenv(Variable, t.TempDir())
	if dir, err := find(); err == nil {
		t.Errorf("found in %s", dir)
	}
}
