package mesh

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const plain = `unit="millimeter"`

func cube(id string, more string) string {
	return `<object id="` + id + `" ` + more + `>` + box(1, 1, 1).mesh() + `</object>`
}

func TestRead3MFFile(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile(filepath.Join("testdata", "pair.3mf"))
	if err != nil {
		t.Fatal(err)
	}
	b, err := build3MF(data, Options{})
	if err != nil {
		t.Fatal(err)
	}
	// A box of 10 × 20 × 30 and one twice as wide, turned by 90° about z.
	if math.Abs(b.Volume-18e-6) > 1e-17 || b.Facets != 24 || b.Shells != 2 || !b.Closed || b.Inverted {
		t.Errorf("got %+v", b)
	}
	want := [2][3]float64{{-0.02, 0, 0.005}, {0, 0.06, 0.035}}
	for i := range 3 {
		if math.Abs(b.Min[i]-want[0][i]) > 1e-15 || math.Abs(b.Max[i]-want[1][i]) > 1e-15 {
			t.Errorf("the box is %v to %v, wanted %v", b.Min, b.Max, want)
		}
	}
	if len(b.Items) != 1 || b.Items[0].Name != "pair" || b.Items[0].Facets != 24 {
		t.Errorf("items %+v", b.Items)
	}
}

func TestRead3MFBuild(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		resources, build string
		cubes            float64
		items            int
	}{
		"not built is not counted": {cube("1", "") + cube("2", ""), `<item objectid="1"/>`, 1, 1},
		"built twice":              {cube("1", ""), `<item objectid="1"/><item objectid="1" transform="1 0 0 0 1 0 0 0 1 5 5 0"/>`, 2, 2},
		"defined after use":        {`<object id="2"><components><component objectid="1"/></components></object>` + cube("1", ""), `<item objectid="2"/>`, 1, 1},
		"three levels": {cube("1", "") +
			`<object id="2"><components><component objectid="1"/><component objectid="1" transform="2 0 0 0 2 0 0 0 2 3 0 0"/></components></object>` +
			`<object id="3"><components><component objectid="2" transform="1 0 0 0 1 0 0 0 3 0 0 9"/></components></object>`, `<item objectid="3"/>`, 27, 1},
		"supports left out":           {cube("1", "") + cube("2", `type="support"`) + cube("3", `type="other"`), `<item objectid="1"/><item objectid="2"/><item objectid="3"/>`, 1, 1},
		"solid supports count":        {cube("1", `type="solidsupport"`), `<item objectid="1"/>`, 1, 1},
		"inside out beside sound":     {cube("1", "") + `<object id="2">` + box(1, 1, 1).turnedOut().mesh() + `</object>`, `<item objectid="1"/><item objectid="2"/>`, 2, 2},
		"foreign elements pass":       {cube("1", "") + `<m:colorgroup id="9"><m:color color="#FF0000FF"/></m:colorgroup>`, `<item objectid="1" p:UUID="x"/>`, 1, 1},
		"understood requirement":      {cube("1", ""), `<item objectid="1"/>`, 1, 1},
		"spaces around a coordinate":  {strings.Replace(cube("1", ""), `x="1"`, `x=" 1 "`, 1), `<item objectid="1"/>`, 1, 1},
		"an empty object is no solid": {cube("1", "") + `<object id="2"></object>`, `<item objectid="1"/><item objectid="2"/>`, 1, 1},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			b, err := build3MF(pack(t, model3MF(plain+` requiredextensions="m p"`, c.resources, c.build)), Options{})
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(b.Volume-c.cubes*1e-9) > 1e-20 || len(b.Items) != c.items {
				t.Errorf("volume %g mm³ in %d items, wanted %g in %d", b.Volume*1e9, len(b.Items), c.cubes, c.items)
			}
			if strings.Contains(name, "left out") != cautions(b.Solid)[LeftOut] || strings.Contains(name, "inside out") != b.Inverted {
				t.Errorf("warnings %v", b.Warnings)
			}
		})
	}
}

