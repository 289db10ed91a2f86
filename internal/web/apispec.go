package web

import (
	"encoding/json"
	"net/http"
	"reflect"
	"time"

	"hopperful/internal/exchange"
	"hopperful/internal/say"
	"hopperful/shop"
)

// apiDescribed is the description of the API.
func (s *server) apiDescribed(w http.ResponseWriter, _ *http.Request) {
	writeJSON(w, http.StatusOK, apiSpec(s.version))
}

// apiSpec describes the API in OpenAPI 3.1, its schemas made from the types that
// are sent, so that the two cannot differ.
func apiSpec(version string) map[string]any {
	type object = map[string]any
	ref := func(name string) object { return object{"$ref": "#/components/schemas/" + name} }
	inJSON := func(what string, schema object) object {
		return object{"description": what, "content": object{"application/json": object{"schema": schema}}}
	}
	schemas := object{}
	var kinds []any
	for _, b := range shop.Bodies() {
		name := "body." + b.Kind()
		schemas[name] = say.SchemaOf(reflect.TypeOf(b).Elem(), nil)
		kinds = append(kinds, ref(name))
	}
	known := map[reflect.Type]any{
		reflect.TypeFor[json.RawMessage](): object{"description": "What the record says; which of these it is follows from its kind. Quantities are in SI units.", "anyOf": kinds},
		reflect.TypeFor[time.Time]():       object{"type": "string", "format": "date-time"},
	}
	schemas["Record"] = say.SchemaOf(reflect.TypeFor[exchange.Kept](), known)
	known[reflect.TypeFor[exchange.Kept]()] = ref("Record")
	schemas["Sent"] = say.SchemaOf(reflect.TypeFor[sentRecords](), known)
	schemas["Records"] = say.SchemaOf(reflect.TypeFor[keptRecords](), known)
	schemas["Refused"] = say.SchemaOf(reflect.TypeFor[refusedAnswer](), nil)
	refused := func(all object) object {
		for _, code := range []string{"400", "401", "404", "409", "413", "415", "422", "503"} {
			all[code] = inJSON("Why nothing was done.", ref("Refused"))
		}
		return all
	}
	if version == "" {
		version = "unknown"
	}
	return object{
		"openapi": "3.1.0",
		"info":    object{"title": "hopperful", "version": version, "description": "The records of a shop, for its own programs. A record is never changed; a later one corrects it."},
		"paths": object{
			apiRoot + "records": object{
				"get": object{"operationId": "records", "summary": "Records as they were written, in the order of their numbers, at most 5000 at once",
					"parameters": []any{object{"name": "after", "in": "query", "description": "only those with a higher number", "schema": object{"type": "integer", "minimum": 0}}},
					"responses":  refused(object{"200": inJSON("The records.", ref("Records"))})},
				"post": object{"operationId": "append", "summary": "Write records: all of them, or none",
					"parameters":  []any{object{"name": keyHeader, "in": "header", "description": "sent again with the same key, nothing is written again and the answer is the first", "schema": object{"type": "string", "minLength": 8, "maxLength": 200}}},
					"requestBody": object{"required": true, "content": object{"application/json": object{"schema": ref("Sent")}}},
					"responses":   refused(object{"201": inJSON("The records as they are kept.", ref("Records"))})},
			},
			apiRoot + "next": object{"get": object{"operationId": "next", "summary": "What to do next",
				"responses": refused(object{"200": inJSON("An answer.", object{"type": "object"})})}},
			apiRoot + "openapi.json": object{"get": object{"operationId": "description", "summary": "This description",
				"responses": refused(object{"200": inJSON("OpenAPI 3.1.", object{"type": "object"})})}},
		},
		"security":   []any{object{"token": []any{}}},
		"components": object{"schemas": schemas, "securitySchemes": object{"token": object{"type": "http", "scheme": "bearer"}}},
	}
}
