//go:build unix

package postgres

import (
	"errors"
	"os"
	"os/exec"
	"os/user"
	"strconv"
	"syscall"
)

// server returns the user of the server, since it refuses to run as root: that of Debian's
// package, otherwise the unprivileged one. Nil means the user of this process.
func server() (*syscall.Credential, error) {
	if os.Getuid() != 0 {
		return nil, nil
	}
	for _, name := range []string{"postgres", "nobody"} {
		u, err := user.Lookup(name)
		if err != nil {
			continue
		}
		uid, err := strconv.ParseUint(u.Uid, 10, 32)
		if err != nil {
			return nil, err
		}
		gid, err := strconv.ParseUint(u.Gid, 10, 32)
		if err != nil {
			return nil, err
		}
		return &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}, nil
	}
	return nil, errors.New("root cannot run it, and there is no user postgres and no user nobody")
}

// give makes the server's user the owner of a directory.
func give(folder string) error {
	c, err := server()
	if err != nil || c == nil {
		return err
	}
	return os.Chown(folder, int(c.Uid), int(c.Gid))
}

// apart makes a program run as the server's user, unaffected by an interrupt from the terminal.
func apart(cmd *exec.Cmd) {
	c, _ := server() // give has returned the error
	cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Credential: c}
}
