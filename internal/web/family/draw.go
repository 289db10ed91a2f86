package family

import (
	"fmt"
	"html/template"
	"strings"
	"unicode/utf8"

	"hopperful/fact"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/drawing"
	"hopperful/shop"
)

// kinSketch is the picture of a family in the making. Its look comes from the
// style sheet; the colours of lots are numbers and stand in the drawing.
type kinSketch struct {
	out   strings.Builder
	d     *desk.Desk
	tree  *Tree
	more  func(on shop.LotID) string // the address behind a folded box
	links bool
	heaps map[shop.LotID]string // a lot may be drawn at several places
}

// Draw draws a placed family. A file has no links.
func (k *Tree) Draw(d *desk.Desk, title string, links bool, more func(on shop.LotID) string) template.HTML {
	s := &kinSketch{d: d, tree: k, more: more, links: links, heaps: map[shop.LotID]string{}}
	fmt.Fprintf(&s.out, `<svg class="kintree" viewBox="0 0 %.0f %.0f" width="%.0f" height="%.0f" role="group" aria-label="%s">`,
		k.Wide, k.High, k.Wide, k.High, template.HTMLEscapeString(title))
	k.Each(func(b, on *Box, up bool) { s.band(b, on, up) })
	s.strip()
	s.card(k.Lot, nil, false)
	k.Each(func(b, on *Box, up bool) {
		if b.Kind == KinLot {
			s.card(b, on, up)
		} else {
			s.box(b, on, up)
		}
	})
	k.Each(func(b, _ *Box, up bool) { s.pill(b, up) })
	s.out.WriteString(`</svg>`)
	return template.HTML(s.out.String())
}

// band draws what went between two boxes, in the colour of where it came from.
func (s *kinSketch) band(b, on *Box, up bool) {
	n, from, class := b.Band, on, "band"
	if up && b.Kind == KinLot {
		from = b
	}
	fill := s.d.PaintOf(from.Lot.Lot)
	switch b.Kind {
	case KinMore:
		if up {
			fill = drawing.NoColour
		}
	case kinLost:
		class = "band lost"
	case kinMill:
		class = "band waits"
	case kinFound:
		class = "band lost"
	}
	mid := (n.NearY + n.FarY) / 2
	fmt.Fprintf(&s.out, `<path class="%s" fill="%s" d="M%.1f %.1fC%.1f %.1f %.1f %.1f %.1f %.1fh%.2fC%.1f %.1f %.1f %.1f %.1f %.1fZ"/>`, class, fill,
		n.NearX, n.NearY, n.NearX, mid, n.FarX, mid, n.FarX, n.FarY, n.Wide,
		n.FarX+n.Wide, mid, n.NearX+n.Wide, mid, n.NearX+n.Wide, n.NearY)
}

// strip is all that came into the lot as a bar under it; what is full is still
// there.
func (s *kinSketch) strip() {
	k := s.tree
	lot, whole := k.Lot, k.wide(k.Lot.Lot.OnHand)
	for _, b := range k.Down {
		whole += b.Band.Wide
	}
	x, y := lot.X+lot.W/2-whole/2, lot.Y+cardHigh
	fmt.Fprintf(&s.out, `<rect class="came" x="%.1f" y="%.1f" width="%.2f" height="%g"/>`, x, y, whole, stripHigh)
	fmt.Fprintf(&s.out, `<rect class="band" fill="%s" x="%.1f" y="%.1f" width="%.2f" height="%g"/>`,
		s.d.PaintOf(lot.Lot.Lot), x, y, k.wide(lot.Lot.OnHand), stripHigh)
}

