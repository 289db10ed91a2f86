package dose

import (
	"slices"
	"time"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/process/exposure"
	"hopperful/quantity"
	"hopperful/shop"
)

// What nobody said of the dust. Judgement.
const (
	dustBulk   = 400.0 // kg/m³, settled
	usualRoom  = 2.4   // m, height
	dustyShare = 0.05  // of the floor: what the layer rule speaks of
)

// dust says what fines were made and where they lie.
func (j *job) dust() error {
	date := j.opt.Day.Format(time.DateOnly)
	var today, inLots, unseen float64
	ofDay := map[shop.RecordID]bool{}
	for _, r := range j.state.Records.Since(j.opt.Day.AddDate(0, 0, -1)) {
		ofDay[r.ID] = r.At.In(j.opt.Day.Location()).Format(time.DateOnly) == date
	}
	records := j.state.Records
	for l := range j.state.Losses.Between(records.Numbers(records.Began(j.opt.Day.AddDate(0, 0, -1)), records.Len())) {
		if ofDay[l.Record] && (l.Name == shop.SweptUp || l.Name == shop.DustTaken || l.Name == shop.LostGrinding) {
			today += l.Mass
		}
	}
	sums := j.state.Losses.Sums()
	swept, taken, lost := sums[shop.SweptUp], sums[shop.DustTaken], sums[shop.LostGrinding]
	for _, l := range j.state.Stock(shop.Regrind, shop.Blend) {
		if q, ok := finer(j.state, l.ID); ok {
			inLots += q * l.Mass
		} else {
			unseen += l.Mass
		}
	}
	t := answer.Table{Key: "dose_dust", Leads: true, Columns: []answer.Column{{Key: "where"}, {Key: "fines", Numbers: true}}}
	row := func(where fact.Fact, kg float64) {
		t.Rows = append(t.Rows, []fact.Fact{where, fact.About("mass", quantity.Mass, max(0, kg))})
	}
	row(fact.Word("where", "dose.in_lots"), inLots)
	row(fact.Word("where", "dose.taken_off"), taken)
	row(fact.Word("where", "dose.swept"), swept)
	row(fact.Word("where", "dose.not_found"), lost)
	if unseen > 0 {
		t.Notes = append(t.Notes, fact.Say("dose.not_sieved", fact.About("mass", quantity.Mass, unseen)))
	}
	t.Notes = append(t.Notes, fact.Say("dose.today", fact.About("mass", quantity.Mass, max(0, today))))
	j.doc.Tables = append(j.doc.Tables, t)
	return j.layer(max(0, lost))
}

// finer is the share of a lot below the size of dust, by its newest analysis.
func finer(s *shop.State, id shop.LotID) (float64, bool) {
	all := s.Sievings(id)
	if len(all) == 0 {
		return 0, false
	}
	b := all[0].Body
	on, pan := b.Net()
	total, below := pan, pan
	for _, m := range on {
		total += m
	}
	if !(total > 0) {
		return 0, false
	}
	for i, x := range slices.Backward(b.Sieves) { // the finest first
		if x.Opening >= exposure.DustSize*(1-1e-6) {
			if x.Opening > exposure.DustSize*(1+1e-6) && below > 0 { // as if spread evenly up to that sieve
				below *= exposure.DustSize / x.Opening
			}
			return below / total, true
		}
		below += on[i]
	}
	return 0, false
}

// layer holds what was never found against the rule for layers of dust: if all of it
// lay on a twentieth of the floor. It is the worst case and no measurement.
func (j *job) layer(lost float64) error {
	s := answer.Section{Key: "dose_layer", Notes: []fact.Saying{fact.Say("dose.layer_rule")}}
	limit, err := exposure.LayerDepth(dustBulk)
	if err != nil {
		return err
	}
	bulk := figure.Figure{Key: "bulk", Name: "dose.dust_bulk", Kind: quantity.Density, Value: dustBulk, Low: dustBulk / 2, High: dustBulk * 1.5, Basis: figure.Assumed}
	s.Figures = append(s.Figures, figure.Exact("layer_limit", "dose.layer_limit", quantity.Length, limit, figure.Books).From("0.954 kg/m² / ρ", bulk).Cite("OSHAMemo2015", "layer depth"))
	if j.opt.Floor > 0 {
		height := j.opt.Height
		if height == 0 {
			height = usualRoom
		}
		area := dustyShare * j.opt.Floor
		depth := lost / (dustBulk * area)
		ruled := min(depth, 10) // no rule goes deeper
		hazard, err := exposure.LayerHazard(dustBulk, ruled, area*1.0001, j.opt.Floor)
		if err != nil {
			return err
		}
		cloud, err := exposure.LayerCloud(dustBulk, ruled, dustyShare, height)
		if err != nil {
			return err
		}
		s.Figures = append(s.Figures, figure.Exact("layer", "dose.layer", quantity.Length, depth, figure.Reckoned).From("m / (ρ·0.05·A)", bulk),
			figure.Exact("cloud", "dose.cloud", quantity.Density, cloud, figure.Reckoned).From("m / (A·H)"))
		if hazard {
			f := answer.Found(fact.Say("dose.layer_too_deep"), fact.Say("dose.vacuum"))
			f.Weight = 1
			j.doc.Spoilers = append([]answer.Finding{f}, j.doc.Spoilers...)
		}
	} else if lost > 0 {
		s.Notes = append(s.Notes, fact.Say("dose.say_floor"))
	}
	clouds := answer.Table{Key: "dose_clouds", Columns: []answer.Column{{Key: "dusty"}, {Key: "least_cloud", Numbers: true}, {Key: "dust_class", Numbers: true}}, Notes: []fact.Saying{fact.Say("dose.other_dust")}}
	for _, c := range exposure.Clouds {
		class := fact.Name("class", "")
		if c.Kst > 0 {
			n, err := exposure.DustClass(c.Kst)
			if err != nil {
				return err
			}
			class = fact.Count("class", n)
		}
		clouds.Rows = append(clouds.Rows, []fact.Fact{fact.Name("material", c.Material), fact.Set("least", quantity.Density, c.Least), class})
	}
	s.Tables = append(s.Tables, clouds)
	j.doc.Reasons = append(j.doc.Reasons, s)
	return nil
}
