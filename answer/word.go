package answer

import (
	"strings"

	"hopperful/polymer"
	"hopperful/shop"
)

// Sentence starts with a capital and ends with a full stop.
func Sentence(text string) string {
	if text == "" {
		return ""
	}
	text = Capital(text)
	if !strings.HasSuffix(text, ".") {
		text += "."
	}
	return text
}

// Capital starts a text with a capital letter.
func Capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// List joins words as a sentence does.
func List(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// Named is a name in brackets after a label, nothing when there is none.
func Named(name string) string {
	if name == "" {
		return ""
	}
	return " (" + name + ")"
}

// LotName is a lot's label and its name.
func LotName(lot *shop.Lot) string { return string(lot.ID) + Named(lot.Name) }

// OrUnknown says that a word is not known when it is empty.
func OrUnknown(s string) string {
	if s == "" {
		return "not known"
	}
	return s
}

// OrUnnamed is a polymer's name, the books' unknown when there is none.
func OrUnnamed(name string) string {
	if name == "" {
		return polymer.Unknown
	}
	return name
}

// OrNone lists names, or says that there is none yet.
func OrNone(names []string) string {
	if len(names) == 0 {
		return "none yet"
	}
	return strings.Join(names, ", ")
}
