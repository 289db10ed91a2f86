package store

import (
	"hopperful/fact"

	"path/filepath"
	"runtime"
)

// DefaultPath is where a person's shop is kept when no path is named: in the
// folder the operating system has for a user's data. env is os.Getenv. The
// folder may not be there yet; see [Options].MakeFolder.
func DefaultPath(env func(string) string) (string, error) {
	return defaultPath(runtime.GOOS, env)
}

func defaultPath(system string, env func(string) string) (string, error) {
	var folder string
	home := env("HOME")
	switch {
	case system == "windows":
		folder = env("LocalAppData")
	case system == "darwin" && home != "":
		folder = filepath.Join(home, "Library", "Application Support")
	case filepath.IsAbs(env("XDG_DATA_HOME")):
		folder = env("XDG_DATA_HOME")
	case home != "":
		folder = filepath.Join(home, ".local", "share")
	}
	if folder == "" {
		return "", &Error{Missing, fact.Say("store.no_data_folder"), fact.Say("store.do_name_file"), nil}
	}
	return filepath.Join(folder, "hopperful", "shop.hopperful"), nil
}
