package web

import (
	"encoding/base64"
	"encoding/json"
	"fmt"
	"mime/multipart"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"hopperful/internal/photo"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/lots"
	"hopperful/internal/web/prints"
	"hopperful/internal/web/site"
	"hopperful/plan/grains"
	"hopperful/process/grain"
	"hopperful/quantity"
	"hopperful/shop"
)

// postGrains takes pictures and measures them, one at a time. A page that asked for
// lines of JSON is told how far it is; any other is led to what was found.
func (s *server) postGrains(w http.ResponseWriter, r *http.Request) {
	r.Body = http.MaxBytesReader(w, r.Body, mostPictures*photo.MostBytes+forms.MostForm)
	err := r.ParseMultipartForm(prints.UploadInMemory)
	if r.MultipartForm != nil {
		defer r.MultipartForm.RemoveAll()
	}
	d := s.Desk(r)
	l, ok := s.LotAsked(w, r, d)
	if !ok {
		return
	}
	tell := s.teller(w, r)
	key, wrong := r.FormValue("key"), (*site.Fault)(nil)
	if err != nil {
		wrong = lots.RefusedPicture(d, &grain.Refusal{Code: grain.TooLarge, Value: photo.MostBytes, Limit: photo.MostBytes, Unit: "B"})
	} else {
		key, wrong = s.takePictures(r, d, l, key, tell)
	}
	if tell != nil {
		last := map[string]string{"to": address.Grains(l.ID) + "/" + key}
		if wrong != nil {
			last = map[string]string{"say": wrong.Say, "hint": wrong.Hint}
		}
		tell(last)
		return
	}
	if wrong != nil {
		s.drawGrains(w, r, d, l, wrong.Status, key, wrong)
		return
	}
	http.Redirect(w, r, address.Grains(l.ID)+"/"+key, http.StatusSeeOther)
}

// teller writes lines of JSON as the work goes on; nil where nobody asked for them.
func (s *server) teller(w http.ResponseWriter, r *http.Request) func(map[string]string) {
	if r.Header.Get("Accept") != "application/x-ndjson" {
		return nil
	}
	w.Header().Set("Content-Type", "application/x-ndjson")
	w.Header().Set("Cache-Control", "no-store")
	w.Header().Set("X-Accel-Buffering", "no")
	out := http.NewResponseController(w)
	return func(line map[string]string) {
		if json.NewEncoder(w).Encode(line) == nil {
			_ = out.Flush() // whoever has left is told by the next write
		}
	}
}

// takePictures reads and measures what was sent. It returns where it is kept.
func (s *server) takePictures(r *http.Request, d *desk.Desk, l *shop.Lot, key string, tell func(map[string]string)) (string, *site.Fault) {
	var opt grain.Options
	var fields [3]float64
	for i, f := range []struct {
		name string
		kind quantity.Kind
	}{{"mass", quantity.Mass}, {"line", quantity.Length}, {"of", quantity.Mass}} {
		typed := strings.TrimSpace(r.FormValue(f.name))
		if typed == "" {
			continue
		}
		v, err := f.kind.Parse(typed)
		if err != nil || !(v > 0) {
			return key, &site.Fault{Status: http.StatusUnprocessableEntity, Say: d.Say.Line("page.grains_typed"), Hint: typed}
		}
		fields[i] = v
	}
	opt.Line = fields[1]
	files := r.MultipartForm.File["picture"]
	files = slices.DeleteFunc(slices.Clone(files), func(f *multipart.FileHeader) bool { return f.Filename == "" })
	one, ok := s.grains.get(key)
	if !ok || one.lot != l.ID {
		one, key = &spreading{lot: l.ID}, ""
	}
	if len(files) == 0 || len(files)+len(one.pictures) > mostPictures {
		return key, &site.Fault{Status: http.StatusUnprocessableEntity, Say: d.Say.Line("page.grains_choose"), Hint: d.Say.Line("page.grains_so_many")}
	}
	var taken []*pictured
	for i, f := range files {
		say := func(stage grain.Stage) {
			if tell != nil {
				tell(map[string]string{"stage": pictureStage(d, stage), "n": strconv.Itoa(i + 1), "of": strconv.Itoa(len(files))})
			}
		}
		m, err := s.measure(r, f, opt, say)
		if err != nil {
			if wrong := lots.RefusedPicture(d, err); wrong != nil {
				return key, wrong
			}
			return key, &site.Fault{Status: http.StatusUnprocessableEntity, Say: d.Say.Line("grains.refused_not_read"), Hint: err.Error()}
		}
		m.of = fields[2]
		taken = append(taken, m)
	}
	one.mu.Lock()
	one.pictures = append(one.pictures, taken...)
	one.ruled = one.ruled || opt.Line > 0
	if fields[0] > 0 {
		one.mass = fields[0]
	}
	one.mu.Unlock()
	if key == "" {
		key = s.grains.put(one)
	}
	return key, nil
}

