package web

import (
	"cmp"
	"encoding/json"
	"net/http"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"time"

	"hopperful/figure"
	"hopperful/internal/exchange"
	"hopperful/internal/say"
	"hopperful/internal/web/site"
	"hopperful/shop"
)

// apiDescribed is the description of the API.
func (s *server) apiDescribed(w http.ResponseWriter, _ *http.Request) {
	site.WriteJSON(w, http.StatusOK, apiSpec(s.version))
}

// apiSpec describes the API in OpenAPI 3.1: its addresses from the table they are
// routed by, its schemas from the types that are sent, so that neither can differ.
func apiSpec(version string) map[string]any {
	if version == "" {
		version = "unknown"
	}
	n := newNames()
	paths := object{}
	for _, x := range ways() {
		at, _ := paths[site.APIRoot+x.path].(object)
		if at == nil {
			at = object{}
			paths[site.APIRoot+x.path] = at
		}
		at[strings.ToLower(x.method)] = n.operation(x)
	}
	return object{
		"openapi": "3.1.0",
		"info":    object{"title": "hopperful", "version": version, "description": "The records of a shop and the answers made of them, for other programs. A record is never changed; a later one corrects it. Plain numbers are in SI units."},
		"paths":   paths, "security": []any{object{"token": []any{}}},
		"components": object{"schemas": n.schemas, "securitySchemes": object{"token": object{"type": "http", "scheme": "bearer"}}},
	}
}

type object = map[string]any

// names gives each type of an answer its name in the description.
type names struct {
	schemas object
	known   map[reflect.Type]any
}

func ref(name string) object { return object{"$ref": "#/components/schemas/" + name} }

func newNames() *names {
	n := &names{schemas: object{}, known: map[reflect.Type]any{}}
	var kinds []any
	for _, b := range shop.Bodies() {
		name := "body." + b.Kind()
		n.schemas[name] = say.SchemaOf(reflect.TypeOf(b).Elem(), nil)
		kinds = append(kinds, ref(name))
	}
	n.known[reflect.TypeFor[json.RawMessage]()] = object{"description": "What the record says; which of these it is follows from its kind.", "anyOf": kinds}
	n.known[reflect.TypeFor[time.Time]()] = object{"type": "string", "format": "date-time"}
	n.known[reflect.TypeFor[figure.Figure]()] = ref("Figure")
	n.schemas["Figure"] = object{"type": "object", "description": "A number with its unit, its range (10 to 90 %) and where it comes from.", "required": []string{"key", "unit", "shown"},
		"properties": object{"key": object{"type": "string"}, "value": object{"type": "number"}, "low": object{"type": "number"}, "high": object{"type": "number"},
			"unit": object{"type": "string"}, "shown": object{"type": "string"}}}
	for name, t := range map[string]reflect.Type{"Record": reflect.TypeFor[exchange.Kept](), "Answer": document, "Lot": reflect.TypeFor[exchange.Lot](), "Need": reflect.TypeFor[shop.Need]()} {
		n.schemas[name] = say.SchemaOf(t, n.known)
		defer func() { n.known[t] = ref(name) }() // once all are made: none refers to itself
	}
	return n
}

// schema is that of a type, by its name where it has one.
func (n *names) schema(t reflect.Type) any {
	if t == nil {
		return object{"type": "object"}
	}
	return say.SchemaOf(t, n.known)
}

// why are the refusals that every address may give.
var why = []string{"400", "401", "403", "404", "409", "413", "415", "422", "429", "500", "503"}

// operation is one way in the words of OpenAPI.
func (n *names) operation(x way) object {
	inJSON := func(what string, schema any) object {
		return object{"description": what, "content": object{"application/json": object{"schema": schema}}}
	}
	n.schemas["Refused"] = n.schema(reflect.TypeFor[site.RefusedAnswer]())
	answers := object{strconv.Itoa(cmp.Or(x.status, http.StatusOK)): inJSON("The answer.", n.schema(x.answer))}
	for _, code := range why {
		answers[code] = inJSON("Why nothing was done.", ref("Refused"))
	}
	op := object{"operationId": x.id, "summary": x.summary, "responses": answers, "security": []any{object{"token": []any{string(x.scope)}}}}
	if x.sent != nil {
		op["requestBody"] = object{"required": true, "content": object{"application/json": object{"schema": n.schema(x.sent)}}}
	}
	var asked []any
	for _, m := range inBraces.FindAllStringSubmatch(x.path, -1) {
		asked = append(asked, object{"name": m[1], "in": "path", "required": true, "schema": object{"type": "string"}})
	}
	for _, q := range x.query {
		kind := object{"type": "string"}
		switch {
		case q.whole:
			kind = object{"type": "integer", "minimum": 0}
		case q.many:
			kind = object{"type": "array", "items": kind}
		}
		asked = append(asked, object{"name": q.name, "in": "query", "description": q.what, "schema": kind})
	}
	if x.once {
		asked = append(asked, object{"name": keyHeader, "in": "header", "description": "sent again with the same key, nothing is written again and the answer is the first", "schema": object{"type": "string", "minLength": 8, "maxLength": 200}})
	}
	if asked != nil {
		op["parameters"] = asked
	}
	return op
}

var inBraces = regexp.MustCompile(`\{(\w+)\}`)
