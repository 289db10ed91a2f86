package label

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/boombuler/barcode/qr"
)

// Sticker is one label to be drawn.
type Sticker struct {
	Head  string
	Lines []string
	Link  string // what the code opens
}

// box is a black rectangle, words a text; in millimetres from the top left.
type box struct{ x, y, w, h float64 }

type words struct {
	x, y, size float64
	bold       bool
	text       string
}

// page is one page ready to be drawn.
type page struct {
	boxes []box
	words []words
}

// Sheets are pages of labels.
type Sheets struct {
	size  Size
	pages []page
}

// Pages is how many there are.
func (s Sheets) Pages() int { return len(s.pages) }

// Bounds of a code and of what stands beside it [mm]. A quiet zone of four modules
// belongs to the code (ISO/IEC 18004, 6.3.8, from memory); a phone reads modules
// from a third of a millimetre on (judgement).
const (
	quiet       = 4
	leastModule = 0.33
	lineHeight  = 1.22 // of a text's size
	letterWide  = 0.52 // of its size, on average (Helvetica; judgement)
)

// TooLong says that a link makes a code too fine for a label.
type TooLong struct {
	Link   string
	Size   Size
	Module float64 // [mm]
}

// Error says how fine the code would be.
func (e *TooLong) Error() string {
	return fmt.Sprintf("the code of %s would have dots of %.2f mm on a label of %s", e.Link, e.Module, e.Size)
}

// Draw lays stickers out. skip leaves so many labels of the first page free: those
// that were used before.
func Draw(all []Sticker, size Size, skip int) (Sheets, error) {
	s := Sheets{size: size}
	for i, one := range all {
		at := i + skip
		for len(s.pages) <= at/size.PerPage() {
			s.pages = append(s.pages, page{})
		}
		p := &s.pages[at/size.PerPage()]
		on := at % size.PerPage()
		x, y := size.Left+float64(on%size.Across)*size.StepX, size.Top+float64(on/size.Across)*size.StepY
		if err := p.sticker(one, size, x, y); err != nil {
			return Sheets{}, err
		}
	}
	return s, nil
}

// sticker draws one label with its top left corner at x and y: the code at the
// left, the text beside it.
func (p *page) sticker(one Sticker, size Size, x, y float64) error {
	margin := min(2.5, size.H*0.07)
	side := min(size.H, size.W*0.5) - 2*margin
	if err := p.code(one.Link, size, x+margin, y+margin+(size.H-2*margin-side)/2, side); err != nil {
		return err
	}
	left := x + margin + side + 1
	wide := x + size.W - margin - left
	head := min(size.H*0.28, wide/(letterWide*1.15*float64(max(3, utf8.RuneCountInString(one.Head)))))
	at := y + margin + head*0.8
	p.words = append(p.words, words{left, at, head, true, one.Head})
	small := min(size.H*0.115, 3.6)
	at += small * 0.4
	for _, l := range one.Lines {
		for _, part := range wrapped(l, int(wide/(letterWide*small))) {
			if at += small * lineHeight; at > y+size.H-margin {
				return nil // the most important stands first; the page has the rest
			}
			p.words = append(p.words, words{left, at, small, false, part})
		}
	}
	return nil
}

// wrapped parts a text into lines of at most so many letters.
func wrapped(text string, most int) []string {
	var lines []string
	line := ""
	for _, w := range strings.Fields(text) {
		if line != "" && utf8.RuneCountInString(line+" "+w) > most {
			lines, line = append(lines, line), ""
		}
		if line != "" {
			line += " "
		}
		line += w
		if r := []rune(line); len(r) > max(most, 4) {
			line = string(r[:max(most, 4)-1]) + "…"
		}
	}
	return append(lines, line)
}

// code draws a QR code with its quiet zone into a square.
func (p *page) code(link string, size Size, x, y, side float64) error {
	c, err := qr.Encode(link, qr.M, qr.Auto)
	if err != nil {
		return fmt.Errorf("the code of %s: %w", link, err)
	}
	n := c.Bounds().Dx()
	module := side / float64(n+2*quiet)
	if module < leastModule {
		return &TooLong{link, size, module}
	}
	dark := func(i, j int) bool {
		grey, _, _, _ := c.At(c.Bounds().Min.X+i, c.Bounds().Min.Y+j).RGBA()
		return grey < 1<<15
	}
	for j := range n {
		for i := 0; i < n; {
			run := 0
			for i+run < n && dark(i+run, j) {
				run++
			}
			if run > 0 {
				p.boxes = append(p.boxes, box{x + float64(quiet+i)*module, y + float64(quiet+j)*module, float64(run) * module, module})
			}
			i += max(1, run)
		}
	}
	return nil
}
