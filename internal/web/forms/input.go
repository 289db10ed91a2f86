package forms

import (
	"encoding/json"
	"errors"
	"maps"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"hopperful/fact"
	"hopperful/internal/exchange"
	"hopperful/internal/say"
	"hopperful/internal/web/drawing"
	"hopperful/process/colour"
	"hopperful/quantity"
	"hopperful/shop"
)

// MostForm bounds a form without a file.
const MostForm = 1 << 20

// ReadForm reads a bounded form; false when it is larger or broken.
func ReadForm(w http.ResponseWriter, r *http.Request) bool {
	r.Body = http.MaxBytesReader(w, r.Body, MostForm)
	return r.ParseForm() == nil
}

// Input is what a person typed into a sheet, and what is wrong with it.
type Input struct {
	Values url.Values
	Wrong  map[string]Wrong // by path; "" is about the sheet as a whole
	Under  string           // what the shop writes around the names of this sheet: "need." before "mass"
	Began  url.Values       // of a correction: what the record says, which needs no looking at
	stack  Rows             // the sheet's sieves, when it has any
	Say    *say.Printer
}

// Wrong says what is wrong with an answer and what to do.
type Wrong struct{ Say, Hint string }

// NewInput is what was typed, with nothing wrong yet.
func NewInput(p *say.Printer, v url.Values) *Input {
	return &Input{Values: v, Wrong: map[string]Wrong{}, Say: p}
}

// Refuse says what is wrong at a path; the first to say so is heard.
func (in *Input) Refuse(path, say, hint string) {
	if _, already := in.Wrong[path]; !already {
		in.Wrong[path] = Wrong{in.Say.Word(say), in.Say.Word(hint)}
	}
}

// FirstWrong is what a program is told of all that is wrong: by the order of the
// paths, so that the same question gets the same answer.
func (in *Input) FirstWrong() (Wrong, bool) {
	if len(in.Wrong) == 0 {
		return Wrong{}, false
	}
	return in.Wrong[slices.Min(slices.Collect(maps.Keys(in.Wrong)))], true
}

// several are all answers of one name, none empty, as many as one sheet may ask for.
func (in *Input) several(path string) []string {
	var all []string
	for _, v := range in.Values[path] {
		if v = strings.TrimSpace(v); v != "" && len(all) < mostListed {
			all = append(all, v)
		}
	}
	return all
}

// Typed is the answer at a path without the space around it.
func (in *Input) Typed(path string) string { return strings.TrimSpace(in.Values.Get(path)) }

// Read turns the answers into a body of the sheet's kind. What the sheet does
// not ask for is kept from was, the body that is corrected, nil for none.
func (in *Input) Read(sh Sheet, was shop.Body) shop.Body {
	tree := map[string]any{}
	if was != nil {
		if raw, err := shop.Encode(was); err == nil {
			_ = json.Unmarshal(raw, &tree) // Encode just wrote it
		}
	}
	partly := was != nil && in.partial(sh)
	sh.Fields(func(f Field) {
		if partly && !in.Values.Has(f.Path) {
			return
		}
		v, err := f.Parse(in.Typed(f.Path))
		if err != nil {
			say, hint := Said(in.Say, err)
			in.Refuse(f.Path, say, hint)
			return
		}
		if v == nil && f.Must {
			in.Refuse(f.Path, "form.this_is_needed", "")
		}
		plant(tree, strings.Split(f.Path, "."), v)
	})
	in.stack = sh.Stack
	if sh.Shape != nil {
		sh.Shape(tree)
	}
	if sh.Check != nil {
		sh.Check(in)
	}
	raw, err := json.Marshal(gathered(tree))
	if err != nil {
		in.Refuse("", "form.sheet_unreadable", "form.sheet_unreadable_advice")
		return nil
	}
	body, err := shop.Decode(sh.Kind, raw)
	switch {
	case len(in.Wrong) > 0: // what else is wrong is told at once, where it can stand
		in.RefusedAt(err, sh)
		return nil
	case err != nil:
		in.Refused(err)
		return nil
	}
	return body
}

