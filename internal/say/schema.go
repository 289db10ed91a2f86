package say

import (
	"encoding/json"
	"reflect"
	"strings"

	"hopperful/answer"
	"hopperful/figure"
)

// Schema is the JSON Schema (draft 2020-12) of an answer, made from the types
// that write it, so that the two cannot differ.
func Schema() ([]byte, error) {
	s := schemaOf(reflect.TypeFor[Document](), map[reflect.Type]any{
		reflect.TypeFor[figure.Figure]():  map[string]any{"$ref": "urn:hopperful:figure"},
		reflect.TypeFor[answer.Verdict](): map[string]any{"enum": append([]answer.Verdict{""}, answer.Verdicts()...)},
	}).(map[string]any)
	s["$schema"], s["$id"] = "https://json-schema.org/draft/2020-12/schema", "urn:hopperful:answer"
	s["title"] = "The answer of a room"
	s["description"] = "Every sentence has its code and its facts beside it; quantities are in SI units."
	text, err := json.MarshalIndent(s, "", "  ")
	return append(text, '\n'), err
}

// SchemaOf is the schema of a type, as JSON writes it, with those that are known
// already.
func SchemaOf(t reflect.Type, known map[reflect.Type]any) any { return schemaOf(t, known) }

// schemaOf is the schema of a type, with those that are known already.
func schemaOf(t reflect.Type, known map[reflect.Type]any) any {
	if s, ok := known[t]; ok {
		return s
	}
	switch t.Kind() {
	case reflect.Pointer:
		return schemaOf(t.Elem(), known)
	case reflect.Slice:
		return map[string]any{"type": "array", "items": schemaOf(t.Elem(), known)}
	case reflect.Map:
		return map[string]any{"type": "object"}
	case reflect.String:
		return map[string]any{"type": "string"}
	case reflect.Bool:
		return map[string]any{"type": "boolean"}
	case reflect.Int, reflect.Int64:
		return map[string]any{"type": "integer"}
	case reflect.Float64:
		return map[string]any{"type": "number"}
	case reflect.Struct:
		fields, must := map[string]any{}, []string{}
		addFields(t, known, fields, &must)
		return map[string]any{"type": "object", "additionalProperties": false, "required": must, "properties": fields}
	}
	return true
}

// addFields adds the fields of a struct; those of an embedded one count as its own.
func addFields(t reflect.Type, known map[reflect.Type]any, fields map[string]any, must *[]string) {
	for i := range t.NumField() {
		f := t.Field(i)
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case f.Anonymous && name == "":
			addFields(f.Type, known, fields, must)
		case name == "-" || !f.IsExported():
		default:
			fields[name] = schemaOf(f.Type, known)
			if !strings.Contains(options, "omitempty") && options != "omitzero" {
				*must = append(*must, name)
			}
		}
	}
}
