package web

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"hopperful/answer"
	"hopperful/internal/exchange"
	"hopperful/plan"
)

// downloadChart sends a chart's numbers as CSV: /plan/NEED/CHART.csv. Numbers
// keep the decimal point, which every program reads.
func (s *server) downloadChart(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	need, ok := d.state.Need(r.PathValue("need"))
	if !ok {
		s.showMissing(w, r)
		return
	}
	req, err := request(r, d, need)
	if err != nil {
		s.failWith(w, r, err)
		return
	}
	s.sendJob(w, r, s.askPlan(d.state, req), r.PathValue("chart"), func(v any) []answer.Chart { return v.(plan.Grinding).Charts })
}

// drawn lays charts out, the first apart, each with the address of its numbers
// below the page's own.
func drawn(r *http.Request, charts []chartView) (first *chartView, others []chartView) {
	for i := range charts {
		if len(charts[i].XTicks) == 0 {
			charts[i].File = fileOf(r, charts[i].Key)
		}
	}
	if len(charts) == 0 {
		return nil, nil
	}
	return &charts[0], charts[1:]
}

// fileOf is the address of a chart's numbers, below the page's own.
func fileOf(r *http.Request, key string) string {
	file := r.URL.EscapedPath() + "/" + key + ".csv"
	if r.URL.RawQuery != "" {
		file += "?" + r.URL.Query().Encode()
	}
	return file
}

// sendJob sends the numbers of a chart of what a job reckons, once it has.
func (s *server) sendJob(w http.ResponseWriter, r *http.Request, j *job, name string, charts func(any) []answer.Chart) {
	key, isCSV := strings.CutSuffix(name, ".csv")
	if !isCSV {
		s.showMissing(w, r)
		return
	}
	switch got := s.slow.within(r, s.ending, j, programWait); {
	case got != there:
		s.notReckoned(w, r, got)
	case j.err != nil:
		s.failWith(w, r, j.err)
	default:
		s.sendChart(w, r, charts(j.value), key)
	}
}

// sendChart sends the numbers of the chart of that key.
func (s *server) sendChart(w http.ResponseWriter, r *http.Request, charts []answer.Chart, key string) {
	d := s.desk(r)
	for _, c := range charts {
		c := viewChart(d.say, c)
		if c.Key == key {
			h := w.Header()
			h.Set("Content-Type", "text/csv; charset=utf-8")
			h.Set("Content-Disposition", fmt.Sprintf("attachment; filename=%q", key+".csv"))
			writeChart(exchange.NewCells(w), c)
			return
		}
	}
	s.showMissing(w, r)
}

func writeChart(out *exchange.Cells, c chartView) {
	out.Write([]string{"curve", c.X.Label(), c.Y.Label() + ", 10 %", c.Y.Label() + ", median", c.Y.Label() + ", 90 %"})
	n := func(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
	for _, k := range c.Curves {
		for i := range k.X {
			out.Write([]string{k.Name, n(k.X[i]), n(k.Low[i]), n(k.Mid[i]), n(k.High[i])})
		}
	}
	for _, l := range c.Lines {
		out.Write([]string{l.Name, "", "", n(l.Value), ""})
	}
	out.Flush() // an error here means the reader has gone
}
