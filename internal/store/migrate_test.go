package store

import (
	"database/sql"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hopperful/shop"
)

// shape is what a database holds.
func shape(t *testing.T, db *sql.DB) map[string]string {
	t.Helper()
	all, err := shapeOf(t.Context(), db)
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// wanted is the shape that schema.sql describes.
func wanted(t *testing.T) map[string]string {
	t.Helper()
	db, err := sql.Open("sqlite", filepath.Join(t.TempDir(), "schema"))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if _, err := db.ExecContext(t.Context(), schema); err != nil {
		t.Fatal(err)
	}
	return shape(t, db)
}

// TestMigrationsAddUpToTheSchema, from nothing.
func TestMigrationsAddUpToTheSchema(t *testing.T) {
	t.Parallel()
	got, want := shape(t, fresh(t).db), wanted(t)
	if !maps.Equal(got, want) || len(want) != 12 {
		t.Errorf("migrated\n%v\nschema.sql\n%v", got, want)
	}
}

// copyOf puts a stored shop where it may be written.
func copyOf(t *testing.T, name string) string {
	t.Helper()
	content, err := os.ReadFile(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "shop.hopperful")
	if err := os.WriteFile(path, content, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestStoredShopsOpen: a shop of every form that was ever released opens, has
// today's shape and still says what was written into it.
func TestStoredShopsOpen(t *testing.T) {
	t.Parallel()
	for name, records := range map[string]int{"form1.sqlite": 15, "form2.sqlite": 18} {
		s := open(t, copyOf(t, name), Options{})
		if got, want := shape(t, s.db), wanted(t); !maps.Equal(got, want) {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
		st := s.State()
		if st.History.Len() != records || len(st.Mills) != 1 || len(st.Needs) != 1 {
			t.Errorf("%s: %d records, %d mills, %d needs", name, st.History.Len(), len(st.Mills), len(st.Needs))
		}
		for id, grams := range map[string]int{"S1": 260, "S2": 500, "R1": 218, "V1": 900, "B1": 100} {
			if l, ok := st.Lot(shop.LotID(id)); !ok || int(l.Mass*1000+0.5) != grams {
				t.Errorf("%s: %s is %+v, want %d g", name, id, l, grams)
			}
		}
		if v, err := Verify(t.Context(), s.Path()); err != nil || v.Records != records || v.WrittenFrom != 16 {
			t.Errorf("%s: %+v, %v", name, v, err)
		}
		if p, ok := st.Newest().Body.(*shop.Pictured); records == 18 && (!ok || p.JPEG() == nil) {
			t.Errorf("%s: the photograph is gone", name)
		}
	}
}

// TestMigrationKeepsACopy: a step forward leaves the old form beside the new,
// and a step that fails changes nothing.
func TestMigrationKeepsACopy(t *testing.T) {
	t.Parallel()
	s := fresh(t)
	mustAppend(t, s, scrap(1))
	path := s.Path()
	s.Close()
	db, err := connect(path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	bad := append(migrations[:len(migrations):len(migrations)], step{statements: "CREATE TABLE extra (a TEXT) STRICT; CREATE TABLE extra (a TEXT) STRICT;"})
	if err := migrate(t.Context(), db, path, bad); err == nil || !strings.Contains(worded(err), "step 4") {
		t.Errorf("a bad step: %v", err)
	}
	if n, err := version(t.Context(), db); n != 3 || err != nil || len(shape(t, db)) != 12 {
		t.Errorf("after a bad step: form %d, %v, %v", n, err, shape(t, db))
	}
	good := append(migrations[:len(migrations):len(migrations)], step{statements: "CREATE TABLE extra (a TEXT) STRICT;"})
	if err := migrate(t.Context(), db, path, good); err != nil {
		t.Fatal(err)
	}
	if len(shape(t, db)) != 13 {
		t.Errorf("after the step: %v", shape(t, db))
	}
	old := open(t, path+".form3", Options{})
	if old.State().Lots.Len() != 1 {
		t.Errorf("the copy has %d lots", old.State().Lots.Len())
	}
	db.Close()
	for _, o := range []Options{{}, {ReadOnly: true}} {
		if _, err := Open(t.Context(), path, o); !Is(err, Newer) || !strings.Contains(worded(err), "form 4; this one knows 3") {
			t.Errorf("a later form, %+v: %v", o, err)
		}
	}
}
