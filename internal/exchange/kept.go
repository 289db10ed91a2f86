package exchange

import (
	"encoding/json"
	"time"

	"hopperful/shop"
)

// Kept is a record as it travels: in a file of JSON Lines and over the API.
type Kept struct {
	ID       shop.RecordID   `json:"id,omitempty"` // 0: the shop gives the number
	Kind     string          `json:"kind"`
	At       time.Time       `json:"at,omitzero"`       // when it happened; absent: now, or as before
	NotedAt  time.Time       `json:"noted_at,omitzero"` // when it was written down
	By       string          `json:"by,omitempty"`
	Note     string          `json:"note,omitempty"`
	Corrects shop.RecordID   `json:"corrects,omitempty"`
	Body     json.RawMessage `json:"body"`
}

// KeptOf is a record on its way out.
func KeptOf(r shop.Record) (Kept, error) {
	body, err := shop.Encode(r.Body)
	if err != nil {
		return Kept{}, err
	}
	return Kept{ID: r.ID, Kind: r.Body.Kind(), At: r.At, NotedAt: r.NotedAt, By: r.By, Note: r.Note, Corrects: r.Corrects, Body: body}, nil
}

// Record is the record it says, its body held against what such a record may be.
func (k Kept) Record() (shop.Record, error) {
	b, err := shop.Decode(k.Kind, k.Body)
	if err != nil {
		return shop.Record{}, err
	}
	return shop.Record{ID: k.ID, At: k.At, NotedAt: k.NotedAt, By: k.By, Note: k.Note, Corrects: k.Corrects, Body: b}, nil
}
