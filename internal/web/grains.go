package web

import (
	"crypto/rand"
	"encoding/base64"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"sync"

	"hopperful/fact"
	"hopperful/internal/web/address"
	"hopperful/internal/web/charts"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/figures"
	"hopperful/internal/web/lots"
	"hopperful/internal/web/site"
	"hopperful/plan/grains"
	"hopperful/process/grain"
	"hopperful/quantity"
	"hopperful/shop"
)

const (
	mostSpreads  = 4 // photographed and not yet kept; the oldest goes
	mostPictures = 6 // of one of them
)

// spreading is what somebody photographed and has not kept yet. It lives in
// memory only: nothing of it is written before it is kept.
type spreading struct {
	mu       sync.Mutex
	lot      shop.LotID
	ruled    bool
	mass     float64 // of the grains in all pictures together [kg]; 0: not weighed
	pictures []*pictured
	below    [2]float64 // hole and mass of what fell through and lies in no picture
}

// pictured is one picture with what an eye saw better.
type pictured struct {
	*grain.Measured
	of             float64 // mass of the class it stands for [kg]; 0: no classes
	jpeg           []byte
	struck, parted map[int]bool
}

// spreads holds what is photographed and not yet kept, by key.
type spreads struct {
	mu    sync.Mutex
	all   map[string]*spreading
	order []string
	turn  chan struct{} // one picture is measured at a time
}

func newSpreads() *spreads {
	return &spreads{all: map[string]*spreading{}, turn: make(chan struct{}, 1)}
}

// put keeps a new one and returns its key.
func (s *spreads) put(one *spreading) string {
	var b [9]byte
	rand.Read(b[:])
	key := base64.RawURLEncoding.EncodeToString(b[:])
	s.mu.Lock()
	defer s.mu.Unlock()
	s.all[key] = one
	if s.order = append(s.order, key); len(s.order) > mostSpreads {
		delete(s.all, s.order[0])
		s.order = s.order[1:]
	}
	return key
}

func (s *spreads) get(key string) (*spreading, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	one, ok := s.all[key]
	return one, ok
}

// ask is what the plan is asked about it.
func (s *spreading) ask() grains.Ask {
	a := grains.Ask{Lot: s.lot, Ruled: s.ruled, UnseenBelow: s.below[0], Unseen: s.below[1]}
	var whole *grain.Sample
	for _, p := range s.pictures {
		sp := p.Spread.Without(func(i int) bool { return p.struck[i] }, func(i int) bool { return p.parted[i] })
		a.Struck, a.Parted = a.Struck+len(p.struck), a.Parted+len(p.parted)
		a.Pictures = append(a.Pictures, p.Measured)
		if p.of > 0 { // pictures of one mass are of one class, which counts once
			at := slices.IndexFunc(a.Samples, func(x grain.Sample) bool { return x.Of == p.of })
			if at < 0 {
				at = len(a.Samples)
				a.Samples = append(a.Samples, grain.Sample{Of: p.of})
			}
			a.Samples[at].Spreads = append(a.Samples[at].Spreads, sp)
			continue
		}
		if whole == nil {
			whole = &grain.Sample{Mass: s.mass}
		}
		whole.Spreads = append(whole.Spreads, sp)
	}
	if whole != nil {
		a.Samples = append(a.Samples, *whole)
	}
	return a
}

// photographView is the page before and after.
type photographView struct {
	Lot    shop.LotID
	Path   string
	Key    string
	Needed string
	Sheets []address.Link
	Wrong  *site.Fault
	Mass   string
	Line   string
	Found  *spreadView
}

// spreadView is what was found so far.
type spreadView struct {
	figures.Document
	Pictures []pictureView
	Below    string
	BelowIs  string
	Full     bool // no more pictures fit
}

// pictureView is one picture with its outlines.
type pictureView struct {
	N              int
	Src            string
	W, H           int
	Grains         []outlineView
	Struck, Parted string
}

// outlineView is one grain's outline, in pixels of the picture shown.
type outlineView struct {
	N              int
	Points         string
	Struck, Parted bool
}

func (s *server) showGrains(w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	l, ok := s.LotAsked(w, r, d)
	if !ok {
		return
	}
	s.drawGrains(w, r, d, l, http.StatusOK, "", nil)
}

// showSpread shows what was found.
func (s *server) showSpread(w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	l, _, ok := s.spreadAsked(w, r, d)
	if !ok {
		return
	}
	s.drawGrains(w, r, d, l, http.StatusOK, r.PathValue("key"), nil)
}

