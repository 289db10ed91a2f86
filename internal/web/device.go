package web

import (
	"cmp"
	"net/http"

	"hopperful/internal/account"
	"hopperful/internal/web/door"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/site"
)

// devicesView is the page of who is logged in.
type devicesView struct {
	List []deviceRow
	Sole bool // nobody else is
}

// deviceRow is one log-in.
type deviceRow struct {
	door.Session
	Who         string // whose it is, where there are accounts
	Program     string // what a token is for
	Own         bool
	Since, Last string
}

func (s *server) showDevices(w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	v := devicesView{}
	if mine, ok := site.SessionIn(r.Context()); ok {
		of := mine.Account
		if mine.Role == account.Own {
			of = "" // who owns the shop sees everybody's
		}
		list, err := s.Store.Sessions(r.Context(), of)
		if err != nil {
			s.FailWith(w, r, err)
			return
		}
		for _, o := range list {
			v.List = append(v.List, deviceRow{door.Session{ID: o.ID, Device: o.Device, Address: o.Address, Begun: o.Begun, Seen: o.Seen}, o.Account, o.Program, o.ID == mine.ID, d.Clock(o.Begun), d.Clock(o.Seen)})
		}
	} else if s.Gate != nil {
		own, _ := s.Gate.Sessions.Of(r)
		for _, o := range s.Gate.Sessions.List() {
			v.List = append(v.List, deviceRow{o, "", "", o.ID == own.ID, d.Clock(o.Begun), d.Clock(o.Seen)})
		}
	} else {
		s.ShowMissing(w, r)
		return
	}
	v.Sole = len(v.List) == 1
	s.Render(w, r, http.StatusOK, "devices", site.View{Title: d.Say.Line("page.devices"), Place: "machines", Crumb: site.PlaceLink("machines"), Body: v})
}

// postDevices ends one log-in, or all of them.
func (s *server) postDevices(w http.ResponseWriter, r *http.Request) {
	mine, in := site.SessionIn(r.Context())
	if s.Gate == nil && !in {
		s.ShowMissing(w, r)
		return
	}
	if !forms.ReadForm(w, r) {
		s.Fail(w, r, site.TooLarge)
		return
	}
	id := r.PostForm.Get("id")
	switch {
	case in && (id != "" || r.PostForm.Has("all")):
		if err := s.Store.End(r.Context(), cmp.Or(r.PostForm.Get("who"), mine.Account), id); err != nil {
			s.FailWith(w, r, err)
			return
		}
	case id != "" || r.PostForm.Has("all"):
		s.Gate.Sessions.End(id)
	}
	http.Redirect(w, r, "/devices", http.StatusSeeOther)
}
