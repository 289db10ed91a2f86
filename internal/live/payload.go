package live

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"hopperful/fact"
	"hopperful/plan/sensing"
)

// step of a path: a key of an object, or a place in a list.
type step struct {
	key   string
	index int // -1: a key
}

// parsePath reads a path to a number in a JSON message: keys with points between, a key
// that holds points or colons in double quotes, a place in a list in square brackets:
// params."switch:0".apower, ENERGY.Power[1].
func parsePath(text string) ([]step, error) {
	bad := func() ([]step, error) {
		return nil, &Refusal{fact.Say("live.not_a_path", fact.Name("text", text)), fact.Say("live.do_path_form")}
	}
	if len(text) > mostPath {
		return bad()
	}
	var all []step
	for rest := text; rest != ""; {
		var key string
		switch {
		case rest[0] == '"':
			end := strings.IndexByte(rest[1:], '"')
			if end < 1 {
				return bad()
			}
			key, rest = rest[1:end+1], rest[end+2:]
		default:
			end := strings.IndexAny(rest, ".[\"")
			if end < 0 {
				end = len(rest)
			}
			key, rest = rest[:end], rest[end:]
		}
		if key == "" || !plainText(key) {
			return bad()
		}
		all = append(all, step{key, -1})
		for strings.HasPrefix(rest, "[") {
			digits, after, ok := strings.Cut(rest[1:], "]")
			n, err := strconv.Atoi(digits)
			if !ok || err != nil || n < 0 || n > 999 {
				return bad()
			}
			all, rest = append(all, step{"", n}), after
		}
		if rest != "" {
			if rest[0] != '.' || len(rest) == 1 {
				return bad()
			}
			rest = rest[1:]
		}
	}
	if len(all) > mostDeep {
		return bad()
	}
	return all, nil
}

// errAbsent says that a message has nothing at the path: it is of another kind, or holds only
// what changed.
var errAbsent = errors.New("nothing at the path")

// unread says why a message cannot be read.
type unread sensing.Fault

// Error is the fault.
func (u unread) Error() string { return string(u) }

// What may be wrong with it.
const (
	errNoNumber = unread(sensing.NoNumber)
	errNoJSON   = unread(sensing.NoJSON)
	errOutside  = unread(sensing.Outside)
	errTooLong  = unread(sensing.TooLong)
	errTooDeep  = unread(sensing.TooDeep)
)

// decode reads a JSON message, bounded.
func decode(payload []byte) (any, error) {
	if len(payload) > mostPayload {
		return nil, errTooLong
	}
	if err := notTooDeep(payload); err != nil {
		return nil, err
	}
	d := json.NewDecoder(bytes.NewReader(payload))
	d.UseNumber()
	var v any
	if err := d.Decode(&v); err != nil {
		return nil, errNoJSON
	}
	return v, nil
}

// mostNested is how deep the JSON of a message may be nested.
const mostNested = 12

func notTooDeep(payload []byte) error {
	deep, quoted, escaped := 0, false, false
	for _, b := range payload {
		switch {
		case escaped:
			escaped = false
		case quoted && b == '\\':
			escaped = true
		case b == '"':
			quoted = !quoted
		case quoted:
		case b == '{' || b == '[':
			if deep++; deep > mostNested {
				return errTooDeep
			}
		case b == '}' || b == ']':
			deep--
		}
	}
	return nil
}

// at walks down to what the path leads to.
func at(v any, path []step) (any, error) {
	for _, s := range path {
		switch x := v.(type) {
		case map[string]any:
			next, ok := x[s.key]
			if s.index >= 0 || !ok {
				return nil, errAbsent
			}
			v = next
		case []any:
			if s.index < 0 || s.index >= len(x) {
				return nil, errAbsent
			}
			v = x[s.index]
		default:
			return nil, errAbsent
		}
	}
	return v, nil
}

// numberOf reads a number, also one in quotes.
func numberOf(v any) (float64, error) {
	text := ""
	switch x := v.(type) {
	case json.Number:
		text = x.String()
	case string:
		text = strings.TrimSpace(x)
	case nil:
		return 0, errAbsent // a sensor that has none yet
	default:
		return 0, errNoNumber
	}
	return parseNumber(text)
}

