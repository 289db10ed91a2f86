//go:build !linux

package pgtest

import (
	"os"
	"os/exec"
	"os/user"
)

// quit ends the server.
var quit = os.Interrupt

// runAs changes nothing: elsewhere tests do not run as the superuser.
func runAs(*exec.Cmd, *user.User) {}

// startBound starts a command and waits for it.
func startBound(c *exec.Cmd, started chan<- error, ended chan<- struct{}) {
	err := c.Start()
	started <- err
	if err == nil {
		_ = c.Wait() // how it ended is in what it said
	}
	close(ended)
}
