package consumption_test

import (
	"bytes"
	"errors"
	"testing"

	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/plan/consumption"
	"hopperful/process/mesh"
	"hopperful/process/toolpath"
	"hopperful/shop"
)

// Whatever the readers of files refuse or warn of has its wording in every language.
func TestReadersAreWorded(t *testing.T) {
	t.Parallel()
	scales := map[string][]string{}
	add := func(scale, value string) { scales[scale] = append(scales[scale], value) }
	for k := toolpath.BadLine; k < toolpath.SaysOtherwise; k++ {
		add("line_warning", k.String())
	}
	for _, f := range []toolpath.Fault{toolpath.Expression, toolpath.NoLetter, toolpath.NoChecksum, toolpath.BehindChecksum, toolpath.ManyDigits, toolpath.LineNumber,
		toolpath.LetterTwice, toolpath.CommandNumber, toolpath.ManyCommands, toolpath.TwoMotions, toolpath.NoNumber, toolpath.LongLine} {
		add("line_fault", string(f))
	}
	for _, l := range []toolpath.Looks{toolpath.Gzip, toolpath.Zip, toolpath.PNG, toolpath.JPEG, toolpath.PDF, toolpath.UTF16, toolpath.XML, toolpath.JSON, toolpath.STL,
		toolpath.Binary, toolpath.NoCommand, toolpath.Damaged, toolpath.OtherVersion} {
		add("file_looks", string(l))
		add("file_instead", string(l))
	}
	for _, o := range []toolpath.Of{toolpath.Thickness, toolpath.Meaning, toolpath.UsedVolume, toolpath.UsedMass, toolpath.UsedLength} {
		add("file_says", string(o))
	}
	for _, e := range []toolpath.Taken{toolpath.GivenLength, toolpath.GivenVolume, toolpath.GivenTurns, toolpath.StatedLength, toolpath.StatedVolume, toolpath.CommandedLength,
		toolpath.CommandedVolume, toolpath.PartlyVolume, toolpath.UsualLength} {
		add("e_taken", string(e))
	}
	for _, f := range []mesh.Fault{mesh.Truncated, mesh.Malformed, mesh.NotFinite, mesh.TooLarge, mesh.Unsupported, mesh.Empty} {
		add("mesh_fault", string(f))
		add("mesh_instead", string(f))
	}
	for _, c := range []mesh.Caution{mesh.UnitAssumed, mesh.WrongCount, mesh.TurnedOut, mesh.FlatFacets, mesh.LeftOut, mesh.SeveralShells} {
		add("mesh_warning", string(c))
	}
	for _, lang := range say.Languages() {
		for scale, values := range scales {
			for _, v := range values {
				if code := fact.TermCode(scale, v); !say.For(lang).Has(code) {
					t.Errorf("%s has no line %q", lang, code)
				}
			}
		}
	}
}

// A file that cannot be read is refused as a finding with advice, whatever it is.
func TestFilesAreRefusedWithAdvice(t *testing.T) {
	t.Parallel()
	for name, text := range map[string]string{"a.gcode": "\x89PNG\r\n", "b.gcode": "Dear reader\n", "c.gcode": "G1 X1 F600\n", "d.gcode": "G1 X1 E1 F600\nG1 X=\nG1 Y=\n", "e.gcode": "G1 X1 E1 F12345678901\n",
		"f.gcode": "\x1f\x8b\x08", "g.stl": "solid a\nendsolid a\n", "h.stl": "solid a\nfacet\n", "i.stl": "short", "j.3mf": "no zip at all"} {
		_, err := consumption.ReadNeed(name, bytes.NewReader([]byte(text)), int64(len(text)), consumption.Reading{})
		var e *shop.Error
		if !errors.As(err, &e) || e.What.Code != "need.unread" || e.Advice.Empty() {
			t.Errorf("%s: %v", name, err)
			continue
		}
		english, _ := say.For("en").Refusal(e)
		if german, advice := say.For("de").Refusal(e); german == english || advice == "" {
			t.Errorf("%s: %s %s", name, german, advice)
		}
	}
}
