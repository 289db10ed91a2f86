package forms

import (
	"encoding/json"
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"hopperful/internal/say"
	"hopperful/internal/web/address"
	"hopperful/shop"
)

// View is a sheet ready to be drawn by parts/form.html.
type View struct {
	Sheet  Sheet
	Groups []GroupView
	Action string
	Get    bool   // it asks and writes nothing: its answers stand in the address
	Next   string // where to go afterwards, when not to the record's own page
	Wrong  []Wrong
	Faults int // how many fields are wrong
	When   []FieldView

	WhenOpen bool // folded, but holding something
	Skip     *address.Link
}

// GroupView is a group with its answers.
type GroupView struct {
	Group
	Open   bool // folded, but holding something
	Holds  int  // of a correction: answers
	Fields []FieldView
}

// FieldView is a field with its answer.
type FieldView struct {
	Field
	ID     string
	Value  string
	Picked []string // the answers of a field that takes many
	Wrong  *Wrong
	Focus  bool // the first field to be mended
}

// Has reports whether the answer is the option, or one of the answers is.
func (f FieldView) Has(o Option) bool {
	if f.As == AsMany {
		return slices.Contains(f.Picked, o.Value)
	}
	return f.Value == o.Value
}

// Keypad is the keypad a phone opens for an amount: digits and the decimal sign,
// but for what may be below zero, which some keypads of digits cannot type.
func (f FieldView) Keypad() string {
	if strings.Contains(f.Path, "dew_point") || strings.HasPrefix(f.Path, "lab.") || f.Dial != nil && f.Dial.Low < 0 {
		return "text"
	}
	return "decimal"
}

// Described names what a screen reader reads with the field.
func (f FieldView) Described() string {
	var ids []string
	if f.Help != "" {
		ids = append(ids, f.ID+"-help")
	}
	if f.Wrong != nil {
		ids = append(ids, f.ID+"-wrong")
	}
	return strings.Join(ids, " ")
}

// Laid lays a sheet out with what was typed so far.
func Laid(sh Sheet, in *Input, action string, people []shop.PersonSet) View {
	v := View{Sheet: sh, Action: action, Faults: len(in.Wrong)}
	placed, focused := map[string]bool{}, false
	for _, g := range sh.Groups {
		gv := GroupView{Group: g}
		for _, f := range g.Fields {
			fv := Filled(f, in)
			fv.Focus = fv.Wrong != nil && !focused
			focused = focused || fv.Focus
			placed[f.Path] = f.As != AsHidden // what is wrong with that cannot stand beside it
			gv.Open = gv.Open || g.Folded && fv.opens(in)
			if in.Began != nil && fv.holds() && f.As != AsHidden {
				gv.Holds++
			}
			gv.Fields = append(gv.Fields, fv)
		}
		v.Groups = append(v.Groups, gv)
	}
	if sh.Timed {
		for _, f := range whenFields(people) {
			placed[f.Path] = true
			fv := Filled(f, in)
			v.When, v.WhenOpen = append(v.When, fv), v.WhenOpen || fv.opens(in)
		}
	}
	for path, w := range in.Wrong {
		if !placed[path] {
			v.Wrong = append(v.Wrong, w)
		}
	}
	return v
}

// holds reports whether there is an answer.
func (f FieldView) holds() bool { return f.Value != "" || len(f.Picked) > 0 }

// opens reports whether the answer is to be seen in what is folded: it is wrong, or not what
// the sheet began with.
func (f FieldView) opens(in *Input) bool {
	switch {
	case f.Wrong != nil:
		return true
	case in.Began != nil:
		return !slices.Equal(in.Values[f.Path], in.Began[f.Path]) && f.holds() && f.As != AsHidden
	}
	return f.holds() && (f.As == AsMany || f.Value != f.First) && f.As != AsHidden
}

// Filled is a field with what was typed into it, or what it begins with.
func Filled(f Field, in *Input) FieldView {
	fv := FieldView{Field: f, ID: "f-" + strings.ReplaceAll(f.Path, ".", "-"), Value: in.Values.Get(f.Path)}
	if _, typed := in.Values[f.Path]; !typed {
		fv.Value = f.First
	}
	if f.As == AsMany {
		fv.Picked = in.several(f.Path)
	}
	if w, ok := in.Wrong[f.Path]; ok {
		fv.Wrong = &w
	}
	return fv
}

// whenFields are the questions every timed record asks.
func whenFields(people []shop.PersonSet) []Field {
	who := Field{Path: "by", Label: "form.who", As: AsSelect, Choices: []Option{{"", "form.nobody_named"}}}
	for _, p := range people {
		if !p.Retired {
			who.Choices = append(who.Choices, Option{p.Name, p.Name})
		}
	}
	fields := []Field{{Path: "at", Label: "form.when", As: asMoment, Help: "form.empty_means_now"}}
	if len(who.Choices) > 1 {
		fields = append(fields, who)
	}
	return append(fields, Field{Path: "note", Label: "form.note", As: AsLong})
}

// AnswersOf shows a record on its sheet again, for correction.
func AnswersOf(sh Sheet, r shop.Record, loc *time.Location, p *say.Printer) url.Values {
	v := url.Values{}
	v.Set("at", r.At.In(loc).Format("2006-01-02T15:04"))
	v.Set("by", r.By)
	v.Set("note", r.Note)
	raw, err := shop.Encode(r.Body)
	if err != nil {
		return v // a record kept by an older program may hold what is refused today; it is typed anew
	}
	var tree any
	if json.Unmarshal(raw, &tree) != nil {
		return v
	}
	sh.Fields(func(f Field) { v.Set(f.Path, f.show(p, dig(tree, strings.Split(f.Path, ".")))) })
	return v
}

// dig follows a path into a body.
func dig(tree any, path []string) any {
	for _, step := range path {
		switch t := tree.(type) {
		case map[string]any:
			tree = t[step]
		case []any:
			i, err := strconv.Atoi(step)
			if err != nil || i < 0 || i >= len(t) {
				return nil
			}
			tree = t[i]
		default:
			return nil
		}
	}
	return tree
}

// show writes an answer the way it would be typed, with every digit it has.
func (f Field) show(p *say.Printer, v any) string {
	switch t := v.(type) {
	case nil:
		return ""
	case bool:
		if t {
			return "yes"
		}
		return ""
	case float64:
		if f.As != AsAmount {
			return strconv.FormatFloat(t, 'f', -1, 64)
		}
		return p.Typed(f.Kind, t, f.Unit)
	case []any:
		if f.As == AsList {
			return showList(p, f, t)
		}
		if f.As == AsCurve {
			return ShowCurve(p, t)
		}
		return showLevels(p, t)
	}
	return fmt.Sprint(v)
}

func showLevels(p *say.Printer, list []any) string {
	var lines []string
	for _, e := range list {
		level, w := dig(e, []string{"level"}), dig(e, []string{"w"})
		lines = append(lines, p.Decimal(fmt.Sprintf("%v: %v W", level, w)))
	}
	return strings.Join(lines, "\n")
}

func showList(p *say.Printer, f Field, list []any) string {
	var lines []string
	for _, e := range list {
		if si, ok := e.(float64); ok {
			lines = append(lines, p.Typed(f.Kind, si, f.Unit))
		}
	}
	return strings.Join(lines, "\n")
}

// HasFile reports whether the sheet asks for a file, which needs another way of
// sending it.
func (v View) HasFile() bool {
	has := false
	v.Sheet.Fields(func(f Field) { has = has || f.As == AsFile })
	return has
}
