package fit

// What prints on record say of a question: a lot that printed well is evidence,
// and no threshold of a book stands against it.

import "hopperful/fact"

// How much prints on record weigh. Judgement: the model's word counts as four
// prints that went the same way; a print of its like, ground by the same mill of
// the same plastic, counts half; one that failed could have failed for any of the
// questions, so it counts a third against each.
const (
	modelWord = 4.0
	likeWord  = 0.5
	failWord  = 1.0 / 3
)

// answeredByPrints are the questions a good print answers, and how fully: nothing in
// it kept the granulate from running, melting and coming out. Of the water it speaks as far
// as the lot has been kept since as it was then; of its age half, for a print that
// came out well has not been broken. Whether there is enough, or the right plastic, it does not say.
var answeredByPrints = map[string]float64{"metal": 1, "sizes": 1, "runs": 1, "takes_in": 1, "melts": 1, "pressure": 1, "open": 1, "dry": 1, "strength": 0.5}

// weighed joins the chance of a question with the prints of the lot and its like.
func (j *job) weighed(q question, chance float64) (joined float64, known bool) {
	f := j.facts
	ran, failed, like, likeFailed := f.ran, len(f.failed), f.likeRan, f.likeFailed
	if q.key == "dry" { // others were dried and kept otherwise
		ran, failed, like, likeFailed = f.ranSince, f.failedSince, 0, 0
	}
	weight := answeredByPrints[q.key]
	good := weight * (float64(ran) + likeWord*float64(like))
	bad := weight * failWord * (float64(failed) + likeWord*float64(likeFailed))
	if good+bad == 0 {
		return chance, q.known
	}
	return (modelWord*chance + good) / (modelWord + good + bad), q.known || ran > 0 && q.key != "strength"
}

// whole joins the chance that a print of the lot goes well with how its prints went,
// as far as it has been kept since as it was then: one that failed, whatever for, counts whole.
func (f lotFacts) whole(chance float64) float64 {
	good, bad := float64(f.ranSince), float64(f.failedSince)
	return (modelWord*chance + good) / (modelWord + good + bad)
}

// prints tells as evidence how many prints of it, or of its like, went well; nothing where
// there are none on record.
func (j *job) prints() fact.Fact {
	f := j.facts
	if n := f.ran + len(f.failed); n > 0 {
		return fact.Parts("evidence", fact.Say("fit.prints_of_it", fact.Count("n", n), fact.Count("good", f.ran)))
	}
	if n := f.likeRan + f.likeFailed; n > 0 {
		return fact.Parts("evidence", fact.Say("fit.prints_of_its_like", fact.Count("n", n), fact.Count("good", f.likeRan)))
	}
	return fact.Parts("evidence")
}
