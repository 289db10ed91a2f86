package shop

import (
	"hopperful/fact"
	"strconv"
	"strings"
)

// letters starts the labels of each class.
var letters = map[Class]byte{Scrap: 'S', Regrind: 'R', Virgin: 'V', Blend: 'B', Print: 'P'}

// classes is letters the other way round. No map: a long shop asks it of every lot on hand.
var classes = [256]Class{'S': Scrap, 'R': Regrind, 'V': Virgin, 'B': Blend, 'P': Print}

// maxLabel keeps a label short enough for a sticker.
const maxLabel = 999999

// ParseLot reads a label as a person types it: "s12" and " S12 " are S12.
func ParseLot(text string) (LotID, error) {
	id := LotID(strings.ToUpper(strings.TrimSpace(text)))
	if id.Class() == "" {
		return "", invalid("lot", fact.Say("shop.not_a_label", fact.Name("text", strconv.Quote(clip(text)))),
			fact.Say("shop.do_label_form"))
	}
	return id, nil
}

// Class is the class the label's letter stands for, "" when it is no label.
func (id LotID) Class() Class {
	if id.number() == 0 {
		return ""
	}
	return classes[id[0]]
}

// number is the label's number, 0 when it is no label.
func (id LotID) number() int {
	if len(id) < 2 || classes[id[0]] == "" || id[1] == '0' || id[1] == '+' {
		return 0
	}
	n, err := strconv.Atoi(string(id[1:]))
	if err != nil || n < 1 || n > maxLabel {
		return 0
	}
	return n
}

// counters holds the highest number given in each class, counting records that
// were struck out too: a label once on a bin never names another.
type counters map[Class]int

func (c counters) next(class Class) LotID {
	c[class]++
	return LotID(string(letters[class]) + strconv.Itoa(c[class]))
}

func (c counters) see(b Body) {
	l, ok := b.(labelling)
	if !ok {
		return
	}
	for _, id := range l.labels() {
		c[id.Class()] = max(c[id.Class()], id.number())
	}
}

// clip keeps quoted input in a message short.
func clip(text string) string {
	const most = 40
	if r := []rune(text); len(r) > most {
		return string(r[:most]) + "…"
	}
	return text
}

// labelsFit refuses labels that are none; an empty one is filled in later.
func labelsFit(b labelling) error {
	for _, id := range b.labels() {
		if id != "" && id.Class() == "" {
			_, err := ParseLot(string(id))
			return err
		}
	}
	return nil
}
