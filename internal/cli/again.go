package cli

import (
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"hopperful/quantity"
	"hopperful/shop"
)

// A record as the command that would write it again.

// commandWords are the command of each kind of record.
var commandWords = map[string]string{
	"taken_in": "take-in", "sorted": "record sorted", "ground": "record ground", "weighed": "record weighed", "sieved": "record sieved",
	"passed_magnet": "record magnet", "dedusted": "record dedusted", "dried": "record dried", "jar_weighed": "record jar", "coloured": "record coloured",
	"blended": "record blended", "flow_tested": "record flow-test", "printed": "record printed", "discarded": "record discarded", "serviced": "record serviced",
	"happened": "record happened", "mill_set": "machines set mill", "scale_set": "machines set scale", "printer_set": "machines set printer",
	"person_set": "machines set person", "shop_set": "machines set shop", "confirmed": "record confirmed",
}

// again is the words of the command that would write a record once more; nil
// where no command writes such a record out of flags alone.
func again(env *Env, r shop.Record) []string {
	path, ok := commandWords[r.Body.Kind()]
	if b, coloured := r.Body.(*shop.Coloured); !ok || coloured && len(b.Curve) > 0 {
		return nil
	}
	out := strings.Fields(path)
	c, _, err := commandTree(env, nil).Find(out)
	if err != nil {
		return nil
	}
	args, err := wordsOf(r.Body)
	if err != nil {
		return nil
	}
	out = append(out, args...)
	flags, err := flagsOf(c, r.Body)
	if err != nil {
		return nil
	}
	out = append(out, flags...)
	out = append(out, "--at", r.At.Format("2006-01-02T15:04:05Z07:00"))
	for name, text := range map[string]string{"by": r.By, "note": r.Note} {
		if text != "" {
			out = append(out, "--"+name, text)
		}
	}
	return out
}

// tree is a body as its fields.
func tree(b shop.Body) (map[string]any, error) {
	text, err := shop.Encode(b)
	if err != nil {
		return nil, err
	}
	var fields map[string]any
	return fields, json.Unmarshal(text, &fields)
}

// wordsOf are the answers of a record that its command takes as words.
func wordsOf(b shop.Body) ([]string, error) {
	if c, ok := b.(*shop.Confirmed); ok {
		return []string{fmt.Sprint(c.Record)}, nil
	}
	fields, err := tree(b)
	if err != nil {
		return nil, err
	}
	var list []string
	for _, key := range words[b.Kind()] {
		switch v := fields[key].(type) {
		case float64:
			list = append(list, typedAs(quantity.Mass, v))
		case string:
			list = append(list, v)
		}
	}
	return list, nil
}

// flagsOf are the answers of a record as the flags of its command.
func flagsOf(c *cobra.Command, b shop.Body) ([]string, error) {
	fields, err := tree(b)
	if err != nil {
		return nil, err
	}
	out := lists(b, fields)
	for _, key := range words[b.Kind()] {
		delete(fields, key)
	}
	var walk func(fields map[string]any)
	walk = func(fields map[string]any) {
		keys := make([]string, 0, len(fields))
		for key := range fields {
			keys = append(keys, key)
		}
		slices.Sort(keys)
		for _, key := range keys {
			if sub, ok := fields[key].(map[string]any); ok {
				walk(sub)
				continue
			}
			if f := flagFor(c, key); f != nil {
				out = append(out, flagText(f, fields[key])...)
			}
		}
	}
	walk(fields)
	return out, nil
}

// flagText is one flag with its value.
func flagText(f *pflag.Flag, v any) []string {
	value := f.Value
	if n, ok := value.(noted); ok {
		value = n.Value
	}
	switch v := v.(type) {
	case bool:
		if v {
			return []string{"--" + f.Name}
		}
	case string:
		if v != "" {
			return []string{"--" + f.Name, v}
		}
	case float64:
		if q, ok := value.(quantityFlag); ok {
			return []string{"--" + f.Name, typedAs(q.kind, v)}
		}
		return []string{"--" + f.Name, strconv.FormatFloat(v, 'f', -1, 64)}
	}
	return nil
}

