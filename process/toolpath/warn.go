package toolpath

import (
	"cmp"
	"slices"
)

// Kind names a kind of warning for programs; the text is for people.
type Kind int

// The kinds of warning.
const (
	BadLine Kind = iota
	BadChecksum
	NamedCommand
	BlockDelete
	OpenComment
	CutOff
	NoFeed
	NoMotion
	BadFeed
	BadArc
	ArcTurns
	OtherAxes
	UnknownG
	SplineAsLine
	OddFeedMode
	FlowFactor
	FeedFactor
	VolumetricIgnored
	ToolWithoutReset
	BadTool
	LimitPerMinute
	BadLimit
	LayersMerged
	AfterEnd
	Loading
	SaysOtherwise
	kinds
)

var kindText = [kinds]string{
	BadLine:           "lines that cannot be read were left out",
	BadChecksum:       "checksums do not match their lines: the file may be damaged; the lines were read all the same",
	NamedCommand:      "a macro that may extrude was left out: what it extrudes is not counted",
	BlockDelete:       "lines that start with / were skipped, as a controller does with block delete on",
	OpenComment:       "a comment opened by ( is not closed in its line: the rest of the line was taken as comment",
	CutOff:            "the last line has no line end: the file may have been cut off; the line was read as it stands",
	NoFeed:            "moves before the first F word were timed with the stated starting speed",
	NoMotion:          "axis words before any motion word were left out",
	BadFeed:           "an F word of zero or less was left out",
	BadArc:            "arcs that do not close (no centre or radius, radius too short, or ends on two different circles) were measured as well as they could be",
	ArcTurns:          "P in an arc was taken as the number of turns, 1 meaning the arc alone",
	OtherAxes:         "the words A, B, C, U, V, W and other letters in moves were left out",
	UnknownG:          "G words that are not known here were left out",
	SplineAsLine:      "splines (G5) were measured as straight lines",
	OddFeedMode:       "G93 or G95: F was read as units a minute all the same, so times and flows are wrong; have the file written with G94",
	FlowFactor:        "the flow factor set by M221 was applied to the volume",
	FeedFactor:        "the speed factor set by M220 was applied to the time",
	VolumetricIgnored: "M200 in the file was left out because the meaning of E was given",
	ToolWithoutReset:  "the tool changes under absolute E without G92 E: E was taken to count on across tools",
	BadTool:           "tool numbers above 63 or below 0, or with a fraction, were left out",
	LimitPerMinute:    "speed limits in M203 of 1000 and more were taken as per minute",
	BadLimit:          "acceleration, speed or factor settings out of any likely range were left out",
	LayersMerged:      "more layers than the table may have: neighbouring layers were merged",
	AfterEnd:          "lines after the end of the program (M2 or M30) were not read",
	Loading:           "filament pushed to the nozzle after a tool change was not counted: it is what was pulled back before",
	SaysOtherwise:     "what the file says of its filament differs from how it was read",
}

// warnings counts each kind once.
type warnings [kinds]struct {
	line, count int64
	text        string
}

func (w *warnings) add(k Kind, line int64) {
	if w[k].count == 0 {
		w[k].line = line
	}
	w[k].count++
}

// show adds a line with its text.
func (w *warnings) show(k Kind, line int64, text []byte) {
	if w[k].count == 0 {
		w[k].text = clip(text)
	}
	w.add(k, line)
}

// list merges collections and sorts by first line.
func (w *warnings) list(others *warnings) []Warning {
	var all []Warning
	for k := range kinds {
		n := w[k].count + others[k].count
		if n == 0 {
			continue
		}
		line, text := w[k].line, w[k].text
		if w[k].count == 0 || others[k].count > 0 && others[k].line < line {
			line, text = others[k].line, others[k].text
		}
		all = append(all, Warning{Kind: k, Text: kindText[k], Line: line, Count: n, First: text})
	}
	slices.SortStableFunc(all, func(a, b Warning) int { return cmp.Compare(a.Line, b.Line) })
	return all
}
