package toolpath

// What comments of a file say of its filament. Programs that write G-code put
// "name = number" or "name: number" into comments; the names differ, the words in
// them hardly do (common practice, no source), so words are looked for, not names.

import (
	"bytes"
	"slices"
	"strconv"
	"strings"
)

// Stated is what the comments of a file say of its filament; nothing where they
// say nothing.
type Stated struct {
	Diameter []float64 // by tool [m]
	Density  []float64 // by tool [kg/m³]
	Length   []float64 // used, by tool, or one for all [m]
	Volume   []float64 // likewise [m³]
	Mass     []float64 // likewise [kg]
	InVolume bool      // E is said to count volume
	Line     int64     // of the first of these; 0 when there is none
}

// mostStated numbers are read from one comment: one a tool.
const mostStated = mostTools

// remark reads a comment that may say something of the filament.
func (x *lexer) remark(line []byte) {
	if len(line) > 4096 || !speaksOfFilament(line) {
		return
	}
	text := strings.ToLower(string(bytes.TrimLeft(line, "; \t")))
	at := strings.IndexAny(text, "=:")
	if at < 0 {
		return
	}
	name, unit := nameAndUnit(text[:at])
	if x.stated.take(name, unit, strings.TrimSpace(text[at+1:])) && x.stated.Line == 0 {
		x.stated.Line = x.line
	}
}

// speaksOfFilament is the quick look that spares most comments the slow one.
func speaksOfFilament(line []byte) bool {
	for _, word := range [...]string{"ilament", "ILAMENT", "aterial", "ATERIAL", "olumetric", "lavo", "LAVO"} {
		if bytes.Contains(line, []byte(word)) {
			return true
		}
	}
	return false
}

// nameAndUnit parts "filament used [mm]" into its words and its unit.
func nameAndUnit(name string) (string, string) {
	unit := ""
	if i := strings.IndexAny(name, "[("); i >= 0 {
		unit = strings.Trim(name[i:], "[()] \t")
		name = name[:i]
	}
	name = strings.Join(strings.FieldsFunc(name, func(r rune) bool { return r == ' ' || r == '_' || r == '-' || r == '\t' }), " ")
	return strings.TrimPrefix(name, "total "), unit
}

// usedNames are the names under which a file says what it uses. A name is whole:
// what a purge tower uses, or what filament costs, is told under longer names.
var usedNames = map[string]bool{
	"filament used": true, "filament length": true, "filament volume": true, "filament weight": true, "filament mass": true,
	"material used": true, "material length": true, "material volume": true, "material weight": true, "material mass": true,
	"filament length used": true, "filament volume used": true, "filament weight used": true, "material": true,
}

// take takes one statement in; the first of a kind stands.
func (s *Stated) take(name, unit, value string) bool {
	switch {
	case name == "filament diameter" || name == "material diameter":
		return first(&s.Diameter, numbersIn(value, orSay(unit, "mm")), 1e-4, 0.02)
	case name == "filament density" || name == "material density":
		return first(&s.Density, numbersIn(value, orSay(unit, "g/cm3")), 300, 12000)
	case usedNames[name]:
		return s.used(name, unit, value)
	case strings.Contains(name, "volumetric e") && name != "volumetric extrusion rate":
		s.InVolume = s.InVolume || value == "1" || value == "true"
		return s.InVolume
	case strings.HasSuffix(name, "flavor") || strings.HasSuffix(name, "flavour"):
		s.InVolume = s.InVolume || strings.Contains(value, "volumetric")
	}
	return false
}

// used takes what the file uses, under the unit it names.
func (s *Stated) used(name, unit, value string) bool {
	if unit == "" {
		unit = unitIn(value)
	}
	if unit == "" && name == "material" {
		unit = "mm3" // a bare number under this name is mm³: from memory
	}
	all := numbersIn(value, unit)
	switch unit {
	case "mm", "m", "cm":
		return first(&s.Length, all, 0, 1e6)
	case "mm3", "mm^3", "mm³", "cm3", "cm^3", "cm³", "ml":
		return first(&s.Volume, all, 0, 10)
	case "g", "kg":
		return first(&s.Mass, all, 0, 1e4)
	}
	return false
}

// sizes of the units a file may name, in SI units.
var sizes = map[string]float64{
	"mm": 1e-3, "cm": 1e-2, "m": 1, "mm3": 1e-9, "mm^3": 1e-9, "mm³": 1e-9, "cm3": 1e-6, "cm^3": 1e-6, "cm³": 1e-6, "ml": 1e-6,
	"g": 1e-3, "kg": 1, "g/cm3": 1000, "g/cm^3": 1000, "g/cm³": 1000, "kg/m3": 1,
}

// unitIn is the unit behind the first number.
func unitIn(value string) string {
	rest := strings.TrimLeft(value, "0123456789.+- ")
	end := strings.IndexAny(rest, " ,;()")
	if end < 0 {
		end = len(rest)
	}
	return rest[:end]
}

// numbersIn reads a list of numbers, each with or without its unit.
func numbersIn(value, unit string) []float64 {
	size, known := sizes[unit]
	if !known {
		return nil
	}
	if i := strings.IndexByte(value, '('); i >= 0 {
		value = value[:i]
	}
	var all []float64
	for _, word := range strings.FieldsFunc(value, func(r rune) bool { return r == ',' || r == ';' || r == ' ' || r == '\t' }) {
		if word == unit {
			continue
		}
		v, err := strconv.ParseFloat(strings.TrimSuffix(word, unit), 64)
		if err != nil || len(all) == mostStated {
			return nil
		}
		all = append(all, v*size)
	}
	return all
}

// first keeps a list where none is kept yet and each number, but for zeros, is in range.
func first(into *[]float64, all []float64, low, high float64) bool {
	if len(*into) > 0 || !slices.ContainsFunc(all, func(v float64) bool { return v > 0 }) {
		return false
	}
	for _, v := range all {
		if !(v == 0 || v >= low && v <= high) { // NaN as well
			return false
		}
	}
	*into = all
	return true
}

// orSay gives the first text that is not empty.
func orSay(said, usual string) string {
	if said != "" {
		return said
	}
	return usual
}