// typedAs is a quantity in the workshop's unit where that says it exactly, else
// in the unit that does.
func typedAs(kind quantity.Kind, si float64) string {
	text := kind.Plain(si)
	if back, err := kind.Parse(text); err == nil && back == si {
		return text
	}
	return kind.Exact(si)
}

// lists are the answers that are given several times, and take them out of the
// fields.
func lists(b shop.Body, fields map[string]any) []string {
	var out []string
	add := func(flag, text string) { out = append(out, "--"+flag, text) }
	mass := func(kg float64) string { return typedAs(quantity.Mass, kg) }
	switch b := b.(type) {
	case *shop.Blended:
		delete(fields, "from")
		for _, p := range b.From {
			add("from", fmt.Sprintf("%s=%s", p.Lot, mass(p.Mass)))
		}
	case *shop.Sorted:
		delete(fields, "into")
		for _, p := range b.Into {
			add("into", heapText(p))
		}
	case *shop.FlowTested:
		for _, kg := range b.Cuts {
			add("cut", mass(kg))
		}
	case *shop.Sieved:
		for _, x := range b.Sieves {
			add("sieve", typedAs(quantity.Length, x.Opening)+"="+weighedText(x.Mass, x.Tare))
		}
		add("pan", weighedText(b.Pan, b.PanTare))
		delete(fields, "pan_kg")
		delete(fields, "sieves")
	case *shop.Coloured:
		switch {
		case b.Lab != nil:
			add("lab", fmt.Sprintf("%v,%v,%v", b.Lab.L, b.Lab.A, b.Lab.B))
			add("observer", fmt.Sprint(b.Lab.Observer))
		case b.How == shop.ByEye:
			add("eye", b.RGB)
		default:
			add("photo", b.RGB)
		}
		delete(fields, "lab")
	case *shop.MillSet:
		if k := b.Mill.Controller; k != nil {
			add("controller-levels", fmt.Sprint(k.Levels))
			if k.Continuous != nil {
				add("controller-continuous", typedAs(quantity.Power, *k.Continuous))
			}
			for _, w := range k.Watts {
				add("watts", fmt.Sprintf("%d=%s", w.Level, typedAs(quantity.Power, w.Watts)))
			}
			for _, w := range k.IdleWatts {
				add("idle-watts", fmt.Sprintf("%d=%s", w.Level, typedAs(quantity.Power, w.Watts)))
			}
		}
		if mill, ok := fields["mill"].(map[string]any); ok {
			delete(mill, "controller")
		}
	}
	return out
}

// weighedText is a mass on a sieve, with the sieve's own where it was weighed so.
func weighedText(kg float64, tare *float64) string {
	if tare == nil {
		return typedAs(quantity.Mass, kg)
	}
	return typedAs(quantity.Mass, kg) + "/" + typedAs(quantity.Mass, *tare)
}

// heapText is a heap as --into takes it.
func heapText(p shop.Part) string {
	text := []string{typedAs(quantity.Mass, p.Mass)}
	for _, x := range []struct{ key, value string }{{"lot", string(p.Lot)}, {"name", p.Name}, {"polymer", p.Polymer}, {"colour", p.Colour}, {"rgb", p.RGB}, {"halogen", string(p.Halogen)}} {
		if x.value != "" {
			text = append(text, x.key+"="+x.value)
		}
	}
	for _, x := range []struct {
		key  string
		kind quantity.Kind
		v    *float64
	}{{"sure", quantity.Share, p.Sure}, {"largest", quantity.Length, p.Pieces.Largest}, {"wall", quantity.Length, p.Pieces.Wall}, {"infill", quantity.Share, p.Pieces.Infill}} {
		if x.v != nil {
			text = append(text, x.key+"="+typedAs(x.kind, *x.v))
		}
	}
	return strings.Join(text, ",")
}

// bare are words that a shell takes as they are.
var bare = regexp.MustCompile(`^[A-Za-z0-9_./:=+%,@-]+$`)

// quoted is a command as it is typed into a shell.
func quoted(list []string) string {
	var out []string
	for _, w := range list {
		if !bare.MatchString(w) {
			w = "'" + strings.ReplaceAll(w, "'", `'\''`) + "'"
		}
		out = append(out, w)
	}
	return "hopperful " + strings.Join(out, " ")
}
