package toolpath

import (
	"cmp"
	"slices"
)

// Kind is a kind of warning. Edges word it by its name.
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

// kindName is what edges word a kind by.
var kindName = [kinds]string{
	BadLine:           "bad line",
	BadChecksum:       "bad checksum",
	NamedCommand:      "named command",
	BlockDelete:       "block delete",
	OpenComment:       "open comment",
	CutOff:            "cut off",
	NoFeed:            "no feed",
	NoMotion:          "no motion",
	BadFeed:           "bad feed",
	BadArc:            "bad arc",
	ArcTurns:          "arc turns",
	OtherAxes:         "other axes",
	UnknownG:          "unknown command",
	SplineAsLine:      "spline as line",
	OddFeedMode:       "odd feed mode",
	FlowFactor:        "flow factor",
	FeedFactor:        "feed factor",
	VolumetricIgnored: "volumetric ignored",
	ToolWithoutReset:  "tool without reset",
	BadTool:           "bad tool",
	LimitPerMinute:    "limit per minute",
	BadLimit:          "bad limit",
	LayersMerged:      "layers merged",
	AfterEnd:          "after end",
	Loading:           "loading",
	SaysOtherwise:     "says otherwise",
}

// String names the kind.
func (k Kind) String() string { return kindName[k] }

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
		all = append(all, Warning{Kind: k, Line: line, Count: n, First: text})
	}
	slices.SortStableFunc(all, func(a, b Warning) int { return cmp.Compare(a.Line, b.Line) })
	return all
}
