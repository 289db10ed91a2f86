package cli

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// schemas compiles every schema of the documentation, by name.
func schemas(t *testing.T) func(name string) *jsonschema.Schema {
	t.Helper()
	files, err := filepath.Glob("../../docs/json/*.schema.json")
	if err != nil || len(files) == 0 {
		t.Fatalf("no schemas: %v", err)
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	for _, name := range append(files, "../../docs/figure.schema.json") {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		id := "urn:hopperful:" + strings.TrimSuffix(filepath.Base(name), ".schema.json")
		if err := c.AddResource(id, doc); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
	}
	return func(name string) *jsonschema.Schema {
		s, err := c.Compile("urn:hopperful:" + name)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		return s
	}
}

// Each answer is one JSON object that meets its schema, and standard error
// stays empty.
func TestAnswersMeetTheirSchemas(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	if err := settle(folder); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(folder, "passphrase.txt"), []byte("three loud mills\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	schema := schemas(t)
	used := map[string]bool{"parts": true}
	for _, c := range []struct{ schema, command string }{
		{"answer", "need vase.gcode wedge.stl --polymer PLA --layers"},
		{"answer", "need feet.3mf --wall 1.2mm --infill 30%"},
		{"answer", "need"},
		{"answer", "plan 240g --polymer PETG --colour clear --draws 40"},
		{"answer", "plan 9kg --polymer ABS --draws 40"},
		{"answer", "plan 100g --polymer PC --draws 40"},
		{"answer", "plan 20g --polymer PETG --colour blue --mill Grumble --draws 40"},
		{"answer", "plan 100g --polymer PETG --mill Grumble --draws 40"},
		{"answer", "fit R1 120g --draws 20"},
		{"answer", "fit R3 vase.gcode --draws 20"},
		{"answer", "dry R3 --way dry-air --draws 20"},
		{"answer", "dry R1 --way oven --draws 20"},
		{"answer", "reckon screw"},
		{"answer", "reckon drying --material PETG"},
		{"answer", "reckon loop --water 0.1%"},
		{"answer", "reckon scrap-colour --wanted #c8c8c0"},
		{"answer", "reckon concentrate --trial #7fa6d4"},
		{"topics", "reckon"},
		{"stock", "stock --all"},
		{"lot", "stock R1"},
		{"answer", "trace R1"},
		{"answer", "colour R1"},
		{"answer", "colour P12"},
		{"answer", "colour S3"},
		{"answer", "age R1"},
		{"answer", "age V1"},
		{"answer", "blend 150g --polymer PLA --order cheapest --mean-age 0.5 --step 5g"},
		{"answer", "blend 100g --polymer PLA --rgb #303030 --within 12 --order nearest"},
		{"answer", "blend 100g --polymer PLA --lot R1 --mean-age 0.1"},
		{"answer", "blend 100g --polymer PC"},
		{"answer", "blend 100g --polymer PLA --moisture 0.2% --metal 20ppm"},
		{"answer", "blend 120g --polymer PLA --colour black --save"},
		{"answer", "sieve R1 --with R3"},
		{"answer", "identify"},
		{"answer", "identify --limp70 yes --snaps yes --lot S7"},
		{"answer", "identify --lot S7 --limp70 yes --snaps yes --save"},
		{"answer", "identify --chlorine yes"},
		{"answer", "identify liquid brine 1.08g/cm3"},
		{"answer", "identify liquid water"},
		{"answer", "identify mixed --host PLA --stray PETG --pieces 60 --wrong 3"},
		{"answer", "identify mixed --host PETG --stray PP --pieces 600 --liquid water"},
		{"answer", "learn"},
		{"answer", "learn --mill Grumble"},
		{"records", "records --history"},
		{"machines", "machines"},
		{"materials", "materials"},
		{"material", "materials PETG"},
		{"answer", "next"},
		{"answer", "upkeep"},
		{"record", "record serviced --mill Rattle --part bearings --what inspected --sound yes"},
		{"answer", "books --month 2026-11"},
		{"answer", "dose --more 30min"},
		{"answer", "now"},
		{"answer", "sensors"},
		{"sensors", "sensors add plug --machine Grumble --quantity power --topic mill/power"},
		{"sensors", "sensors list"},
		{"sensors", "sensors idle --mill Grumble --power 118W"},
		{"answer", "sensors learn --mill Rattle"},
		{"record", "sensors confirm 1795176021 --from S4 --charge 70g --product 55g"},
		{"answer", "grains R1 a.jpg b.jpg --mass 0.8g --line 99.6mm"},
		{"record", "take-in 120g --polymer PLA --halogen no --sure 80%"},
		{"record", "record ground --mill Rattle --from S1 --charge 90g --run 60s --product 70g"},
		{"record", "machines set mill --name Rattle --jar 400ml"},
		{"record", "materials set PLA density 1.25g/cm3"},
		{"backup", "backup copy.hopperful"},
		{"verify", "verify copy.hopperful"},
		{"verify", "verify"},
		{"doctor", "doctor"},
		{"restore", "restore copy.hopperful"},
		{"restore", "restore copy.hopperful --shop again.hopperful"},
		{"accounts", "account list"},
		{"move", "move again.hopperful elsewhere.hopperful"},
		{"account-token", "account add Ada --role own --shop elsewhere.hopperful --passphrase-file passphrase.txt"},
		{"demo", "demo --no-serve"},
		{"serve", "serve --listen 127.0.0.1:0"},
		{"token", "token create meter --scope record"},
		{"tokens", "token list"},
		{"token", "token revoke meter"},
		{"error", "stock R99"},
		{"error", "stock --colour red"},
		{"error", "record weighed S1 1kg --at 2999-01-01"},
		{"error", "stock --shop nowhere.hopperful"},
	} {
		used[c.schema] = true
		out, errs, code := answerOf(folder, split(c.command+" --json"))
		if (code != exitDone) != (c.schema == "error") {
			t.Errorf("%s: exit code %d\n%s", c.command, code, errs)
			continue
		}
		doc, err := jsonschema.UnmarshalJSON(strings.NewReader(out))
		if err != nil {
			t.Errorf("%s: not one JSON object: %v\n%.300s", c.command, err, out)
			continue
		}
		if err := schema(c.schema).Validate(doc); err != nil {
			t.Errorf("%s: %v", c.command, err)
		}
		if code == exitDone && c.schema != "serve" && errs != "" {
			t.Errorf("%s: standard error says %q", c.command, errs)
		}
	}
	names, err := filepath.Glob("../../docs/json/*.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		if n := strings.TrimSuffix(filepath.Base(name), ".schema.json"); !used[n] {
			t.Errorf("no answer is held against %s", name)
		}
	}
}

// The schema lists every kind of record there is.
func TestSchemaKnowsEveryKindOfRecord(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("../../docs/json/parts.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, kind := range kinds() {
		if !bytes.Contains(text, []byte(`"`+kind+`"`)) {
			t.Errorf("docs/json/parts.schema.json does not list the kind %q", kind)
		}
	}
}