// card draws a lot: its heap, label, mass on hand and name.
func (s *kinSketch) card(b, on *Box, up bool) {
	r, class, p := b.Lot, "card", s.d.Say
	say := ""
	switch {
	case on == nil:
		class = "card own"
		say = p.Line("form.family_own_lot", fact.Name("lot", string(r.Lot)), fact.Name("r", kinWords(p, r)), fact.Weighed("on_hand", r.OnHand))
	default:
		say = b.say(s.d.Say, on, up)
		if b.Again {
			class = "card again"
		}
	}
	end := s.open(address.Lot(r.Lot), say)
	fmt.Fprintf(&s.out, `<rect class="%s" x="%.1f" y="%.1f" width="%g" height="%g" rx="3"/>`, class, b.X, b.Y, cardWide, cardHigh)
	fmt.Fprintf(&s.out, `<g class="small-heap" transform="translate(%.1f %.1f) scale(.46)">%s</g>`, b.X+6, b.Y+5, s.heap(r.Lot))
	s.text("tag", b.X+8, b.Y+76, string(r.Lot))
	s.text("mass", b.X+b.W-8, b.Y+76, s.d.Say.Weighed(r.OnHand))
	for i, line := range drawing.Fold(kinWords(p, r), cardLetters, 2) {
		s.text("name", b.X+8, b.Y+94+16*float64(i), line)
	}
	s.text("note", b.X+8, b.Y+126, s.d.Say.Word(b.note()))
	s.out.WriteString(end)
}

// heap is a lot's heap, drawn once.
func (s *kinSketch) heap(id shop.LotID) string {
	if _, done := s.heaps[id]; !done {
		l := s.d.State.Lots.At(id)
		s.heaps[id] = drawing.SmallHeap(l, s.d.Coarseness(l), s.d.Paint(l))
	}
	return s.heaps[id]
}

// note is the last line of a card.
func (b *Box) note() string {
	switch {
	case b.Again:
		return "form.drawn_elsewhere"
	case b.First && b.Door > 0:
		return "form.from_outside_word"
	case b.Door > 0:
		return "form.partly_outside"
	}
	return ""
}

// box draws what is not a lot.
func (s *kinSketch) box(b, on *Box, up bool) {
	p := s.d.Say
	words := map[kinKind][2]string{kinOutside: {"form.from_outside_word", "form.the_shop"}, kinFound: {"form.found_at", "form.a_recount"},
		kinMill: {"form.in_a_mill_word", "form.or_not_weighed"}, kinLost: {"form.lost_word", ""}}[b.Kind]
	end := ""
	switch b.Kind {
	case KinMore:
		words = [2]string{p.Line("form.and_more", fact.Count("count", b.Count)), "form.see_them_all"}
		end = s.open(s.more(b.Lot.Lot), p.Line("form.warning_see_all", fact.Name("up", b.say(s.d.Say, on, up))))
	case kinLost:
		if lines := drawing.Fold(b.Words, cardLetters, 1); len(lines) > 0 {
			words[1] = lines[0]
		}
		fallthrough
	default:
		s.out.WriteString(`<g>`)
		end = `</g>`
	}
	fmt.Fprintf(&s.out, `<rect class="box" x="%.1f" y="%.1f" width="%g" height="%g" rx="3"/>`, b.X, b.Y, b.W, b.H)
	s.text("name", b.X+8, b.Y+21, p.Word(words[0]))
	s.text("note", b.X+8, b.Y+39, p.Word(words[1]))
	s.out.WriteString(end)
}

// open begins a link, or a mere group in a file, and returns its end. Its title
// is what a reader hears and a mouse shows.
func (s *kinSketch) open(to, say string) string {
	title := `<title>` + template.HTMLEscapeString(say) + `</title>`
	if !s.links {
		s.out.WriteString(`<g>` + title)
		return `</g>`
	}
	s.out.WriteString(`<a href="` + template.HTMLEscapeString(to) + `">` + title)
	return `</a>`
}

// pill is the mass on a band, where the band reaches its box.
func (s *kinSketch) pill(b *Box, up bool) {
	text := s.d.Say.Weighed(b.Mass)
	wide := 7.6*float64(utf8.RuneCountInString(text)) + 10
	x, y := b.X+b.W/2, b.Y-17.0
	if up {
		y = b.Y + b.H + 17
	}
	fmt.Fprintf(&s.out, `<g class="pill" aria-hidden="true"><rect x="%.1f" y="%.1f" width="%.1f" height="21" rx="10.5"/><text x="%.1f" y="%.1f">%s</text></g>`,
		x-wide/2, y-10.5, wide, x, y+4.5, template.HTMLEscapeString(text))
}

func (s *kinSketch) text(class string, x, y float64, text string) {
	if text != "" {
		fmt.Fprintf(&s.out, `<text class="%s" x="%.1f" y="%.1f">%s</text>`, class, x, y, template.HTMLEscapeString(text))
	}
}

// cardLetters is how many letters a line of a card holds.
const cardLetters = 14