// partial says whether only some of a sheet was answered, as a program does: a
// browser sends every line of its form, empty ones too.
func (in *Input) partial(sh Sheet) bool {
	partial := false
	sh.Fields(func(f Field) {
		if f.As == AsAmount || f.As == AsText {
			partial = partial || !in.Values.Has(f.Path)
		}
	})
	return partial
}

// Refused puts the shop's refusals beside the fields they name.
func (in *Input) Refused(err error) bool {
	var e *shop.Error
	if !errors.As(err, &e) {
		return false
	}
	all := shop.Faults{e}
	errors.As(err, &all)
	for _, e := range all {
		say, hint := in.Say.Refusal(e)
		in.Refuse(in.whereOf(e), say, hint)
	}
	return true
}

// RefusedAt takes only the refusals whose field the sheet shows: of a body that
// lacks what could not be read, the others say nothing.
func (in *Input) RefusedAt(err error, sh Sheet) {
	var e *shop.Error
	if !errors.As(err, &e) {
		return
	}
	all := shop.Faults{e}
	errors.As(err, &all)
	sh.Fields(func(f Field) {
		for _, e := range all {
			if in.whereOf(e) == f.Path && in.Typed(f.Path) != "" {
				say, hint := in.Say.Refusal(e)
				in.Refuse(f.Path, say, hint)
			}
		}
	})
}

// whereOf is the field of the sheet that a refusal of the shop is about.
func (in *Input) whereOf(e *shop.Error) string {
	switch {
	case in.stack != nil:
		return in.stack.Row(e.Field)
	case in.Under != "":
		return strings.TrimSuffix(strings.TrimPrefix(e.Field, in.Under), "_kg")
	}
	return e.Field
}

// Parse reads one answer; nil is none.
func (f Field) Parse(typed string) (any, error) {
	if f.As == AsCheck {
		return typed != "", nil
	}
	if typed == "" || f.As == AsColour && (typed == "none" || typed == drawing.NoColour.String()) {
		return nil, nil
	}
	switch f.As {
	case AsAmount:
		return f.Kind.ParseOr(typed, f.Unit)
	case AsWhole:
		n, err := strconv.Atoi(typed)
		if err != nil {
			return nil, shop.Refuse(shop.Invalid, f.Path, fact.Say("form.no_whole", fact.Name("text", typed)), fact.Saying{})
		}
		return n, nil
	case AsDay:
		if !inOurTime(time.DateOnly, typed) {
			return nil, shop.Refuse(shop.Invalid, f.Path, fact.Say("form.no_day", fact.Name("text", typed)), fact.Say("form.write_day"))
		}
	case AsMonth:
		if !inOurTime(Month, typed) {
			return nil, shop.Refuse(shop.Invalid, f.Path, fact.Say("form.no_month", fact.Name("text", typed)), fact.Say("form.write_month"))
		}
	case asLevels:
		return ParseLevels(typed)
	case AsCode:
		c, err := colour.ParseHex(typed)
		if err != nil {
			return nil, err
		}
		code, _ := c.Hex()
		return code, nil
	case AsShares:
		return colour.ParsePortions(typed)
	case AsList:
		return parseList(f, typed)
	case AsCurve:
		return parseCurve(typed)
	}
	return strings.ReplaceAll(typed, "\r\n", "\n"), nil
}

// Month is how a month is typed.
const Month = "2006-01"

// inOurTime says whether a day or month is one, and one a workshop may have seen.
func inOurTime(layout, typed string) bool {
	t, err := time.Parse(layout, typed)
	return err == nil && t.Year() >= 2000 && t.Year() < 2200
}

// mostListed bounds the quantities of one answer.
const mostListed = 200

// parseList reads quantities, a line each or with semicolons between.
func parseList(f Field, typed string) (any, error) {
	list := []any{}
	for part := range strings.FieldsFuncSeq(typed, func(r rune) bool { return r == '\n' || r == ';' }) {
		if part = strings.TrimSpace(part); part == "" {
			continue
		}
		v, err := f.Kind.ParseOr(part, f.Unit)
		if err != nil {
			return nil, err
		}
		if list = append(list, v); len(list) > mostListed {
			return nil, shop.Refuse(shop.Invalid, f.Path, fact.Say("form.too_many_numbers", fact.Count("most", mostListed)), fact.Saying{})
		}
	}
	return list, nil
}

