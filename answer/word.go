package answer

// What something without a name is called.

import "hopperful/polymer"

// OrUnnamed is a polymer's name, the books' unknown when there is none.
func OrUnnamed(name string) string {
	if name == "" {
		return polymer.Unknown
	}
	return name
}
