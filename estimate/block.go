package estimate

import "math"

// Readings that err together: those of one run by its clock, by what lay in the
// mill and by what was special of its charge; those of one day by what was
// special of the day. Runs of a day are a block of the covariance; between days
// only the variables of the fit connect.

// mostOfBlock is how many runs a block holds; a longer day is cut.
const mostOfBlock = 25

// block is some runs of a day, with the Cholesky factor of the covariance of
// their readings around the forecasts and what follows from it.
type block struct {
	runs  []int
	first []int // of each run's readings in the block
	n     int   // readings

	lower []float64 // C = L Lᵀ, by rows
	white []float64 // L⁻¹ J, a row a reading, a column an active variable
	miss  []float64 // L⁻¹ (y − f)
	extra []float64 // of each variance, added because the reading lies far off
}

// divide sorts the runs into blocks.
func (f *fit) divide() {
	day := 0
	for i := range f.runs {
		n := len(f.readings[i])
		if n == 0 {
			continue
		}
		last := len(f.blocks) - 1
		if last < 0 || f.runs[i].Day == 0 || f.runs[i].Day != day || len(f.blocks[last].runs) == mostOfBlock {
			f.blocks = append(f.blocks, &block{})
			last++
		}
		b := f.blocks[last]
		b.runs, b.first = append(b.runs, i), append(b.first, b.n)
		b.n += n
		day = f.runs[i].Day
	}
}

// shares calls each with every column that the readings of a block have in common:
// the covariance is the sum of the columns' squares, and of the readings' own.
func (f *fit) shares(b *block, each func(column []float64, from, to int)) {
	column := make([]float64, b.n)
	for k := range errorKinds {
		p, scale := &errorPriors[k], f.errorScale[k]
		if scale == 0 {
			continue
		}
		for j, i := range b.runs {
			if f.slopes[i] == nil || f.slopes[i].byError[k] == nil {
				continue
			}
			own := make([]float64, len(f.readings[i]))
			some := false
			for m, by := range f.slopes[i].byError[k] {
				column[b.first[j]+m], own[m] = scale*p.day*by, scale*p.charge*by
				some = some || by != 0
			}
			if some {
				each(own, b.first[j], b.first[j]+len(own))
			}
		}
		if f.runs[b.runs[0]].Day != 0 {
			each(column, 0, b.n)
		} else {
			for j, i := range b.runs {
				each(column[b.first[j]:b.first[j]+len(f.readings[i])], b.first[j], b.first[j]+len(f.readings[i]))
			}
		}
		clear(column)
	}
	for j, i := range b.runs {
		if s := f.slopes[i]; s != nil {
			for _, own := range [...][]float64{s.byClock, s.byResidue} {
				if own != nil {
					each(own, b.first[j], b.first[j]+len(own))
				}
			}
		}
	}
}

// weighing turns an error, in standard deviations, into a weight on its square.
type weighing func(x float64) float64

// hold works out the covariance of every block at the present forecasts. A reading
// that lies far off is held to less.
func (f *fit) hold(w weighing) error {
	for _, b := range f.blocks {
		c := make([]float64, b.n*b.n)
		f.shares(b, func(column []float64, from, to int) {
			for k := from; k < to; k++ {
				if v := column[k-from]; v != 0 {
					row := c[k*b.n:]
					for l := from; l <= k; l++ {
						row[l] += v * column[l-from]
					}
				}
			}
		})
		b.extra = make([]float64, b.n)
		for j, i := range b.runs {
			for m := range f.readings[i] {
				k := b.first[j] + m
				own, common := f.spreads[i][m]*f.spreads[i][m], c[k*b.n+k]
				x := (f.now[i].values[m] - f.readings[i][m].value) / math.Sqrt(own+common)
				weight := w(x)
				if weight < 1 && f.believed(i, m) {
					weight = 1
				}
				// A weight below one takes the reading's whole variance up, one above it
				// only what is the reading's own.
				held := own / weight
				if weight < 1 {
					held = (own+common)/weight - common
				}
				b.extra[k] = held - own
				c[k*b.n+k] += held
			}
		}
		if !cholesky(c, b.n) {
			return errAdrift
		}
		b.lower = c
	}
	return nil
}

// whiten brings errors and slopes of every block to unit covariance.
func (f *fit) whiten() {
	p := len(f.active)
	for _, b := range f.blocks {
		b.white, b.miss = make([]float64, b.n*p), f.missed(b, f.now)
		for j, i := range b.runs {
			for _, one := range f.pulls[i] {
				by := one.by(f)
				for m, v := range one.column {
					b.white[(b.first[j]+m)*p+one.at] += by * v
				}
			}
		}
		forward(b.lower, b.n, b.white, p)
	}
}

// missed are the errors of a block at some forecasts, at unit covariance.
func (f *fit) missed(b *block, all []outlook) []float64 {
	miss := make([]float64, b.n)
	for j, i := range b.runs {
		for m, q := range f.readings[i] {
			miss[b.first[j]+m] = q.value - all[i].values[m]
		}
	}
	forward(b.lower, b.n, miss, 1)
	return miss
}

// cholesky factors the lower half of a symmetric matrix in place.
func cholesky(c []float64, n int) bool {
	for i := range n {
		row := c[i*n : i*n+n]
		for j := range i {
			other, sum := c[j*n:j*n+n], row[j]
			for k := range j {
				sum -= row[k] * other[k]
			}
			row[j] = sum / other[j]
		}
		sum := row[i]
		for k := range i {
			sum -= row[k] * row[k]
		}
		if !(sum > 0) || math.IsInf(sum, 1) {
			return false
		}
		row[i] = math.Sqrt(sum)
	}
	return true
}

// forward puts L⁻¹ X in the place of X, whose rows are width long.
func forward(lower []float64, n int, x []float64, width int) {
	for i := range n {
		row := x[i*width : (i+1)*width]
		for k := range i {
			if l := lower[i*n+k]; l != 0 {
				for c, v := range x[k*width : (k+1)*width] {
					row[c] -= l * v
				}
			}
		}
		for c := range row {
			row[c] /= lower[i*n+i]
		}
	}
}

// backward puts L⁻ᵀ X in the place of X.
func backward(lower []float64, n int, x []float64, width int) {
	for i := n - 1; i >= 0; i-- {
		row := x[i*width : (i+1)*width]
		for k := i + 1; k < n; k++ {
			if l := lower[k*n+i]; l != 0 {
				for c, v := range x[k*width : (k+1)*width] {
					row[c] -= l * v
				}
			}
		}
		for c := range row {
			row[c] /= lower[i*n+i]
		}
	}
}

// inverse is C⁻¹ of a factor.
func inverse(lower []float64, n int) []float64 {
	out := make([]float64, n*n)
	for i := range n {
		out[i*n+i] = 1
	}
	forward(lower, n, out, n)
	backward(lower, n, out, n)
	return out
}
