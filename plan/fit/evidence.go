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

// answeredByPrints are the questions a good print answers: nothing in it kept the
// granulate from running, melting and coming out. Whether it is dry today, enough,
// or of the right plastic it does not answer.
var answeredByPrints = map[string]bool{"metal": true, "sizes": true, "runs": true, "takes_in": true, "melts": true, "pressure": true, "open": true}

// weighed joins the chance of a question with the prints of the lot and its like.
func (j *job) weighed(q question, chance float64) (joined float64, known bool) {
	f := j.facts
	good := float64(f.ran) + likeWord*float64(f.likeRan)
	bad := failWord * (float64(len(f.failed)) + likeWord*float64(f.likeFailed))
	if !answeredByPrints[q.key] || good+bad == 0 {
		return chance, q.known
	}
	return (modelWord*chance + good) / (modelWord + good + bad), q.known || f.ran > 0
}

// prints tells how many prints of it, or of its like, went well; nothing where
// there are none on record.
func (j *job) prints(name string) fact.Fact {
	f := j.facts
	if n := f.ran + len(f.failed); n > 0 {
		return fact.Parts(name, fact.Say("fit.prints_of_it", fact.Count("n", n), fact.Count("good", f.ran)))
	}
	if n := f.likeRan + f.likeFailed; n > 0 {
		return fact.Parts(name, fact.Say("fit.prints_of_its_like", fact.Count("n", n), fact.Count("good", f.likeRan)))
	}
	return fact.Parts(name)
}
