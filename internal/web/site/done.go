package site

import (
	"net/http"
	"strconv"
	"time"

	"hopperful/fact"
	"hopperful/internal/web/desk"
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
func (s *Site) doneBar(r *http.Request, st *shop.State) *doneBar {
	id, err := strconv.ParseInt(r.URL.Query().Get("done"), 10, 64)
	if err != nil || id <= 0 || id > int64(st.Newest().ID) {
		return nil
	}
	rec, ok := st.Written(shop.RecordID(id))
	if !ok || s.Now().Sub(rec.NotedAt) > undoFor {
		return nil
	}
	if _, void := rec.Body.(*shop.Void); void {
		return &doneBar{ID: rec.ID, Say: "form.record_void"}
	}
	return &doneBar{ID: rec.ID, Say: desk.Speaks(r, st).Line("form.written_down", fact.Name("text", desk.Describe(desk.Speaks(r, st), rec).Text)), Undo: rec.Corrects == 0}
}
