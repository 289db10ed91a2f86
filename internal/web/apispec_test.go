package web

import (
	"bytes"
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"github.com/pb33f/libopenapi"
	validator "github.com/pb33f/libopenapi-validator"

	"hopperful/internal/tokens"
	"hopperful/internal/web/address"
	"hopperful/internal/web/site"
	"hopperful/shop"
)

// described is the description of a served shop, read by a library that is not ours.
func described(t *testing.T, b *bench) validator.Validator {
	t.Helper()
	doc, err := libopenapi.NewDocument(call(b, "GET", "/api/openapi.json", "").Body.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	v, errs := validator.NewValidator(doc)
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	return v
}

// asDescribed holds a request and its answer against the description.
func asDescribed(v validator.Validator, method, path, body string, w *httptest.ResponseRecorder) []string {
	r := httptest.NewRequest(method, "http://localhost"+path, strings.NewReader(body))
	r.Header.Set("Authorization", "Bearer rattle")
	r.Header.Set("Content-Type", "application/json")
	res := w.Result()
	res.Body = io.NopCloser(bytes.NewReader(w.Body.Bytes()))
	_, errs := v.ValidateHttpRequestResponse(r, res)
	var all []string
	for _, e := range errs {
		why := e.Message + " " + e.Reason
		for _, x := range e.SchemaValidationErrors {
			why += "; " + x.Reason + " at " + x.FieldPath
		}
		all = append(all, why)
	}
	return all
}

// openNeed writes down a print that is wanted, and says how it stands in an address.
func openNeed(t *testing.T, b *bench) string {
	t.Helper()
	kg := 0.12
	if _, err := b.store.Append(t.Context(), noon, shop.Record{Body: &shop.NeedSet{Need: shop.Need{Name: "hook, left", Polymer: "PETG", From: "typed", Mass: &kg}}}); err != nil {
		t.Fatal(err)
	}
	return url.PathEscape("hook, left")
}

// TestAPIDescriptionIsTrue: the description is OpenAPI 3.1 by the standard's own schema;
// every address in it is there, and answers the demo shop as it says; a refusal is as
// it says too; and an answer that is not is told from one that is.
func TestAPIDescriptionIsTrue(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{Door: &Door{Token: "rattle"}})
	v := described(t, b)
	if ok, errs := v.ValidateDocument(); !ok {
		for _, e := range errs {
			t.Errorf("the description is no OpenAPI 3.1: %s %s", e.Message, e.Reason)
		}
	}
	kept, err := b.store.Append(t.Context(), noon, shop.Record{Body: &shop.CampaignBegun{Mill: "Grumble", Polymer: "PETG", Wanted: 0.1, Cycle: shop.Cycle{Charge: 0.05, Run: 60, Rest: 300, Charges: 3}}})
	if err != nil {
		t.Fatal(err)
	}
	fill := strings.NewReplacer("{lot}", "R1", "{need}", openNeed(t, b), "{mill}", "Grumble", "{campaign}", address.Number(kept[0].ID))
	for _, x := range ways() {
		path, body := site.APIRoot+fill.Replace(x.path), ""
		if x.id == "setAside" { // nobody listens to sensors here, so there is no run to set aside
			if w := call(b, x.method, path, `{"id":1}`); w.Code != http.StatusNotFound {
				t.Errorf("%s %s is answered %d where no run was seen", x.method, path, w.Code)
			}
			continue
		}
		if x.sent != nil {
			body = `{"records":[{"kind":"weighed","body":{"lot":"R1","mass_kg":0.1}}]}`
		}
		w := call(b, x.method, path, body)
		if w.Code >= 300 {
			t.Errorf("%s %s is answered %d: %.300s", x.method, path, w.Code, w.Body)
			continue
		}
		for _, why := range asDescribed(v, x.method, path, body, w) {
			t.Errorf("%s %s: %s", x.method, path, why)
		}
		for _, q := range x.query { // each argument is read, or refused, and never a failure
			for _, text := range []string{"1", "nonsense \x00 {}"} {
				asked := path + "?" + url.Values{q.name: {text}}.Encode()
				if w := call(b, x.method, asked, ""); w.Code >= 500 && w.Code != http.StatusServiceUnavailable {
					t.Errorf("%s is answered %d: %.200s", asked, w.Code, w.Body)
				}
			}
		}
	}
	// what is not as described is told from what is
	good := call(b, "GET", "/api/records", "")
	bad := httptest.NewRecorder()
	bad.Header().Set("Content-Type", "application/json")
	bad.Write(bytes.Replace(good.Body.Bytes(), []byte(`"mass_kg"`), []byte(`"weight"`), 1))
	if len(asDescribed(v, "GET", "/api/records", "", bad)) == 0 {
		t.Error("a record with a field there is none of is as described")
	}
	for path, status := range map[string]int{"/api/lots/R999": 404, "/api/plan/nothing": 404, "/api/dry/R1?temperature_k=warm": 422, "/api/campaigns/9999": 404, "/api/mills/None/upkeep": 404, "/api/records?after=x": 422} {
		w := call(b, "GET", path, "")
		var no site.RefusedAnswer
		if err := json.Unmarshal(w.Body.Bytes(), &no); err != nil || w.Code != status || no.Error.Say == "" || no.Error.Code == "" {
			t.Errorf("%s is answered %d: %s", path, w.Code, w.Body)
		}
	}
}

