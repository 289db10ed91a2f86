package shop

// The thresholds of verdicts that no source gives: the shop's own, each with our
// default until the shop says otherwise.

import "hopperful/quantity"

// Limit is a threshold of a verdict, by the JSON name of its setting.
type Limit string

// The limits.
const (
	MostDust      Limit = "most_dust"
	MostMetal     Limit = "most_metal"
	ChipShare     Limit = "chip_share"
	LeastStrength Limit = "least_strength"
	MostPressure  Limit = "most_pressure_pa"
	MostBlocked   Limit = "most_blocked"
	LeastSure     Limit = "least_sure"
)

// LimitLine is a line of the table of limits.
type LimitLine struct {
	Limit Limit
	Kind  quantity.Kind
	Usual float64 // our default
	said  func(*ShopSet) **float64
}

// limits is the one table. Every default is judgement.
var limits = []LimitLine{
	{MostDust, quantity.Share, 0.10, func(b *ShopSet) **float64 { return &b.MostDust }},
	{MostMetal, quantity.Share, 10e-6, func(b *ShopSet) **float64 { return &b.MostMetal }},
	{ChipShare, quantity.Share, 1.0 / 3, func(b *ShopSet) **float64 { return &b.ChipShare }},
	{LeastStrength, quantity.Share, 0.80, func(b *ShopSet) **float64 { return &b.LeastStrength }},
	{MostPressure, quantity.Pressure, 12e6, func(b *ShopSet) **float64 { return &b.MostPressure }},
	{MostBlocked, quantity.Share, 0.05, func(b *ShopSet) **float64 { return &b.MostBlocked }},
	{LeastSure, quantity.Share, 0.90, func(b *ShopSet) **float64 { return &b.LeastSure }},
}

// Limits is the table of limits.
func Limits() []LimitLine { return append([]LimitLine(nil), limits...) }

// Of is what the shop says of the limit, nil for our default.
func (l LimitLine) Of(b *ShopSet) *float64 { return *l.said(b) }

// Limit is the limit that holds in this shop, and whether the shop set it itself.
func (b *ShopSet) Limit(l Limit) (value float64, own bool) {
	for _, line := range limits {
		if line.Limit != l {
			continue
		}
		if v := line.Of(b); v != nil {
			return *v, true
		}
		return line.Usual, false
	}
	return 0, false
}
