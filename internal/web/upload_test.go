package web

import (
	"bytes"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"testing"
)

// TestOneFileAtATime: a second upload from the same address is told to wait, one
// from another is read, and when the first is through the next one is.
func TestOneFileAtATime(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{})
	send := func(address string, body io.Reader, kind string) *httptest.ResponseRecorder {
		r := httptest.NewRequest("POST", "/plan", body)
		r.Header.Set("Content-Type", kind)
		r.RemoteAddr = address + ":4711"
		return b.ask(r)
	}
	file := func() (io.Reader, string) {
		var form bytes.Buffer
		m := multipart.NewWriter(&form)
		part, _ := m.CreateFormFile("file", "part.gcode")
		io.WriteString(part, "hello")
		m.Close()
		return &form, m.FormDataContentType()
	}
	slow, hold := io.Pipe()
	_, kind := file()
	first := make(chan int)
	go func() { first <- send("10.0.0.7", slow, kind).Code }()
	if _, err := hold.Write([]byte("--")); err != nil { // it is being read
		t.Fatal(err)
	}
	body, kind := file()
	if w := send("10.0.0.7", body, kind); w.Code != http.StatusTooManyRequests || w.Header().Get("Retry-After") == "" {
		t.Errorf("a second file at once answers %d", w.Code)
	}
	body, kind = file()
	if w := send("10.0.0.8", body, kind); w.Code != http.StatusUnprocessableEntity {
		t.Errorf("a file from elsewhere answers %d", w.Code)
	}
	hold.CloseWithError(io.ErrUnexpectedEOF)
	<-first
	body, kind = file()
	if w := send("10.0.0.7", body, kind); w.Code != http.StatusUnprocessableEntity {
		t.Errorf("the next file answers %d", w.Code)
	}
}

// FuzzUpload sends any bytes as the file of a print, through the whole of the
// server. Whatever it is, it is answered, and not as a failure of ours.
func FuzzUpload(f *testing.F) {
	f.Add("part.gcode", []byte("G28\nG1 X10 E1 F1200\n"))
	f.Add("part.stl", []byte("solid x\nfacet normal 0 0 0 outer loop vertex 0 0 0 vertex 1 0 0 vertex 0 1 0 endloop endfacet endsolid"))
	f.Add("part.3mf", []byte("PK\x03\x04"))
	f.Add("../../x\x00.gcode", []byte("\xff\xfe"))
	b := emptyShop(f, Options{})
	f.Fuzz(func(t *testing.T, name string, content []byte) {
		var form bytes.Buffer
		m := multipart.NewWriter(&form)
		part, err := m.CreateFormFile("file", name)
		if err != nil {
			t.Skip()
		}
		part.Write(content)
		m.Close()
		r := httptest.NewRequest("POST", "/plan", &form)
		r.Host = "localhost"
		r.Header.Set("Content-Type", m.FormDataContentType())
		w := httptest.NewRecorder()
		b.pages.ServeHTTP(w, r)
		switch w.Code {
		case http.StatusSeeOther, http.StatusUnprocessableEntity, http.StatusRequestEntityTooLarge:
		default:
			t.Errorf("%q of %d bytes answers %d", name, len(content), w.Code)
		}
	})
}
