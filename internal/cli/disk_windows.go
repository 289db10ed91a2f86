package cli

import "golang.org/x/sys/windows"

// freeOn is how many bytes this user may still write in a folder.
func freeOn(folder string) (uint64, error) {
	name, err := windows.UTF16PtrFromString(folder)
	if err != nil {
		return 0, err
	}
	var free uint64
	err = windows.GetDiskFreeSpaceEx(name, &free, nil, nil)
	return free, err
}
