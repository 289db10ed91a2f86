package cli

import (
	"encoding/json"
	"fmt"
	"regexp"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/plan/plausibility"
	"hopperful/shop"
)

// asJSON says whether the command was asked for JSON.
func asJSON(c *cobra.Command) bool {
	on, err := c.Flags().GetBool("json")
	return err == nil && on
}

// writeJSON prints the one object a command answers with.
func writeJSON(env *Env, v any) error {
	text, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		return fmt.Errorf("the answer cannot be written as JSON: %w", err)
	}
	text = coded.ReplaceAllFunc(text, func(found []byte) []byte {
		part := coded.FindSubmatch(found)
		word, err := json.Marshal(env.speaks().Word(string(part[2])))
		if err != nil {
			return found
		}
		return append(append([]byte{}, part[1]...), word...)
	})
	_, err = fmt.Fprintln(env.Out, string(text))
	return err
}

// coded are names and formulas of figures that came as codes from a room with
// findings into one that has none yet.
var coded = regexp.MustCompile(`("(?:name|how)": )"([a-z]+\.[a-z0-9_]+)"`)

// recordJSON is a record as scripts read it.
type recordJSON struct {
	ID          shop.RecordID `json:"id"`
	Kind        string        `json:"kind"`
	At          string        `json:"at"`
	NotedAt     string        `json:"noted_at"`
	By          string        `json:"by"`
	Note        string        `json:"note"`
	Corrects    shop.RecordID `json:"corrects,omitempty"`
	CorrectedBy shop.RecordID `json:"corrected_by,omitempty"`
	Says        string        `json:"says"`
	Body        shop.Body     `json:"body"`

	Questions []questionJSON `json:"questions,omitempty"`
	Again     string         `json:"again,omitempty"` // the command that would write it again
	Picture   *pictureJSON   `json:"picture,omitempty"`
}

// pictureJSON says that a picture is kept with a record, and how to get it: in the
// body it would be a hundred kilobytes of letters.
type pictureJSON struct {
	Bytes int    `json:"bytes"`
	Get   string `json:"get"`
}

func recordOut(p *say.Printer, r shop.Record) recordJSON {
	const stamp = "2006-01-02T15:04:05Z07:00"
	out := recordJSON{ID: r.ID, Kind: r.Body.Kind(), At: r.At.Format(stamp), NotedAt: r.NotedAt.Format(stamp), By: r.By,
		Note: r.Note, Corrects: r.Corrects, CorrectedBy: r.CorrectedBy, Says: p.Say(shop.Describe(r.Body)), Body: r.Body}
	if b, ok := r.Body.(*shop.Sieved); ok && b.Kept() != nil {
		body, photo := *b, *b.Photo
		photo.Picture, body.Photo = "", &photo
		out.Body = &body
		out.Picture = &pictureJSON{len(b.Kept()), fmt.Sprintf("hopperful records %d --picture-to %d.jpg", r.ID, r.ID)}
	}
	return out
}

// questionJSON is what is asked about a record, as scripts read it.
type questionJSON struct {
	Record shop.RecordID `json:"record"`
	Code   shop.AskCode  `json:"code"`
	Field  string        `json:"field"` // of the record's body
	What   string        `json:"what"`
	Remedy string        `json:"remedy"`
	Meant  *float64      `json:"meant,omitempty"` // what was likely meant, SI
	Or     *readingJSON  `json:"or,omitempty"`    // another field that may hold the slip as well
	Kind   string        `json:"kind"`            // of what it measures
}

// readingJSON is a field that may hold a slip, and what was meant, SI.
type readingJSON struct {
	Field string  `json:"field"`
	Meant float64 `json:"meant"`
}

// questionsOut words what is asked.
func questionsOut(p *say.Printer, all []plausibility.Question) []questionJSON {
	out := []questionJSON{}
	for _, q := range all {
		one := questionJSON{q.Record, q.Code, q.Field, p.Say(q.Saying), strings.Join(p.All(q.Remedies), " "), q.Meant, nil, q.Kind.String()}
		if q.Or != nil {
			one.Or = &readingJSON{q.Or.Field, q.Or.Meant}
		}
		out = append(out, one)
	}
	return out
}

// answerWord spells out an answer that may be missing.
func answerWord(env *Env, a string) string {
	if a == "" {
		return env.speaks().Line("cell.unknown")
	}
	return env.speaks().Word(fact.TermCode("cell", a))
}
