package charts

import (
	"net/http"
	"strconv"

	"hopperful/internal/exchange"
)

// Filed lays charts out, the first apart, each with the address of its numbers
// below the page's own.
func Filed(r *http.Request, charts []View) (first *View, others []View) {
	for i := range charts {
		if len(charts[i].XTicks) == 0 {
			charts[i].File = FileOf(r, charts[i].Key)
		}
	}
	if len(charts) == 0 {
		return nil, nil
	}
	return &charts[0], charts[1:]
}

// FileOf is the address of a chart's numbers, below the page's own.
func FileOf(r *http.Request, key string) string {
	file := r.URL.EscapedPath() + "/" + key + ".csv"
	if r.URL.RawQuery != "" {
		file += "?" + r.URL.Query().Encode()
	}
	return file
}

// Write writes a chart's numbers, a line each, with the decimal point.
func Write(out *exchange.Cells, c View) {
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