// TestAPIAnswersAsThePages: an answer asked for with a token is that of the page's own
// address.
func TestAPIAnswersAsThePages(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{Door: &Door{Token: "rattle"}})
	need := openNeed(t, b)
	for api, page := range map[string]string{"/api/fit/R1/" + need: "/fit/R1/" + need, "/api/plan/" + need: "/plan/" + need, "/api/dry/R3?way=oven": "/dry/R3?way=oven", "/api/lots/R1/family": "/stock/R1/family",
		"/api/mills/Grumble/upkeep": "/machines/Grumble/upkeep", "/api/books": "/books"} {
		if a, p := call(b, "GET", api, "").Body.String(), b.asJSON(page).Body.String(); a != p || len(a) < 100 {
			t.Errorf("%s and %s answer differently:\n%.300s\n%.300s", api, page, a, p)
		}
	}
}

// TestATokenForReadingWritesNothing, one revoked reads nothing, and both take effect
// while the server runs.
func TestATokenForReadingWritesNothing(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{Passphrase: "a long passphrase"})
	folder := b.server.tokens
	reader, secret, err := folder.Make("meter", tokens.Read, noon)
	if err != nil {
		t.Fatal(err)
	}
	_, writing, err := folder.Make("scale", tokens.Record, noon)
	if err != nil {
		t.Fatal(err)
	}
	body := `{"records":[{"kind":"taken_in","body":{"class":"scrap","pieces":{},"mass_kg":1}}]}`
	with := func(method, path, secret string) int {
		return call(b, method, path, map[string]string{"POST": body}[method], "Authorization", "Bearer "+secret).Code
	}
	if got := with("GET", "/api/stock", secret); got != http.StatusOK {
		t.Errorf("reading to read is answered %d", got)
	}
	if got := with("POST", "/api/records", secret); got != http.StatusForbidden || b.store.State().History.Len() != 0 {
		t.Errorf("writing with a token to read is answered %d", got)
	}
	if got := with("POST", "/api/records", writing); got != http.StatusCreated || b.store.State().History.Len() != 1 {
		t.Errorf("writing is answered %d", got)
	}
	if got := with("GET", "/api/stock", writing); got != http.StatusOK {
		t.Errorf("who may write may not read: %d", got)
	}
	if _, err := folder.Revoke(reader.ID); err != nil {
		t.Fatal(err)
	}
	if got := with("GET", "/api/stock", secret); got != http.StatusUnauthorized {
		t.Errorf("revoked it is answered %d", got)
	}
	// a token opens no page, and nothing stands in the pages' place of the API
	if w := call(b, "GET", "/stock", "", "Authorization", "Bearer "+writing); w.Code == http.StatusOK {
		t.Error("a token opens a page")
	}
}

// TestTokensOnTheirPage: made there it is shown once, and revoked it is gone.
func TestTokensOnTheirPage(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{})
	if page := b.get(tokensPath).Body.String(); !strings.Contains(page, "No program has a token") {
		t.Error("the empty page does not say so")
	}
	w := b.post(tokensPath, answers("name", "weigh bench", "scope", "read"))
	_, after, ok := strings.Cut(w.Body.String(), `<code class="secret">`)
	secret, _, _ := strings.Cut(after, "<")
	if w.Code != http.StatusCreated || !ok {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	if got, ok := b.server.tokens.Find(secret); !ok || got.Name != "weigh bench" || got.Scope != tokens.Read {
		t.Errorf("the secret shown finds %+v, %t", got, ok)
	}
	page := b.get(tokensPath).Body.String()
	if strings.Contains(page, secret) || !strings.Contains(page, "weigh bench") {
		t.Error("the page shows the secret again, or not the token")
	}
	if w := b.post(tokensPath, answers("name", "", "scope", "read")); w.Code != http.StatusUnprocessableEntity {
		t.Errorf("a token without a name is answered %d", w.Code)
	}
	id, _, _ := strings.Cut(secret, ".")
	if w := b.post(tokensPath+"/"+id+"/revoke", nil); w.Code != http.StatusSeeOther {
		t.Errorf("revoking is answered %d", w.Code)
	}
	if _, ok := b.server.tokens.Find(secret); ok {
		t.Error("revoked it still lets in")
	}
}
