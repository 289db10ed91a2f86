package web

import (
	"net/http"

	"hopperful/internal/account"
	"hopperful/internal/web/door"
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
	d := s.desk(r)
	v := devicesView{}
	if mine, ok := sessionIn(r.Context()); ok {
		of := mine.Account
		if mine.Role == account.Own {
			of = "" // who owns the shop sees everybody's
		}
		list, err := s.store.Sessions(r.Context(), of)
		if err != nil {
			s.failWith(w, r, err)
			return
		}
		for _, o := range list {
			v.List = append(v.List, deviceRow{door.Session{ID: o.ID, Device: o.Device, Address: o.Address, Begun: o.Begun, Seen: o.Seen}, o.Account, o.Program, o.ID == mine.ID, d.clock(o.Begun), d.clock(o.Seen)})
		}
	} else if s.gate != nil {
		own, _ := s.gate.Sessions.Of(r)
		for _, o := range s.gate.Sessions.List() {
			v.List = append(v.List, deviceRow{o, "", "", o.ID == own.ID, d.clock(o.Begun), d.clock(o.Seen)})
		}
	} else {
		s.showMissing(w, r)
		return
	}
	v.Sole = len(v.List) == 1
	s.render(w, r, http.StatusOK, "devices", view{Title: d.say.Line("page.devices"), Place: "machines", Crumb: placeLink("machines"), Body: v})
}

// postDevices ends one log-in, or all of them.
func (s *server) postDevices(w http.ResponseWriter, r *http.Request) {
	mine, in := sessionIn(r.Context())
	if s.gate == nil && !in {
		s.showMissing(w, r)
		return
	}
	if !readForm(w, r) {
		s.fail(w, r, tooLarge)
		return
	}
	id := r.PostForm.Get("id")
	switch {
	case in && (id != "" || r.PostForm.Has("all")):
		if err := s.store.End(r.Context(), orSay(r.PostForm.Get("who"), mine.Account), id); err != nil {
			s.failWith(w, r, err)
			return
		}
	case id != "" || r.PostForm.Has("all"):
		s.gate.Sessions.End(id)
	}
	http.Redirect(w, r, "/devices", http.StatusSeeOther)
}
