package web

import (
	"crypto/sha256"
	"crypto/subtle"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"hopperful/fact"
	"hopperful/internal/account"
	"hopperful/internal/exchange"
	"hopperful/internal/tokens"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/door"
	"hopperful/internal/web/site"
	"hopperful/plan/campaign"
	"hopperful/plan/next"
	"hopperful/shop"
)

// Bounds of the API: of one request, and of the records in it or in one answer.
const (
	mostSent   = 8 << 20
	mostAtOnce = 5000
)

// sentRecords are records on their way in: all of them are written, or none.
type sentRecords struct {
	Records []exchange.Kept `json:"records"`
}

// keptRecords are records as they are kept.
type keptRecords struct {
	Records []exchange.Kept `json:"records"`
	Newest  shop.RecordID   `json:"newest"` // of the shop
}

// withToken lets in who sends a token of this server that may do what is asked.
func (s *server) withToken(want tokens.Scope, next http.HandlerFunc) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		secret, ok := strings.CutPrefix(r.Header.Get("Authorization"), "Bearer ")
		if any, err := s.Store.HasAccounts(r.Context()); err != nil {
			s.FailProgram(w, r, err)
			return
		} else if any {
			s.asAccount(w, r, secret, want, next)
			return
		}
		has, known := s.scopeOf(secret)
		switch {
		case !ok || !known:
			w.Header().Set("WWW-Authenticate", "Bearer")
			s.RefuseProgram(w, r, http.StatusUnauthorized, "no_token", fact.Say("api.no_token"), fact.Say("api.do_make_token", fact.Name("page", tokensPath)))
		case !has.Lets(want):
			w.Header().Set("WWW-Authenticate", `Bearer error="insufficient_scope"`)
			s.RefuseProgram(w, r, http.StatusForbidden, "scope", fact.Say("api.token_reads"), fact.Say("api.do_writing_token"))
		default:
			next(w, r)
		}
	}
}

// scopeOf is what a token may do: the door's all, one that was made what it was made
// for; false when it is none.
func (s *server) scopeOf(secret string) (tokens.Scope, bool) {
	sum, right := sha256.Sum256([]byte(secret)), 0
	for _, t := range s.doors {
		right |= subtle.ConstantTimeCompare(sum[:], t[:])
	}
	if right == 1 {
		return tokens.Record, true
	}
	t, ok := s.tokens.Find(secret)
	return t.Scope, ok
}

// asAccount lets in who sends a token of an account. What writes asks for the least role that
// writes; what a kind of record asks for beyond that is seen where it is written.
func (s *server) asAccount(w http.ResponseWriter, r *http.Request, token string, want tokens.Scope, next http.HandlerFunc) {
	asks := account.Look
	if want == tokens.Record {
		asks = account.Record
	}
	own, ok, err := s.Store.SessionOf(r.Context(), s.Now(), token, door.AddressOf(r).Addr().String())
	switch {
	case err != nil:
		s.FailProgram(w, r, err)
	case !ok || own.Program == "":
		w.Header().Set("WWW-Authenticate", "Bearer")
		s.RefuseProgram(w, r, http.StatusUnauthorized, "no_token", fact.Say("api.no_account_token"), fact.Say("api.do_account_token"))
	default:
		if err := account.Check(own.Account, own.Role, asks); err != nil {
			s.FailProgram(w, r, err)
			return
		}
		next(w, r.WithContext(account.As(r.Context(), own.Account)))
	}
}

// apiRecords are the records as they were written, in the order of their numbers:
// those after ?after=N, at most so many at once.
func (s *server) apiRecords(w http.ResponseWriter, r *http.Request) {
	after := 0
	if text := r.URL.Query().Get("after"); text != "" {
		var err error
		if after, err = strconv.Atoi(text); err != nil || after < 0 {
			s.RefuseProgram(w, r, http.StatusUnprocessableEntity, string(shop.Invalid), fact.Say("api.no_number_after", fact.Name("text", site.Clip(text))), fact.Say("api.do_whole_number"))
			return
		}
	}
	st := s.Store.State()
	out := keptRecords{Records: []exchange.Kept{}, Newest: st.Newest().ID}
	for _, rec := range st.History.All() {
		if rec.ID <= shop.RecordID(after) {
			continue
		}
		if len(out.Records) == mostAtOnce {
			break
		}
		k, err := exchange.KeptOf(rec)
		if err != nil {
			s.FailProgram(w, r, err)
			return
		}
		out.Records = append(out.Records, k)
	}
	site.WriteJSON(w, http.StatusOK, out)
}

