package web

import (
	"net/http"
	"strconv"
	"strings"
	"time"

	"hopperful/fact"
	"hopperful/shop"
)

// undoFor is how long a mistaken touch can be taken back at once. Later it is
// struck out on its own page.
const undoFor = 10 * time.Second

// doneBar says what was just written and offers to take it back.
type doneBar struct {
	ID   shop.RecordID
	Say  string
	Undo bool
}

// doneBar reads ?done=ID: the record just written, if it is fresh.
func (s *server) doneBar(r *http.Request, st *shop.State) *doneBar {
	id, err := strconv.ParseInt(r.URL.Query().Get("done"), 10, 64)
	if err != nil || id <= 0 || id > int64(st.Newest().ID) {
		return nil
	}
	rec, ok := st.Written(shop.RecordID(id))
	if !ok || s.now().Sub(rec.NotedAt) > undoFor {
		return nil
	}
	if _, void := rec.Body.(*shop.Void); void {
		return &doneBar{ID: rec.ID, Say: "form.taken_back_nothing_is_changed"}
	}
	return &doneBar{ID: rec.ID, Say: speaks(r, st).Line("form.written_down", fact.Name("text", describe(speaks(r, st), rec).Text)), Undo: rec.Corrects == 0}
}

// postVoid strikes a record out.
func (s *server) postVoid(w http.ResponseWriter, r *http.Request) {
	if !readForm(w, r) {
		s.fail(w, r, tooLarge)
		return
	}
	id, err := strconv.ParseInt(r.PathValue("id"), 10, 64)
	if err != nil {
		s.showMissing(w, r)
		return
	}
	why := strings.TrimSpace(r.PostForm.Get("why")) // none was typed: none is kept
	kept, err := s.store.Append(r.Context(), s.now(), shop.Record{Corrects: shop.RecordID(id), Body: &shop.Void{Why: why}})
	if err != nil {
		s.failWith(w, r, err)
		return
	}
	s.follow(w, r, "/records", kept[0].ID)
}
