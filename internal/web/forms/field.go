package forms

import (
	"cmp"

	"hopperful/shop/fields"
)

// wayOf is how a page asks what a record is asked.
var wayOf = map[fields.As]Way{
	fields.Amount: AsAmount, fields.Whole: AsWhole, fields.Text: AsText, fields.YesNo: asYesNo, fields.Pick: AsChoice,
	fields.Check: AsCheck, fields.Colour: AsColour, fields.Levels: asLevels, fields.Lot: AsSelect, fields.Named: AsSelect,
}

// Of makes the questions of one kind of record from the table of its fields.
func Of(kind string) func(path string) Field {
	return func(path string) Field {
		t := fields.Get(kind, path)
		f := Field{Path: t.Path, Label: t.Label, Help: t.Help, As: wayOf[t.As], Kind: t.Kind, Unit: t.Unit, Must: t.Must}
		if t.As == fields.YesNo {
			f = YesNo(t.Path, t.Label, t.Help)
		}
		for _, c := range t.Pick {
			f.Choices = append(f.Choices, Option{c.Value, c.Say})
		}
		return f
	}
}

// All makes several questions one after the other.
func All(ask func(string) Field, paths ...string) []Field {
	var fs []Field
	for _, p := range paths {
		fs = append(fs, ask(p))
	}
	return fs
}

// Among offers answers to choose from.
func (f Field) Among(choices []Option) Field { f.Choices = choices; return f }

// Suggesting offers words while typing.
func (f Field) Suggesting(words []string) Field { f.Suggest = words; return f }

// Helped says something else beside the question, when there is more to say.
func (f Field) Helped(help string) Field { f.Help = cmp.Or(help, f.Help); return f }

// Asked asks in another way: one of many from a list instead of side by side.
func (f Field) Asked(way Way) Field { f.As = way; return f }
