package pgtest

import (
	"os"
	"os/exec"
	"os/user"
	"runtime"
	"syscall"
)

// quit is the server's signal to end at once.
const quit = syscall.SIGQUIT

// runAs has a command run as a user who is not the superuser.
func runAs(c *exec.Cmd, u *user.User) {
	c.SysProcAttr = &syscall.SysProcAttr{Pdeathsig: syscall.SIGQUIT}
	if os.Geteuid() == 0 {
		uid, gid := ids(u)
		c.SysProcAttr.Credential = &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}
	}
}

// startBound starts a command and waits for it in a thread of its own: the system ends
// the server when the thread that started it is gone, so also when a test is killed.
func startBound(c *exec.Cmd, started chan<- error, ended chan<- struct{}) {
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	err := c.Start()
	started <- err
	if err == nil {
		_ = c.Wait() // how it ended is in what it said
	}
	close(ended)
}