func TestRead3MFRefuses(t *testing.T) {
	t.Parallel()
	one := cube("1", "")
	item := `<item objectid="1"/>`
	nested := func(n int) string {
		var b strings.Builder
		b.WriteString(one)
		for i := 2; i <= n; i++ {
			fmt.Fprintf(&b, `<object id="%d"><components><component objectid="%d"/><component objectid="%d"/></components></object>`, i, i-1, i-1)
		}
		return b.String()
	}
	for name, c := range map[string]struct {
		model string
		want  Fault
	}{
		"no XML":                    {"hello", Malformed},
		"cut off":                   {model3MF(plain, one, item)[:700], Truncated},
		"document type":             {`<!DOCTYPE x [<!ENTITY a "b">]>` + model3MF(plain, one, item), Malformed},
		"another root":              {`<svg xmlns="http://www.w3.org/2000/svg"/>`, Malformed},
		"unit":                      {model3MF(`unit="mile"`, one, item), Malformed},
		"unknown requirement":       {model3MF(plain+` requiredextensions="b"`, one, item), Unsupported},
		"undeclared requirement":    {model3MF(plain+` requiredextensions="q"`, one, item), Unsupported},
		"part not there":            {model3MF(plain, one, `<item objectid="1" p:path="/3D/other.model"/>`), Malformed},
		"id twice":                  {model3MF(plain, one+one, item), Malformed},
		"no id":                     {model3MF(plain, cube("", ""), item), Malformed},
		"unknown object":            {model3MF(plain, one, `<item objectid="2"/>`), Malformed},
		"unknown type":              {model3MF(plain, cube("1", `type="ghost"`), item), Malformed},
		"circle":                    {model3MF(plain, `<object id="1"><components><component objectid="2"/></components></object><object id="2"><components><component objectid="1"/></components></object>`, item), Malformed},
		"doubling 14 times":         {model3MF(plain, nested(15), `<item objectid="15"/>`), TooLarge},
		"nested too deep":           {model3MF(plain, nested(30), `<item objectid="30"/>`), TooLarge},
		"nothing built":             {model3MF(plain, one, ``), Empty},
		"vertex of words":           {model3MF(plain, strings.Replace(one, `x="1"`, `x="one"`, 1), item), Malformed},
		"vertex missing":            {model3MF(plain, strings.Replace(one, `x="1"`, ``, 1), item), Malformed},
		"vertex NaN":                {model3MF(plain, strings.Replace(one, `x="1"`, `x="NaN"`, 1), item), NotFinite},
		"vertex too far":            {model3MF(plain, strings.Replace(one, `x="1"`, `x="1000001"`, 1), item), NotFinite},
		"triangle beyond vertices":  {model3MF(plain, strings.Replace(one, `v3="1"`, `v3="8"`, 1), item), Malformed},
		"triangle negative":         {model3MF(plain, strings.Replace(one, `v3="1"`, `v3="-1"`, 1), item), Malformed},
		"transform of eleven":       {model3MF(plain, one, `<item objectid="1" transform="1 0 0 0 1 0 0 0 1 0 0"/>`), Malformed},
		"transform NaN":             {model3MF(plain, one, `<item objectid="1" transform="1 0 0 0 1 0 0 0 NaN 0 0 0"/>`), Malformed},
		"placed too far":            {model3MF(plain, one, `<item objectid="1" transform="1e6 0 0 0 1 0 0 0 1 1e6 0 0"/>`), NotFinite},
		"object in object":          {model3MF(plain, `<object id="1">`+one+`</object>`, item), Malformed},
		"vertex outside an object":  {model3MF(plain, `<vertex x="0" y="0" z="0"/>`, item), Malformed},
		"elements nested too deep":  {model3MF(plain, strings.Repeat("<a>", 40)+strings.Repeat("</a>", 40), item), TooLarge},
		"a tag longer than allowed": {model3MF(plain, `<a b="`+strings.Repeat("x", 2*maxToken)+`"/>`, item), TooLarge},
		"a comment without end":     {model3MF(plain, `<!--`+strings.Repeat("x", 2*maxToken), item), TooLarge},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			_, err := build3MF(pack(t, c.model), Options{})
			if refused(err) != c.want {
				t.Fatalf("got %v, wanted fault %q", err, c.want)
			}
			var own *ReadError
			if errors.As(err, &own) && own.Fault != Empty && own.Where == (Place{}) {
				t.Errorf("%q does not say where", err)
			}
		})
	}
}

