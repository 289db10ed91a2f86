package traceability

// How much dust this shop's printer bears: the limit, moved by prints of lots whose
// dust is known.

import (
	"math"

	"hopperful/answer"
	"hopperful/shop"
)

// DustBorne is the share of dust a printer bears [1], 10 to 90 %.
type DustBorne struct {
	Median, Low, High float64
	Prints            int     // that taught it
	Own               bool    // the shop set the limit it starts from
	Records           []int64 // of those prints
}

// How loosely the limit is believed: our default may be off by a factor of 1.6 either
// way, the shop's own by 1.25. A print that went well bore its dust but in one of
// twenty cases; one that failed did so for its dust in one of three. How sharply a printer
// chokes: a factor of 1.3 from one in six to five in six. Judgement.
const (
	defaultDoubt, ownDoubt = 1.6, 1.25
	otherCause             = 0.05
	dustToBlame            = 1.0 / 3
	chokes                 = 0.27 // standard deviation of the logarithm
	dustSteps              = 200
)

// DustBorneBy joins the limit with the prints on record: a log-normal belief and, for each
// print, the chance that a printer which bears so much would have done the same
// (own derivation).
func DustBorneBy(s *shop.State) DustBorne {
	limit, own := s.Shop.Limit(shop.MostDust)
	limit = math.Min(math.Max(limit, 1e-4), 0.95)
	doubt := defaultDoubt
	if own {
		doubt = ownDoubt
	}
	spread := math.Log(doubt) / answer.Ninety
	b := DustBorne{Own: own}
	var weight [dustSteps]float64
	at := func(i int) float64 { return math.Log(limit) + (float64(i)/(dustSteps-1)-0.5)*12*spread }
	for i := range weight {
		z := (at(i) - math.Log(limit)) / spread
		weight[i] = math.Exp(-z * z / 2)
	}
	for _, e := range s.Prints() {
		dust, known := dustAt(s, e)
		if !known || e.Body.Good != shop.Yes && e.Body.Good != shop.No {
			continue
		}
		b.Prints++
		b.Records = append(b.Records, int64(e.ID))
		for i := range weight {
			bears := otherCause + (1-2*otherCause)*0.5*math.Erfc(-(at(i)-math.Log(dust))/(chokes*math.Sqrt2))
			if e.Body.Good == shop.Yes {
				weight[i] *= bears
			} else {
				weight[i] *= dustToBlame*(1-bears) + (1-dustToBlame)*0.5
			}
		}
	}
	sum := 0.0
	for _, w := range weight {
		sum += w
	}
	quantile := func(share float64) float64 {
		below := 0.0
		for i, w := range weight {
			if below += w / sum; below >= share {
				return math.Min(math.Exp(at(i)), 0.99)
			}
		}
		return math.Min(math.Exp(at(dustSteps-1)), 0.99)
	}
	b.Low, b.Median, b.High = quantile(0.1), quantile(0.5), quantile(0.9)
	if b.Prints == 0 {
		b.Low, b.Median, b.High = limit/doubt, limit, math.Min(limit*doubt, 0.99)
	}
	return b
}

// dustAt is the dust in a lot when it was printed, by its last sieving before.
func dustAt(s *shop.State, e shop.Entry[*shop.Printed]) (dust float64, known bool) {
	lot, ok := s.Lot(e.Body.From)
	if !ok {
		return
	}
	for _, x := range s.Sievings(e.Body.From) { // the newest first
		if later(x.Record, e.Record) {
			continue
		}
		share, err := DustLeft(lot, x)
		return math.Min(math.Max(share, 1e-4), 0.99), err == nil
	}
	return
}

// DustTooMuch is the share of a lot to take off as dust so that no more than the borne
// share is left [1]: (f − b)/(1 − b).
func DustTooMuch(fines, borne float64) float64 {
	if fines <= borne || borne >= 1 {
		return 0
	}
	return (fines - borne) / (1 - borne)
}
