package lots

import (
	"net/http"
	"strconv"
	"strings"

	"hopperful/internal/web/forms"
	"hopperful/internal/web/site"
	"hopperful/shop"
)

// PostVoid strikes a record out.
func PostVoid(s *site.Site, w http.ResponseWriter, r *http.Request) {
	if !forms.ReadForm(w, r) {
		s.Fail(w, r, site.TooLarge)
		return
	}
	id, err := strconv.ParseInt(r.PathValue("id"), 10, 64)
	if err != nil {
		s.ShowMissing(w, r)
		return
	}
	why := strings.TrimSpace(r.PostForm.Get("why")) // none was typed: none is kept
	kept, err := s.Store.Append(r.Context(), s.Now(), shop.Record{Corrects: shop.RecordID(id), Body: &shop.Void{Why: why}})
	if err != nil {
		s.FailWith(w, r, err)
		return
	}
	s.Follow(w, r, "/records", kept[0].ID)
}
