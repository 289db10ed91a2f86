package web

import (
	"net/http"

	"hopperful/answer"
)

// answerView is a page that is an answer and nothing else: the document, the sheet
// it was asked with, and where to go from it.
type answerView struct {
	docView
	Refused string // why there is no answer
	Ask     formView
	Act     link // the main thing to do now
	More    []link
	Room    []string // headings of a table to fill in by hand, on paper
}

// showAnswer draws an answer with the sheet it was asked with.
func (s *server) showAnswer(w http.ResponseWriter, r *http.Request, d *desk, v answerView, doc answer.Document, sh sheet, a asked, back view) {
	status := http.StatusOK
	if len(a.in.Wrong) > 0 {
		v.Refused, status = unread(a), http.StatusUnprocessableEntity
	} else {
		v.docView = viewDocument(d.say, doc)
		v.First, v.Others = drawn(r, viewCharts(d.say, doc.Charts))
	}
	v.Ask = askForm(r, sh, a)
	back.Body = v
	s.render(w, r, status, "answer", back)
}
