package traceability

import "hopperful/process/ageing"

// Passes is the share of a lot that had so many passes, with its range: from the
// least to the most that the judged pasts give. The ends do not add up to 1.
type Passes struct {
	Number    int
	Share     float64
	Low, High float64
	OrMore    bool // all that is older is gathered here
}

// Gathered is how old a lot is, one row for each number of passes from none on,
// and at most the wanted number of rows: the last then holds all that is older,
// if there is more than a hundredth of it at either end.
func (a LotAge) Gathered(most int) []Passes {
	n := 1
	for _, x := range a.spread.all() {
		for n < len(x.Shares) && n < most && beyond(x, n) > negligible {
			n++
		}
	}
	rows := make([]Passes, n)
	for i := range rows {
		var share [3]float64
		for j, x := range a.spread.all() {
			share[j] = beyond(x, i)
			if i < n-1 {
				share[j] = max(0, share[j]-beyond(x, i+1))
			} else if beyond(x, n) > 0 {
				rows[i].OrMore = true
			}
		}
		rows[i].Number, rows[i].Share = i, share[1]
		rows[i].Low, rows[i].High = min(share[0], share[1], share[2]), max(share[0], share[1], share[2])
	}
	return rows
}

// negligible is the share of a lot too small for a row of its own.
const negligible = 0.01

// beyond is the share that had so many passes or more.
func beyond(a ageing.Age, passes int) float64 {
	sum := 0.0
	for _, x := range a.Shares[min(passes, len(a.Shares)):] {
		sum += x
	}
	return sum
}
