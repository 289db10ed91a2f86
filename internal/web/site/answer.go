package site

import (
	"net/http"

	"hopperful/answer"
	"hopperful/internal/web/address"
	"hopperful/internal/web/charts"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/figures"
	"hopperful/internal/web/forms"
)

// AnswerView is a page that is an answer and nothing else: the document, the sheet
// it was asked with, and where to go from it.
type AnswerView struct {
	figures.Document
	Refused string // why there is no answer
	Ask     forms.View
	Act     address.Link // the main thing to do now
	More    []address.Link
	Room    []string // headings of a table to fill in by hand, on paper
}

// ShowAnswer draws an answer with the sheet it was asked with.
func (s *Site) ShowAnswer(w http.ResponseWriter, r *http.Request, d *desk.Desk, v AnswerView, doc answer.Document, sh forms.Sheet, a forms.Asked, back View) {
	status := http.StatusOK
	if len(a.In.Wrong) > 0 {
		v.Refused, status = Unread(a), http.StatusUnprocessableEntity
	} else {
		v.Document = figures.Laid(d.Say, doc)
		v.First, v.Others = charts.Filed(r, charts.All(d.Say, doc.Charts))
	}
	v.Ask = forms.AskedForm(r, sh, a)
	back.Body = v
	s.Render(w, r, status, "answer", back)
}

// Unread says which answer cannot be read, and why.
func Unread(a forms.Asked) string {
	if len(a.In.Wrong) == 1 {
		for _, w := range a.In.Wrong {
			return w.Say
		}
	}
	return "form.answers_unreadable"
}