// spreadAsked finds what the address names.
func (s *server) spreadAsked(w http.ResponseWriter, r *http.Request, d *desk.Desk) (*shop.Lot, *spreading, bool) {
	l, ok := s.LotAsked(w, r, d)
	if !ok {
		return nil, nil, false
	}
	one, ok := s.grains.get(r.PathValue("key"))
	if !ok || one.lot != l.ID {
		s.Fail(w, r, site.Fault{Status: http.StatusNotFound, Say: d.Say.Line("page.grains_gone"), Hint: d.Say.Line("page.grains_again")})
		return nil, nil, false
	}
	return l, one, true
}

// drawGrains draws the page: the way to a picture, and what is found so far.
func (s *server) drawGrains(w http.ResponseWriter, r *http.Request, d *desk.Desk, l *shop.Lot, status int, key string, wrong *site.Fault) {
	v := photographView{Lot: l.ID, Path: address.Grains(l.ID), Key: key, Wrong: wrong, Mass: r.FormValue("mass"), Line: r.FormValue("line")}
	if needed, err := grains.Needed(d.State, l.ID, grain.WholeSheet()); err == nil {
		v.Needed = d.Say.Say(needed)
	}
	v.Sheets = []address.Link{{To: "/grains/sheet?lot=" + string(l.ID), Say: d.Say.Line("page.grains_sheet")}}
	if one, ok := s.grains.get(key); ok {
		found, err := s.viewFound(d, key, one)
		if err != nil {
			v.Wrong = lots.RefusedPicture(d, err)
			status = http.StatusUnprocessableEntity
		}
		v.Found = found
	}
	page := site.View{Title: d.Say.Line("page.grains_title"), Place: "stock", Crumb: &address.Link{To: address.Lot(l.ID), Say: d.Say.Line("form.lot_title", fact.Name("id", string(l.ID)))}, Body: v}
	s.Render(w, r, status, "grains", page)
}

// viewFound reckons with what is photographed and lays it out.
func (s *server) viewFound(d *desk.Desk, key string, one *spreading) (*spreadView, error) {
	one.mu.Lock()
	defer one.mu.Unlock()
	v := &spreadView{Full: len(one.pictures) >= mostPictures}
	for n, p := range one.pictures {
		v.Pictures = append(v.Pictures, p.view(address.Grains(one.lot)+"/"+key, n))
	}
	out, err := grains.Of(d.State, one.ask())
	if err != nil {
		return v, err
	}
	v.Document = figures.Laid(d.Say, out.Document)
	charts := charts.All(d.Say, out.Document.Charts)
	v.First = &charts[0]
	if one.below[0] > 0 {
		v.Below, v.BelowIs = d.Say.Decimal(quantity.Length.Show(one.below[0])), d.Say.Decimal(quantity.Mass.Show(one.below[1]))
	}
	return v, nil
}

// view lays a picture's outlines out in the pixels of what is shown.
func (p *pictured) view(path string, n int) pictureView {
	v := pictureView{N: n + 1, Src: path + "/" + strconv.Itoa(n+1) + ".jpg", W: p.Flat.W, H: p.Flat.H, Struck: grainNumbers(p.struck), Parted: grainNumbers(p.parted)}
	scale := float64(p.Flat.W) / p.W
	for i, g := range p.Grains {
		var b strings.Builder
		for _, q := range g.Outline {
			fmt.Fprintf(&b, "%.1f,%.1f ", q.X*scale, q.Y*scale)
		}
		v.Grains = append(v.Grains, outlineView{i + 1, strings.TrimSpace(b.String()), p.struck[i], p.parted[i]})
	}
	return v
}

// showGrainPicture sends the field of one picture.
func (s *server) showGrainPicture(w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	_, one, ok := s.spreadAsked(w, r, d)
	if !ok {
		return
	}
	n, err := strconv.Atoi(strings.TrimSuffix(r.PathValue("picture"), ".jpg"))
	one.mu.Lock()
	defer one.mu.Unlock()
	if err != nil || n < 1 || n > len(one.pictures) {
		http.NotFound(w, r)
		return
	}
	w.Header().Set("Content-Type", "image/jpeg")
	w.Header().Set("Cache-Control", "private, max-age=3600")
	w.Write(one.pictures[n-1].jpeg)
}

// showKeptPicture sends the picture kept with a record.
func (s *server) showKeptPicture(w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	rec, ok := s.Found(w, r, d)
	if !ok {
		return
	}
	if lots.KeptPicture(rec) == "" {
		s.Fail(w, r, site.Fault{Status: http.StatusNotFound, Say: d.Say.Line("page.grains_none_kept"), Hint: d.Say.Line("page.grains_keep_next")})
		return
	}
	w.Header().Set("Content-Type", "image/jpeg")
	w.Header().Set("Cache-Control", "private, max-age=86400")
	w.Write(lots.JpegOf(rec))
}
