package web

import (
	"encoding/json"
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"hopperful/internal/say"
	"hopperful/quantity"
	"hopperful/shop"
)

// formView is a sheet ready to be drawn by parts/form.html.
type formView struct {
	Sheet  sheet
	Groups []groupView
	Action string
	Get    bool   // it asks and writes nothing: its answers stand in the address
	Next   string // where to go afterwards, when not to the record's own page
	Wrong  []wrong
	Faults int // how many fields are wrong
	When   []fieldView
	Skip   *link
}

// groupView is a group with its answers.
type groupView struct {
	group
	Open   bool // folded, but holding something
	Fields []fieldView
}

// fieldView is a field with its answer.
type fieldView struct {
	field
	ID     string
	Value  string
	Picked []string // the answers of a field that takes many
	Wrong  *wrong
	Focus  bool // the first field to be mended
}

// Has reports whether the answer is the option, or one of the answers is.
func (f fieldView) Has(o option) bool {
	if f.As == asMany {
		return slices.Contains(f.Picked, o.Value)
	}
	return f.Value == o.Value
}

// Keypad is the keypad a phone opens for an amount: digits and the decimal sign,
// but for what may be below zero, which some keypads of digits cannot type.
func (f fieldView) Keypad() string {
	if f.Kind == quantity.Number || strings.Contains(f.Path, "dew_point") {
		return "text"
	}
	return "decimal"
}

// Described names what a screen reader reads with the field.
func (f fieldView) Described() string {
	var ids []string
	if f.Help != "" {
		ids = append(ids, f.ID+"-help")
	}
	if f.Wrong != nil {
		ids = append(ids, f.ID+"-wrong")
	}
	return strings.Join(ids, " ")
}

// form lays a sheet out with what was typed so far.
func form(sh sheet, in *input, action string, people []shop.PersonSet) formView {
	v := formView{Sheet: sh, Action: action, Faults: len(in.Wrong)}
	placed, focused := map[string]bool{}, false
	for _, g := range sh.Groups {
		gv := groupView{group: g}
		for _, f := range g.Fields {
			fv := fill(f, in)
			fv.Focus = fv.Wrong != nil && !focused
			focused = focused || fv.Focus
			placed[f.Path] = f.As != asHidden // what is wrong with that cannot stand beside it
			gv.Open = gv.Open || fv.Wrong != nil || len(fv.Picked) > 0 || g.Folded && fv.Value != "" && fv.Value != f.First && f.As != asHidden
			gv.Fields = append(gv.Fields, fv)
		}
		v.Groups = append(v.Groups, gv)
	}
	if sh.Timed {
		for _, f := range whenFields(people) {
			placed[f.Path] = true
			v.When = append(v.When, fill(f, in))
		}
	}
	for path, w := range in.Wrong {
		if !placed[path] {
			v.Wrong = append(v.Wrong, w)
		}
	}
	return v
}

// WhenOpen reports whether the questions when and who hold anything.
func (v formView) WhenOpen() bool {
	for _, f := range v.When {
		if f.Value != "" || f.Wrong != nil {
			return true
		}
	}
	return false
}

func fill(f field, in *input) fieldView {
	fv := fieldView{field: f, ID: "f-" + strings.ReplaceAll(f.Path, ".", "-"), Value: in.Values.Get(f.Path)}
	if _, typed := in.Values[f.Path]; !typed {
		fv.Value = f.First
	}
	if f.As == asMany {
		fv.Picked = in.several(f.Path)
	}
	if w, ok := in.Wrong[f.Path]; ok {
		fv.Wrong = &w
	}
	return fv
}

// whenFields are the questions every timed record asks.
func whenFields(people []shop.PersonSet) []field {
	who := field{Path: "by", Label: "form.who", As: asSelect, Choices: []option{{"", "form.nobody_named"}}}
	for _, p := range people {
		if !p.Retired {
			who.Choices = append(who.Choices, option{p.Name, p.Name})
		}
	}
	fields := []field{{Path: "at", Label: "form.when", As: asMoment, Help: "form.empty_means_now"}}
	if len(who.Choices) > 1 {
		fields = append(fields, who)
	}
	return append(fields, field{Path: "note", Label: "form.note", As: asLong})
}

// answersOf shows a record on its sheet again, for correction.
func answersOf(sh sheet, r shop.Record, loc *time.Location, p *say.Printer) url.Values {
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
	sh.fields(func(f field) { v.Set(f.Path, f.show(p, dig(tree, strings.Split(f.Path, ".")))) })
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
func (f field) show(p *say.Printer, v any) string {
	switch t := v.(type) {
	case nil:
		return ""
	case bool:
		if t {
			return "yes"
		}
		return ""
	case float64:
		if f.As != asAmount {
			return strconv.FormatFloat(t, 'f', -1, 64)
		}
		return p.Typed(f.Kind, t, f.Unit)
	case []any:
		if f.As == asList {
			return showList(p, f, t)
		}
		if f.As == asCurve {
			return showCurve(p, t)
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

func showList(p *say.Printer, f field, list []any) string {
	var lines []string
	for _, e := range list {
		if si, ok := e.(float64); ok {
			lines = append(lines, p.Typed(f.Kind, si, f.Unit))
		}
	}
	return strings.Join(lines, "\n")
}

func toString(v any) string { return fmt.Sprint(v) }

// HasFile reports whether the sheet asks for a file, which needs another way of
// sending it.
func (v formView) HasFile() bool {
	has := false
	v.Sheet.fields(func(f field) { has = has || f.As == asFile })
	return has
}
