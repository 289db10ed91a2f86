package cli

import (
	"runtime"
	"runtime/debug"
	"sync"
	"time"
)

// How much garbage is left lying, of what is in use, in per cent.
const (
	// A server stands for months beside a mill, on a board with little memory, and a long shop's pages
	// leave much behind.
	serveCollection = 40
	// While it starts, 80 MB may come together: twenty times the 4 MB that Go begins to collect at. Until
	// the first page a long shop of a million records leaves less, and collecting took a quarter of the time.
	startCollection = 2000
)

// starting is how long a start takes at most, with the first page. Judgement.
const starting = 4 * time.Second

// collectLater lets garbage lie while a server starts: until there is much of it, or for a while. From
// then on it is collected as serveCollection says. What it returns ends all that.
func collectLater() (end func()) {
	before := debug.SetGCPercent(startCollection)
	var once sync.Once
	settle := func() { once.Do(func() { debug.SetGCPercent(serveCollection) }) }
	runtime.AddCleanup(new([64]byte), func(settle func()) { settle() }, settle) // with the first collection
	late := time.AfterFunc(starting, settle)
	return func() {
		late.Stop()
		once.Do(func() {})
		debug.SetGCPercent(before)
	}
}