// apiAppend writes records, all of them or none.
func (s *server) apiAppend(w http.ResponseWriter, r *http.Request) {
	if kind, _, _ := strings.Cut(r.Header.Get("Content-Type"), ";"); kind != "application/json" {
		s.RefuseProgram(w, r, http.StatusUnsupportedMediaType, string(shop.Invalid), fact.Say("api.not_json"), fact.Say("api.do_say_json"))
		return
	}
	var sent sentRecords
	d := json.NewDecoder(http.MaxBytesReader(w, r.Body, mostSent))
	d.DisallowUnknownFields()
	if err := d.Decode(&sent); err != nil {
		var long *http.MaxBytesError
		if errors.As(err, &long) {
			s.RefuseProgram(w, r, http.StatusRequestEntityTooLarge, string(shop.Invalid), fact.Say("api.too_large", fact.Count("mb", mostSent>>20)), fact.Say("api.do_send_fewer"))
			return
		}
		s.RefuseProgram(w, r, http.StatusBadRequest, string(shop.Invalid), fact.Say("api.unreadable", fact.Name("why", err.Error())), fact.Say("api.do_see_form", fact.Name("path", site.APIRoot+"openapi.json")))
		return
	}
	if n := len(sent.Records); n < 1 || n > mostAtOnce {
		s.RefuseProgram(w, r, http.StatusUnprocessableEntity, string(shop.Invalid), fact.Say("api.wrong_count", fact.Count("n", n), fact.Count("most", mostAtOnce)), fact.Say("api.nothing_written"))
		return
	}
	var records []shop.Record
	for i, k := range sent.Records {
		rec, err := k.Record()
		if err != nil {
			s.FailProgram(w, r, fmt.Errorf("record %d of those sent: %w", i+1, err))
			return
		}
		records = append(records, rec)
	}
	kept, err := s.appendSent(r, records)
	if err != nil {
		s.FailProgram(w, r, err)
		return
	}
	out := keptRecords{Newest: s.Store.State().Newest().ID}
	for _, rec := range kept {
		k, err := exchange.KeptOf(rec)
		if err != nil {
			s.FailProgram(w, r, err)
			return
		}
		out.Records = append(out.Records, k)
	}
	site.WriteJSON(w, http.StatusCreated, out)
}

// keyHeader carries the key of what may be sent more than once, as in the draft of
// the IETF, draft-ietf-httpapi-idempotency-key-header.
const keyHeader = "Idempotency-Key"

// appendSent writes what a program sent; with a key at most once.
func (s *server) appendSent(r *http.Request, records []shop.Record) ([]shop.Record, error) {
	if key := r.Header.Get(keyHeader); key != "" {
		return s.Store.AppendOnce(r.Context(), s.Now(), key, records...)
	}
	return s.Store.Append(r.Context(), s.Now(), records...)
}

// apiNow is where the campaigns stand that go on.
func (s *server) apiNow(w http.ResponseWriter, r *http.Request) {
	st := s.Store.State()
	site.WriteJSON(w, http.StatusOK, desk.Speaks(r, st).Document(campaign.Now(st, s.Now())))
}

// apiNeeds are the prints that are wanted.
func (s *server) apiNeeds(w http.ResponseWriter, _ *http.Request) {
	site.WriteJSON(w, http.StatusOK, needsAnswer{append([]shop.Need{}, s.Store.State().Needs...)})
}

// apiStock are the lots on hand, or all of them.
func (s *server) apiStock(w http.ResponseWriter, r *http.Request) {
	st, all := s.Store.State(), r.URL.Query().Get("all") != ""
	out := lotsAnswer{[]exchange.Lot{}}
	for _, id := range st.Order {
		if l := st.Lots.At(id); all || l.Mass > 0 {
			out.Lots = append(out.Lots, exchange.LotOf(desk.Speaks(r, st), l))
		}
	}
	site.WriteJSON(w, http.StatusOK, out)
}

// apiLot is one lot, and its records as they stand.
func (s *server) apiLot(w http.ResponseWriter, r *http.Request) {
	l, ok := s.LotAsked(w, r, s.Desk(r))
	if !ok {
		return
	}
	out := lotKept{exchange.LotOf(desk.Speaks(r, s.Store.State()), l), []exchange.Kept{}}
	for _, id := range l.Records {
		if rec, ok := s.Store.State().Record(id); ok {
			k, err := exchange.KeptOf(rec)
			if err != nil {
				s.FailProgram(w, r, err)
				return
			}
			out.Records = append(out.Records, k)
		}
	}
	site.WriteJSON(w, http.StatusOK, out)
}

// apiNext is what to do next, as every answer in JSON.
func (s *server) apiNext(w http.ResponseWriter, r *http.Request) {
	st := s.Store.State()
	site.WriteJSON(w, http.StatusOK, desk.Speaks(r, st).Document(next.Of(st)))
}
