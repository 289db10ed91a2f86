package cli

import (
	"encoding/json"
	"reflect"
	"regexp"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"hopperful/fact"
	"hopperful/shop"
)

// A correction changes what is named and keeps the rest: what was typed is laid
// over the record that it corrects, field by field.

// correcting says whether a command was told which record it corrects.
func correcting(c *cobra.Command) bool {
	f := c.Flags().Lookup("corrects")
	return f != nil && f.Changed
}

// standingAs is the record of a number, or of a correction of it, as it stands.
func standingAs(s *shop.State, id shop.RecordID) (shop.Record, bool) {
	if r, ok := s.Written(id); ok && r.Corrects != 0 {
		return s.Record(r.Corrects)
	}
	return s.Record(id)
}

// together are answers that only make sense as a whole: where one of them is
// typed anew, the old ones go.
var together = map[string][]string{
	"sieved":   {"series", "holes", "sieves", "pan_kg", "pan_tare_kg", "gross", "portions"},
	"coloured": {"how", "rgb", "lab", "curve"},
}

// laidOver is the body old with what was typed in its place.
func laidOver(c *cobra.Command, old, typed shop.Body) (shop.Body, error) {
	was, now := map[string]any{}, map[string]any{}
	for body, tree := range map[shop.Body]*map[string]any{old: &was, typed: &now} {
		text, err := json.Marshal(body) // what was typed may not be whole, so it is not checked yet
		if err != nil {
			return nil, err
		}
		if err := json.Unmarshal(text, tree); err != nil {
			return nil, err
		}
	}
	group := together[old.Kind()]
	for _, key := range group {
		if v := now[key]; v != nil && !reflect.ValueOf(v).IsZero() {
			for _, gone := range group {
				delete(was, gone)
			}
			break
		}
	}
	overlay(c, was, now)
	text, err := json.Marshal(was)
	if err != nil {
		return nil, err
	}
	return shop.Decode(old.Kind(), text)
}

// overlay puts into was what was typed: where a flag stands for an answer, only if it was
// given, so that "unknown" and nothing take an answer away; else if it says something.
func overlay(c *cobra.Command, was, now map[string]any) {
	for key := range was {
		if _, there := now[key]; !there {
			now[key] = nil
		}
	}
	for key, v := range now {
		sub, branch := v.(map[string]any)
		old, same := was[key].(map[string]any)
		if _, leaf := v.([]any); same && !leaf && (branch || v == nil) {
			if sub == nil {
				sub = map[string]any{}
			}
			overlay(c, old, sub)
			continue
		}
		said := v != nil && !reflect.ValueOf(v).IsZero()
		if f := flagFor(c, key); f != nil {
			said = f.Changed
		}
		switch {
		case said && v == nil:
			delete(was, key)
		case said:
			was[key] = v
		}
	}
}

// unit is the end of a field's name.
var unit = regexp.MustCompile(`_(kg|m3|m|k|s|j|w|pa|db|rad_s)$`)

// flagNames are the flags that are not called as their field.
var flagNames = map[string]string{"rest_before_s": "rest", "opening_m": "through", "run": "of-run", "cut_s": "cut-time", "cuts_kg": "cut", "sieves": "sieve",
	"rotor_rad_s": "speed", "rotor_kg": "rotor-mass", "wall_kg": "wall-mass", "resolution_kg": "resolution", "continuous_w": "continuous", "protective_earth": "earth",
	"residual_current": "rcd", "electricity_per_j": "electricity", "room_humidity": "humidity", "per_turn_m3": "per-turn", "largest_grain_m": "largest-grain",
	"hopper_exit_m": "hopper-exit", "hopper_m3": "hopper", "since_kg": "since"}

// flagFor is the flag of a command that stands for a field of its record, nil for none.
func flagFor(c *cobra.Command, key string) *pflag.Flag {
	name, ok := flagNames[key]
	if !ok {
		name = strings.ReplaceAll(unit.ReplaceAllString(key, ""), "_", "-")
	}
	return c.Flags().Lookup(name)
}

// words are the fields of a record that are typed as words of its command, not
// as flags.
var words = map[string][]string{
	"weighed": {"lot", "mass_kg"}, "discarded": {"lot", "mass_kg"}, "dedusted": {"lot", "dust_kg"}, "taken_in": {"mass_kg"},
	"sieved": {"lot"}, "passed_magnet": {"lot"}, "dried": {"lot"}, "jar_weighed": {"lot"}, "coloured": {"lot"}, "flow_tested": {"lot"}, "happened": {"what"},
}

// kindOf is the kind of record that a command writes; "" where it may be one or another.
func kindOf(c *cobra.Command) string {
	for kind, path := range commandWords {
		if c.CommandPath() == "hopperful "+path {
			return kind
		}
	}
	return ""
}

// filled are the words of a command with those left out taken from the record
// it corrects.
func (n *noting) filled(c *cobra.Command, env *Env, args []string) ([]string, error) {
	if !correcting(c) {
		return args, nil
	}
	state, err := readShop(c, env)
	if err != nil {
		return nil, err
	}
	old, ok := standingAs(state, shop.RecordID(n.corrects))
	if !ok {
		return nil, usagef(c, fact.Say("cli.record_none_to_correct", fact.Count("corrects", int(n.corrects))))
	}
	if kind := kindOf(c); kind != "" && kind != old.Body.Kind() {
		return nil, shop.OtherKind(&old, kind)
	}
	all, err := wordsOf(old.Body)
	if err != nil || len(args) >= len(all) {
		return args, err
	}
	if len(args) == 1 { // a lot's label is the first word, a mass the second
		if _, err := shop.ParseLot(args[0]); err == nil {
			all[0] = args[0]
		} else {
			all[1] = args[0]
		}
	}
	return all, nil
}