// measure reads and measures one picture when it is its turn.
func (s *server) measure(r *http.Request, head *multipart.FileHeader, opt grain.Options, say func(grain.Stage)) (*pictured, error) {
	if head.Size > photo.MostBytes {
		return nil, &grain.Refusal{Code: grain.TooLarge, Value: float64(head.Size), Limit: photo.MostBytes, Unit: "B"}
	}
	select {
	case s.grains.turn <- struct{}{}:
		defer func() { <-s.grains.turn }()
	case <-r.Context().Done():
		return nil, r.Context().Err()
	}
	file, err := head.Open()
	if err != nil {
		return nil, err
	}
	defer file.Close()
	opt.Watch = say
	m, err := photo.Measure(file, opt)
	if err != nil {
		return nil, err
	}
	photo.Small(m)
	jpeg, err := photo.Shown(m)
	return &pictured{Measured: m, jpeg: jpeg, struck: map[int]bool{}, parted: map[int]bool{}}, err
}

// pictureStage words how far a picture is.
func pictureStage(d *desk.Desk, s grain.Stage) string {
	switch s {
	case grain.Reading:
		return d.Say.Line("page.grains_reading")
	case grain.Looking:
		return d.Say.Line("page.grains_looking")
	case grain.Flatten:
		return d.Say.Line("page.grains_flatten")
	case grain.Parting:
		return d.Say.Line("page.grains_parting")
	}
	return d.Say.Line("page.grains_measuring")
}

// postSpread takes what an eye saw better: grains struck out, grains parted, and
// what lies in no picture.
func (s *server) postSpread(w http.ResponseWriter, r *http.Request) {
	r.Body = http.MaxBytesReader(w, r.Body, forms.MostForm)
	d := s.Desk(r)
	l, one, ok := s.spreadAsked(w, r, d)
	if !ok {
		return
	}
	if err := r.ParseForm(); err != nil {
		s.FailWith(w, r, err)
		return
	}
	one.mu.Lock()
	for n, p := range one.pictures {
		p.struck = numbered(r.PostForm.Get(fmt.Sprintf("struck.%d", n+1)), len(p.Grains))
		p.parted = numbered(r.PostForm.Get(fmt.Sprintf("parted.%d", n+1)), len(p.Grains))
	}
	hole, err := quantity.Length.Parse(r.PostForm.Get("below"))
	mass, err2 := quantity.Mass.Parse(r.PostForm.Get("below_mass"))
	weighed := one.mass > 0 || len(one.pictures) > 0 && one.pictures[0].of > 0
	if one.below = [2]float64{}; err == nil && err2 == nil && hole > 0 && mass > 0 && weighed {
		one.below = [2]float64{hole, mass}
	}
	one.mu.Unlock()
	http.Redirect(w, r, address.Grains(l.ID)+"/"+r.PathValue("key"), http.StatusSeeOther)
}

// postKept writes the analysis down.
func (s *server) postKept(w http.ResponseWriter, r *http.Request) {
	r.Body = http.MaxBytesReader(w, r.Body, forms.MostForm)
	d := s.Desk(r)
	l, one, ok := s.spreadAsked(w, r, d)
	if !ok {
		return
	}
	one.mu.Lock()
	out, err := grains.Of(d.State, one.ask())
	if err == nil && r.FormValue("picture") != "" {
		p := one.pictures[0]
		var jpeg []byte
		if jpeg, err = photo.Overlaid(p.Measured, func(i int) bool { return p.struck[i] }); err == nil {
			out.Body.Photo.Picture = base64.StdEncoding.EncodeToString(jpeg)
		}
	}
	one.mu.Unlock()
	if err == nil {
		var kept []shop.Record
		if kept, err = s.Store.Append(r.Context(), s.Now(), shop.Record{Body: out.Body}); err == nil {
			s.Follow(w, r, address.Sieving(l.ID, kept[0].ID), kept[0].ID)
			return
		}
	}
	if wrong := lots.RefusedPicture(d, err); wrong != nil {
		s.drawGrains(w, r, d, l, wrong.Status, r.PathValue("key"), wrong)
		return
	}
	s.FailWith(w, r, err)
}

// numbered reads "3, 17" as grains 2 and 16.
func numbered(text string, most int) map[int]bool {
	all := map[int]bool{}
	for _, word := range strings.FieldsFunc(text, func(c rune) bool { return c < '0' || c > '9' }) {
		if n, err := strconv.Atoi(word); err == nil && n >= 1 && n <= most {
			all[n-1] = true
		}
	}
	return all
}

// grainNumbers is the way back.
func grainNumbers(all map[int]bool) string {
	var list []int
	for n := range all {
		list = append(list, n+1)
	}
	slices.Sort(list)
	words := make([]string, len(list))
	for i, n := range list {
		words[i] = strconv.Itoa(n)
	}
	return strings.Join(words, ", ")
}
