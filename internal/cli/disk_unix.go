//go:build unix

package cli

import "golang.org/x/sys/unix"

// freeOn is how many bytes this user may still write in a folder.
func freeOn(folder string) (uint64, error) {
	var s unix.Statfs_t
	if err := unix.Statfs(folder, &s); err != nil {
		return 0, err
	}
	return uint64(s.Bavail) * uint64(s.Bsize), nil
}
