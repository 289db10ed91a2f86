package web

import (
	"net/http"
	"strings"
)

// deviceOf is what a browser says it is, in two words. Browsers name others for
// the sake of old pages, so the more particular name is looked for first.
func deviceOf(agent string) string {
	browser, system := "", ""
	for _, b := range [][2]string{{"Edg", "Edge"}, {"OPR/", "Opera"}, {"SamsungBrowser", "Samsung Internet"}, {"Firefox", "Firefox"}, {"FxiOS", "Firefox"},
		{"CriOS", "Chrome"}, {"Chrome", "Chrome"}, {"Safari", "Safari"}, {"curl/", "curl"}} {
		if strings.Contains(agent, b[0]) {
			browser = b[1]
			break
		}
	}
	for _, s := range [][2]string{{"Android", "Android"}, {"iPhone", "iPhone"}, {"iPad", "iPad"}, {"Windows", "Windows"}, {"Mac OS", "Mac"}, {"CrOS", "ChromeOS"}, {"Linux", "Linux"}} {
		if strings.Contains(agent, s[0]) {
			system = s[1]
			break
		}
	}
	return strings.TrimSpace(browser + " " + system)
}

// devicesView is the page of who is logged in.
type devicesView struct {
	List []deviceRow
	Sole bool // nobody else is
}

// deviceRow is one log-in.
type deviceRow struct {
	session
	Own         bool
	Since, Last string
}

func (s *server) showDevices(w http.ResponseWriter, r *http.Request) {
	if s.gate == nil {
		s.showMissing(w, r)
		return
	}
	d := s.desk(r)
	own, _ := s.gate.sessions.of(r)
	v := devicesView{}
	for _, o := range s.gate.sessions.list() {
		v.List = append(v.List, deviceRow{o, o.ID == own.ID, clock(o.Begun, d.now), clock(o.Seen, d.now)})
	}
	v.Sole = len(v.List) == 1
	s.render(w, r, http.StatusOK, "devices", view{Title: d.say.Line("page.devices"), Place: "machines", Crumb: placeLink("machines"), Body: v})
}

// postDevices ends one log-in, or all of them.
func (s *server) postDevices(w http.ResponseWriter, r *http.Request) {
	if s.gate == nil {
		s.showMissing(w, r)
		return
	}
	if !readForm(w, r) {
		s.fail(w, r, tooLarge)
		return
	}
	if id := r.PostForm.Get("id"); id != "" || r.PostForm.Has("all") {
		s.gate.sessions.end(id)
	}
	http.Redirect(w, r, "/devices", http.StatusSeeOther)
}
