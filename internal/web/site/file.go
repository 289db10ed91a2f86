package site

import (
	"fmt"
	"net/http"
	"strings"

	"hopperful/answer"
	"hopperful/internal/exchange"
	"hopperful/internal/web/charts"
	"hopperful/internal/web/waiting"
)

// SendJob sends the numbers of a chart of what a job reckons, once it has.
func (s *Site) SendJob(w http.ResponseWriter, r *http.Request, j *waiting.Job, name string, charts func(any) []answer.Chart) {
	key, isCSV := strings.CutSuffix(name, ".csv")
	if !isCSV {
		s.ShowMissing(w, r)
		return
	}
	switch got := s.Slow.Within(r, s.Ending, j, ProgramWait); {
	case got != waiting.There:
		s.NotReckoned(w, r, got)
	case j.Err != nil:
		s.FailWith(w, r, j.Err)
	default:
		s.SendChart(w, r, charts(j.Value), key)
	}
}

// SendChart sends the numbers of the chart of that key.
func (s *Site) SendChart(w http.ResponseWriter, r *http.Request, list []answer.Chart, key string) {
	d := s.Desk(r)
	for _, c := range list {
		c := charts.Of(d.Say, c)
		if c.Key == key {
			h := w.Header()
			h.Set("Content-Type", "text/csv; charset=utf-8")
			h.Set("Content-Disposition", fmt.Sprintf("attachment; filename=%q", key+".csv"))
			charts.Write(exchange.NewCells(w), c)
			return
		}
	}
	s.ShowMissing(w, r)
}
