package prints

import (
	"net/http"

	"hopperful/answer"
	"hopperful/internal/web/site"
	"hopperful/plan"
)

// DownloadChart sends a chart's numbers as CSV: /plan/NEED/CHART.csv. Numbers
// keep the decimal point, which every program reads.
func DownloadChart(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	need, ok := d.State.Need(r.PathValue("need"))
	if !ok {
		s.ShowMissing(w, r)
		return
	}
	req, err := request(r, d, need)
	if err != nil {
		s.FailWith(w, r, err)
		return
	}
	s.SendJob(w, r, s.AskPlan(d.State, req), r.PathValue("chart"), func(v any) []answer.Chart { return v.(plan.Grinding).Charts })
}
