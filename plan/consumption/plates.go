package consumption

// Sliced jobs in a 3MF package: a part of G-code for each plate.

import (
	"io"
	"path"
	"strconv"
	"strings"

	"hopperful/fact"
	"hopperful/process/mesh"
	"hopperful/process/toolpath"
	"hopperful/shop"
)

// mostPlate bounds the G-code of one plate, unpacked; judgement.
const mostPlate = 4 << 30

// codeEndings are the endings of G-code within a package.
var codeEndings = []string{".gcode", ".gco", ".bgcode", ".nc"}

// plateNeed reads the plate asked for; found is false where the package holds none.
func plateNeed(name string, r io.ReaderAt, size int64, how Reading) (f Found, found bool, err error) {
	o := how.Mesh
	o.Limits.Unzipped = mostPlate
	p, err := mesh.OpenPackage(r, size, o)
	if err != nil {
		return f, false, unread(name, "3mf", err)
	}
	parts := p.Ending(codeEndings...)
	if len(parts) == 0 {
		return f, false, nil
	}
	part, err := onePlate(name, parts, how.Plate)
	if err != nil {
		return f, true, err
	}
	var opened []io.Closer
	path, err := toolpath.ReadBelieved(func() (io.Reader, error) {
		body, err := p.Part(part)
		if err != nil {
			return nil, err
		}
		opened = append(opened, body)
		return toolpath.Open(body)
	}, how.Toolpath)
	for _, body := range opened {
		_ = body.Close() // only read; what mattered was said while reading
	}
	if err != nil {
		return f, true, unread(name, "g-code", err)
	}
	f = pathNeed(name, path, how)
	if len(parts) > 1 {
		f.Need.Name += " " + plateName(part)
	}
	return f, true, nil
}

// onePlate is the plate meant: the only one, or the one named by name or number.
func onePlate(name string, parts []string, wanted string) (string, error) {
	names := make([]string, len(parts))
	for i, part := range parts {
		names[i] = plateName(part)
		if wanted != "" && (strings.EqualFold(wanted, names[i]) || wanted == strconv.Itoa(i+1)) {
			return part, nil
		}
	}
	if wanted == "" && len(parts) == 1 {
		return parts[0], nil
	}
	held := fact.Say("need.several_plates", fact.Name("name", name), fact.Names("plates", names))
	if wanted != "" {
		held = fact.Say("need.no_plate", fact.Name("name", name), fact.Name("plate", wanted), fact.Names("plates", names))
	}
	return "", shop.Refuse(shop.Invalid, "plate", held, fact.Say("need.say_plate"))
}

// plateName is what a person calls a part.
func plateName(part string) string {
	b := path.Base(part)
	return strings.TrimSuffix(b, path.Ext(b))
}