// levelLine is "3: 420 W".
var levelLine = regexp.MustCompile(`^(?:level\s*)?(\d{1,3})\s*[:=]\s*(.+)$`)

// ParseLevels reads what a meter showed at some levels, a line each.
func ParseLevels(typed string) (any, error) {
	var list []any
	for line := range strings.FieldsFuncSeq(typed, func(r rune) bool { return r == '\n' || r == ';' }) {
		line = strings.TrimSpace(line)
		if line == "" {
			continue
		}
		m := levelLine.FindStringSubmatch(strings.ToLower(line[:min(5, len(line))]) + line[min(5, len(line)):])
		if m == nil {
			return nil, shop.Refuse(shop.Invalid, "", fact.Say("form.no_level", fact.Name("text", line)), fact.Say("form.write_level"))
		}
		w, err := quantity.Power.ParseOr(m[2], "W")
		if err != nil {
			return nil, err
		}
		level, _ := strconv.Atoi(m[1]) // one to three digits
		list = append(list, map[string]any{"level": level, "w": w})
	}
	return list, nil
}

// plant puts a value at its path; nil takes away what was there. A step that is
// a number is an entry of a list.
func plant(tree map[string]any, path []string, v any) {
	for _, step := range path[:len(path)-1] {
		next, ok := tree[step].(map[string]any)
		if !ok {
			next = map[string]any{}
			if old, isList := tree[step].([]any); isList {
				for i, e := range old {
					next[strconv.Itoa(i)] = e
				}
			}
			tree[step] = next
		}
		tree = next
	}
	last := path[len(path)-1]
	if v == nil || v == false {
		delete(tree, last)
		return
	}
	tree[last] = v
}

// gathered turns maps with numbered keys into lists and drops empty ones, so
// that a group of questions nobody answered leaves no trace.
func gathered(v any) any {
	m, ok := v.(map[string]any)
	if !ok {
		return v
	}
	var list []any
	numbered := len(m) > 0
	for k := range m {
		if _, err := strconv.Atoi(k); err != nil {
			numbered = false
		}
	}
	for i := 0; numbered && i < 100; i++ {
		if e, ok := gathered(m[strconv.Itoa(i)]).(map[string]any); ok && len(e) > 0 {
			list = append(list, e)
		}
	}
	if numbered {
		return list
	}
	out := map[string]any{}
	for k, e := range m {
		g := gathered(e)
		if sub, isMap := g.(map[string]any); isMap && len(sub) == 0 {
			continue
		}
		out[k] = g
	}
	return out
}

// Moment reads the time a record is for; zero is now.
func (in *Input) Moment(loc *time.Location) time.Time {
	typed := in.Typed("at")
	if typed == "" {
		return time.Time{}
	}
	for _, form := range []string{"2006-01-02T15:04", "2006-01-02T15:04:05", "2006-01-02 15:04"} {
		if t, err := time.ParseInLocation(form, typed, loc); err == nil {
			return t
		}
	}
	in.Refuse("at", in.Say.Line("form.is_no_date_and_time", fact.Name("typed", typed)), "form.moment_form")
	return time.Time{}
}

// Said splits an error into what is wrong and what to do, in the words of p.
func Said(p *say.Printer, err error) (say, hint string) {
	var e *shop.Error
	if errors.As(err, &e) {
		return p.Refusal(e)
	}
	var table *exchange.Error
	if errors.As(err, &table) {
		return p.Say(table.Says()), p.Say(table.Advice)
	}
	if e := shop.Refused(shop.Invalid, "", err); e.Known() {
		return p.Refusal(e)
	}
	say = err.Error()
	if say != "" {
		say = strings.ToUpper(say[:1]) + say[1:]
	}
	if !strings.HasSuffix(say, ".") {
		say += "."
	}
	return say, ""
}
