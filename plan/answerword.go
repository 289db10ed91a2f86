package plan

import (
	"hopperful/polymer"
	"hopperful/shop"
	"strings"
)

// sentence starts with a capital and ends with a full stop.
func sentence(text string) string {
	if text == "" {
		return ""
	}
	text = capital(text)
	if !strings.HasSuffix(text, ".") {
		text += "."
	}
	return text
}

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// wordList joins words as a sentence does.
func wordList(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

func named(name string) string {
	if name == "" {
		return ""
	}
	return " (" + name + ")"
}

func lotName(lot *shop.Lot) string { return string(lot.ID) + named(lot.Name) }

func orUnknown(s string) string {
	if s == "" {
		return "not known"
	}
	return s
}

func orUnnamed(name string) string {
	if name == "" {
		return polymer.Unknown
	}
	return name
}

func orNone(names []string) string {
	if len(names) == 0 {
		return "none yet"
	}
	return strings.Join(names, ", ")
}