func TestRead3MFPackages(t *testing.T) {
	t.Parallel()
	good := model3MF(plain, cube("1", ""), `<item objectid="1"/>`)
	swollen := model3MF(plain, cube("1", "")+strings.Repeat(" ", 3<<20), `<item objectid="1"/>`)
	many := []string{"_rels/.rels", relations, "3D/part.model", good}
	for i := range 2000 {
		many = append(many, fmt.Sprintf("Metadata/%d", i), "")
	}
	for name, c := range map[string]struct {
		data   []byte
		limits Limits
		want   Fault
	}{
		"no zip":              {[]byte("solid x"), Limits{}, Malformed},
		"empty":               {nil, Limits{}, Malformed},
		"no relationships":    {zipped(t, "3D/part.model", good), Limits{}, Malformed},
		"no model":            {zipped(t, "_rels/.rels", relations), Limits{}, Malformed},
		"no such relation":    {zipped(t, "_rels/.rels", `<Relationships/>`), Limits{}, Malformed},
		"two models":          {zipped(t, "_rels/.rels", strings.Replace(relations, "</", "<Relationship Target=\"/x\" Type=\""+modelRelation+"\"/></", 1)), Limits{}, Malformed},
		"model twice":         {zipped(t, "_rels/.rels", relations, "3D/part.model", good, "3d/PART.model", good), Limits{}, Malformed},
		"swollen":             {pack(t, swollen), Limits{}, TooLarge},
		"unpacks to too much": {pack(t, good), Limits{Unzipped: 500}, TooLarge},
		"too long":            {pack(t, good), Limits{Bytes: 500}, TooLarge},
		"too many parts":      {zipped(t, many...), Limits{Directory: 1000}, TooLarge},
		"too many facets":     {pack(t, good), Limits{Facets: 11}, TooLarge},
		"too many placed":     {pack(t, model3MF(plain, cube("1", ""), strings.Repeat(`<item objectid="1"/>`, 9))), Limits{Placed: 8}, TooLarge},
		"too many copies":     {pack(t, model3MF(plain, cube("1", ""), strings.Repeat(`<item objectid="1"/>`, 9))), Limits{Facets: 100}, TooLarge},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			if _, err := build3MF(c.data, Options{Limits: c.limits}); refused(err) != c.want {
				t.Errorf("got %v, wanted fault %q", err, c.want)
			}
		})
	}
	if _, err := build3MF(zipped(t, many...), Options{}); err != nil {
		t.Errorf("2000 small parts beside the model: %v", err)
	}
	escaped := strings.Replace(relations, "/3D/part.model", "3D/my%20part.model", 1)
	if _, err := build3MF(zipped(t, "_rels/.rels", escaped, "3D/My part.model", good), Options{}); err != nil {
		t.Errorf("an escaped name: %v", err)
	}
}

// TestRead3MFFurtherParts holds objects in other parts of the package, as the production
// extension has it (ThreeMFProduction2016, 2 and 3.1).
func TestRead3MFFurtherParts(t *testing.T) {
	t.Parallel()
	root := func(resources, build string) string {
		return model3MF(plain+` requiredextensions="p"`, resources, build)
	}
	item := `<item objectid="1" p:path="/3D/Objects/other.model"/>`
	assembly := `<object id="9"><components><component objectid="1" p:path="/3D/Objects/other.model" transform="2 0 0 0 2 0 0 0 2 0 0 0"/><component objectid="1"/></components></object>`
	for name, c := range map[string]struct {
		root, other string
		cubes       float64
		want        Fault
	}{
		"an item":         {root("", item), model3MF(plain, cube("1", ""), ""), 1, ""},
		"same id in both": {root(cube("1", ""), item+`<item objectid="1"/>`), model3MF(plain, cube("1", ""), ""), 2, ""},
		"assembly":        {root(cube("1", "")+assembly, `<item objectid="9"/>`), model3MF(plain, cube("1", ""), ""), 9, ""},
		"its own unit":    {root("", item), model3MF(`unit="centimeter"`, cube("1", ""), ""), 1000, ""},
		"its own unit, two levels": {root("", `<item objectid="2" p:path="/3D/Objects/other.model"/>`),
			model3MF(`unit="centimeter"`, cube("1", "")+`<object id="2"><components><component objectid="1"/></components></object>`, ""), 1000, ""},
		"its build is ignored":   {root("", item), model3MF(plain, cube("1", ""), `<item objectid="1"/><item objectid="1"/>`), 1, ""},
		"no such object in it":   {root("", item), model3MF(plain, cube("2", ""), ""), 0, Malformed},
		"it points further":      {root("", item), model3MF(plain, `<object id="1"><components><component objectid="1" p:path="/3D/third.model"/></components></object>`, ""), 0, Malformed},
		"it requires the beams":  {root("", item), model3MF(plain+` requiredextensions="b"`, cube("1", ""), ""), 0, Unsupported},
		"the facets count added": {root(cube("1", ""), item), model3MF(plain, cube("1", "")+cube("2", "")+cube("3", ""), ""), 0, TooLarge},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			data := zipped(t, "_rels/.rels", relations, "3D/part.model", c.root, "3D/Objects/Other.model", c.other)
			b, err := build3MF(data, Options{Limits: Limits{Facets: 40}})
			if refused(err) != c.want {
				t.Fatalf("got %v, wanted fault %q", err, c.want)
			}
			if math.Abs(b.Volume-c.cubes*1e-9) > 1e-18 {
				t.Errorf("got %g mm³, wanted %g", b.Volume*1e9, c.cubes)
			}
		})
	}
}