// parseNumber reads a decimal number and nothing else: no nan, no hexadecimal.
func parseNumber(text string) (float64, error) {
	if text == "" || len(text) > 40 || strings.Trim(text, "0123456789.eE+-") != "" {
		return 0, errNoNumber
	}
	n, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(n, 0) {
		return 0, errNoNumber
	}
	return n, nil
}

// timeOf reads a sensor's own time: seconds since 1970, or a date with or without a zone,
// which then is that of place.
func timeOf(v any, place *time.Location) (time.Time, bool) {
	switch x := v.(type) {
	case json.Number:
		if n, err := parseNumber(x.String()); err == nil && n > 1e8 && n < 1e13 {
			if n > 1e11 { // milliseconds
				n /= 1000
			}
			return time.UnixMilli(int64(n * 1000)), true
		}
	case string:
		for _, form := range []string{time.RFC3339, "2006-01-02T15:04:05", "2006-01-02 15:04:05"} {
			if at, err := time.ParseInLocation(form, x, place); err == nil {
				return at, true
			}
		}
	}
	return time.Time{}, false
}

// scaling turns a sensor's number into SI.
type scaling struct{ by, from float64 }

func (s scaling) si(n float64) float64 { return s.from + s.by*n }

// usual are the units that sensors send where nothing else is said.
var usual = map[sensing.What]string{
	sensing.Power: "W", sensing.Energy: "kWh", sensing.Wall: "°C", sensing.Room: "°C", sensing.Humidity: "%RH", sensing.Sound: "dB(A)",
}

// scale is how the sensor's numbers become SI.
func (s Sensor) scale() (scaling, error) {
	unit := s.Unit
	if unit == "" {
		unit = usual[s.What]
	}
	kind := s.What.Kind()
	zero, err := kind.ParseOr("0", unit)
	if err == nil {
		var one float64
		one, err = kind.ParseOr("1", unit)
		if err == nil {
			return scaling{one - zero, zero}, nil
		}
	}
	return scaling{}, &Refusal{fact.Say("live.not_a_unit", fact.Name("unit", s.Unit), fact.Name("what", string(s.What))), fact.Say("live.units_are", fact.Name("units", strings.Join(kind.Units(), ", ")))}
}

// gone reports whether a message about being there says that the sensor is not; ok is false
// where it says neither.
func gone(payload []byte) (isGone, ok bool) {
	text := strings.TrimSpace(string(payload))
	if v, err := decode(payload); err == nil {
		if m, isMap := v.(map[string]any); isMap {
			for _, key := range []string{"state", "status", "online"} {
				if x, has := m[key]; has {
					text = fmt.Sprint(x)
				}
			}
		}
	}
	switch strings.ToLower(strings.Trim(text, `"`)) {
	case "offline", "false", "0", "lost", "dead":
		return true, true
	case "online", "true", "1", "alive", "ready":
		return false, true
	}
	return false, false
}

// mostFields bounds what is told of a message.
const mostFields = 40

// Fields are the paths to the numbers in a message; "" is the path of a plain number.
func Fields(payload []byte) []string {
	if _, err := parseNumber(trimmed(payload)); err == nil {
		return []string{""}
	}
	v, err := decode(payload)
	if err != nil {
		return nil
	}
	var all []string
	var walk func(v any, path string, deep int)
	walk = func(v any, path string, deep int) {
		if deep > mostDeep || len(all) == mostFields {
			return
		}
		switch x := v.(type) {
		case json.Number:
			all = append(all, path)
		case map[string]any:
			for _, key := range slices.Sorted(maps.Keys(x)) {
				next := key
				if strings.ContainsAny(key, `.:[] `) {
					next = `"` + key + `"`
				}
				if path != "" {
					next = path + "." + next
				}
				if _, err := parsePath(next); err == nil {
					walk(x[key], next, deep+1)
				}
			}
		case []any:
			for i, y := range x {
				walk(y, fmt.Sprintf("%s[%d]", path, i), deep+1)
			}
		}
	}
	walk(v, "", 0)
	return all
}
