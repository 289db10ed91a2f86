package web

import "hopperful/shop/fields"

// wayOf is how a page asks what a record is asked.
var wayOf = map[fields.As]entry{
	fields.Amount: asAmount, fields.Whole: asWhole, fields.Text: asText, fields.YesNo: asYesNo, fields.Pick: asChoice,
	fields.Check: asCheck, fields.Colour: asColour, fields.Levels: asLevels, fields.Lot: asSelect, fields.Named: asSelect,
}

// asking makes the questions of one kind of record from the table of its fields.
func asking(kind string) func(path string) field {
	return func(path string) field {
		t := fields.Get(kind, path)
		f := field{Path: t.Path, Label: t.Label, Help: t.Help, As: wayOf[t.As], Kind: t.Kind, Unit: t.Unit, Must: t.Must}
		if t.As == fields.YesNo {
			f = yesNo(t.Path, t.Label, t.Help)
		}
		for _, c := range t.Pick {
			f.Choices = append(f.Choices, option{c.Value, c.Say})
		}
		return f
	}
}

// all makes several questions one after the other.
func all(ask func(string) field, paths ...string) []field {
	var fs []field
	for _, p := range paths {
		fs = append(fs, ask(p))
	}
	return fs
}

// among offers answers to choose from.
func (f field) among(choices []option) field { f.Choices = choices; return f }

// suggesting offers words while typing.
func (f field) suggesting(words []string) field { f.Suggest = words; return f }

// helped says something else beside the question, when there is more to say.
func (f field) helped(help string) field { f.Help = orSay(help, f.Help); return f }

// as asks in another way: one of many from a list instead of side by side.
func (f field) as(way entry) field { f.As = way; return f }
