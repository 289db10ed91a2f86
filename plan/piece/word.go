package piece

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hopperful/answer"
	"hopperful/polymer"
	"hopperful/polymer/identify"
	"hopperful/shop"
)

// What the shares of the best are called. Judgement.
const (
	veryLikely = 0.95
	likely     = 0.80
	guess      = 0.50
)

func sortByShare(all []Material) {
	slices.SortStableFunc(all, func(a, b Material) int {
		switch {
		case a.Share.Value > b.Share.Value:
			return -1
		case a.Share.Value < b.Share.Value:
			return 1
		}
		return 0
	})
}

// answer says the whole in a sentence or two.
func (q *inquiry) answer() {
	best := q.out.Materials[0]
	share := Percent(best.Share.Value)
	if best.Polymer != polymer.Unknown {
		q.out.Polymer = best.Polymer
	}
	looks := q.book.LooksOnly(q.opt.Findings)
	q.out.Sure = sureWord(best.Share.Value, looks)
	label, _ := q.label()
	switch {
	case q.out.Stop != "":
		q.out.Answer = q.out.Stop
	case q.out.Polymer == "":
		q.out.Answer = fmt.Sprintf("Nothing listed fits well (%s for something else): a filled or blended plastic, or a slip. Repeat the tests, or keep it with the unknown.", share)
	case len(q.opt.Findings) == 0 && label == "":
		q.out.Answer = fmt.Sprintf("Nothing tried yet; %s of failed prints are %s.", share, best.Polymer)
	case len(q.opt.Findings) == 0:
		q.out.Answer = fmt.Sprintf("By its label alone: %s (%s). One test would tell more.", best.Polymer, share)
	case looks:
		q.out.Answer = fmt.Sprintf("By looks alone, a guess: %s (%s). Looks do not tell plastics apart; try a test.", best.Polymer, share)
	case q.out.Sure == "very likely", q.out.Sure == "likely":
		q.out.Answer = fmt.Sprintf("%s %s (%s). No test at a bench makes it certain.", answer.Capital(q.out.Sure), best.Polymer, share)
	default:
		q.out.Answer = fmt.Sprintf("%s: %s.", answer.Capital(q.out.Sure), firstOf(q.out.Materials))
	}
	q.notes()
	q.writeDown()
}

// Percent says a share in whole per cents: more digits than the tables behind it
// bear would only look sure.
func Percent(share float64) string {
	n := math.Floor(100*share + 0.5)
	switch {
	case n < 1:
		return "under 1 %"
	case n > 99:
		return "over 99 %"
	}
	return fmt.Sprintf("%.0f %%", n)
}

// sureWord is how sure, in words. Looks alone are never more than a guess.
func sureWord(share float64, looks bool) string {
	switch {
	case share >= veryLikely && !looks:
		return "very likely"
	case share >= likely && !looks:
		return "likely"
	case share >= guess:
		return "a guess"
	}
	return "unclear"
}

// firstOf names the first few polymers that are worth a word.
func firstOf(all []Material) string {
	var words []string
	for _, m := range all[:min(4, len(all))] {
		if m.Share.Value >= 0.03 || len(words) < 2 {
			words = append(words, fmt.Sprintf("%s (%s)", m.Polymer, Percent(m.Share.Value)))
		}
	}
	return strings.Join(words, ", ")
}

// stopIfChlorine ends everything when the piece could give off chlorine.
func (q *inquiry) stopIfChlorine() {
	why := ""
	pvc := q.book.ByPolymer(q.shares)["PVC"]
	switch {
	case q.opt.Chlorine == shop.Yes:
		why = "something speaks of chlorine"
	case q.lot != nil && q.lot.Suspected():
		why = fmt.Sprintf("lot %s is down as suspected of chlorine", q.lot.ID)
	case q.book.Suspect(q.shares):
		why = fmt.Sprintf("it could be PVC (%s)", Percent(pvc))
	default:
		return
	}
	suspect := shop.Bar{Code: shop.BarHalogen}
	q.out.Stop = fmt.Sprintf("%s: stop. %s %s", answer.Capital(why), suspect.Instead(), suspect.Why())
}

// leastBits is what a test must be expected to tell to be worth its time, and
// enough the entropy below which nothing more need be tried [bit]. Judgement.
const (
	leastBits = 0.01
	enough    = 0.1
)

// tests lists what could be tried, unless everything stops.
func (q *inquiry) tests() error {
	q.stopIfChlorine()
	if q.out.Stop != "" {
		return nil
	}
	q.out.MayHeat = q.book.MayHeat(q.shares)
	ranked, err := q.book.Rank(q.shares, q.opt.Findings)
	if err != nil {
		return identifyRefusal("findings", err)
	}
	for _, w := range ranked {
		if w.Bits < leastBits {
			continue
		}
		t, err := q.test(w)
		if err != nil {
			return err
		}
		if q.out.Next == nil && (q.out.Unsure.Value > enough || len(q.opt.Findings) == 0) {
			q.out.Next = &t
			continue
		}
		q.out.Tests = append(q.out.Tests, t)
	}
	return q.part()
}

func (q *inquiry) notes() {
	note := func(text string) { q.out.Notes = append(q.out.Notes, text) }
	if q.out.Stop != "" {
		return
	}
	if other := q.book.ByPolymer(q.shares)[polymer.Unknown]; other >= 0.2 && q.out.Polymer != "" {
		note("The findings fit nothing listed well: a filled grade, a blend, or a slip. Repeat the one that surprises most.")
	}
	density := false
	for _, f := range q.opt.Findings {
		density = density || f.Test == "floats" || f.Test == identify.Weighed
	}
	if density {
		note("Fibre, metal, wood or glow filled and foamed plastics read wrong in every density test.")
	}
	if q.out.Next == nil && len(q.opt.Findings) > 0 {
		note("No further test at the bench would tell much.")
	}
	note("One piece stands for its lot only if the lot is one print or one spool.")
}

// identifyRefusal puts what the reckoning refuses beside its question.
func identifyRefusal(field string, err error) error {
	return &shop.Error{Code: shop.Invalid, Field: field, Say: answer.Sentence(answer.Capital(err.Error())), Hint: "Take a value inside that range, or another test."}
}
