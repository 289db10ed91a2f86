package main

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"

	"hopperful/internal/study"
)

// Forecasts one by one, kept in a file, so that two states of the program can be
// held against each other on the same mills.

// forecast is one line of the file.
type forecast struct {
	records, near string
	study.Row
}

// forecasts lists what was scored, in a fixed order.
func forecasts(scores study.Scores) (all []forecast) {
	for _, n := range study.RecordCounts {
		for w, s := range scores[n] {
			for _, r := range s.Rows {
				all = append(all, forecast{strconv.Itoa(n), study.Where(w).String(), r})
			}
		}
	}
	return all
}

// keep writes forecasts into a file.
func keep(name string, all []forecast) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	w := csv.NewWriter(f)
	for _, one := range all {
		line := []string{one.records, one.near, one.Of}
		for _, v := range []float64{one.Low, one.Mid, one.High, one.Truth, one.Unit} {
			line = append(line, strconv.FormatFloat(v, 'g', -1, 64))
		}
		if err := w.Write(line); err != nil {
			return err
		}
	}
	w.Flush()
	if err := w.Error(); err != nil {
		return err
	}
	return f.Close()
}

// kept reads them back.
func kept(name string) (all []forecast, err error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	for _, line := range lines {
		one := forecast{records: line[0], near: line[1], Row: study.Row{Of: line[2]}}
		for i, to := range []*float64{&one.Low, &one.Mid, &one.High, &one.Truth, &one.Unit} {
			if *to, err = strconv.ParseFloat(line[3+i], 64); err != nil {
				return nil, err
			}
		}
		all = append(all, one)
	}
	return all, err
}

// compare prints, kind by kind and count by count, median error and cover before and
// after, with the binomial error of a cover (one standard deviation).
func compare(before, after []forecast) {
	fmt.Println("kind, where, records: n; median error; share in the 80 % range (± one standard deviation); width of the range over the error's median")
	for _, of := range study.Kinds() {
		for _, near := range []string{"near", "far"} {
			for _, n := range study.RecordCounts {
				is := func(one forecast) bool { return one.Of != of || one.near != near || one.records != strconv.Itoa(n) }
				a := slices.DeleteFunc(slices.Clone(after), is)
				if len(a) == 0 {
					continue
				}
				fmt.Printf("%-12s %-4s %3d: %3d; %s", of, near, n, len(a), told(a))
				if b := slices.DeleteFunc(slices.Clone(before), is); len(b) > 0 {
					fmt.Printf("   before: %s", told(b))
				}
				fmt.Println()
			}
		}
	}
}

// told is how forecasts of one kind did.
func told(all []forecast) string {
	var errs, wide []float64
	inside := 0.0
	for _, one := range all {
		errs = append(errs, math.Abs(one.Mid-one.Truth)/one.Unit)
		wide = append(wide, (one.High-one.Low)/one.Unit)
		if one.Low <= one.Truth && one.Truth <= one.High {
			inside++
		}
	}
	slices.Sort(errs)
	slices.Sort(wide)
	p := inside / float64(len(all))
	return fmt.Sprintf("%6.3f; %3.0f ± %.0f %%; %5.2f", errs[len(errs)/2], 100*p, 100*math.Sqrt(p*(1-p)/float64(len(all))), wide[len(wide)/2])
}
