package live

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hopperful/plan/sensing"
)

// The ring holds the latest readings through wraps, a torn place and any junk.
func TestRing(t *testing.T) {
	t.Parallel()
	name := filepath.Join(t.TempDir(), "readings.ring")
	const places = 100
	open := func() (*Ring, []Kept) {
		r, all, err := OpenRing(name, places*place)
		if err != nil {
			t.Fatal(err)
		}
		return r, all
	}
	r, all := open()
	if len(all) != 0 {
		t.Fatal("a new ring holds something")
	}
	for i := range 250 {
		if err := r.Add(7, float64(i), float64(i)*2); err != nil {
			t.Fatal(err)
		}
	}
	// The program dies here: nothing is closed.
	again, all := open()
	if len(all) != places || all[0].At != 150 || all[places-1].At != 249 || all[places-1].Value != 498 {
		t.Fatalf("after 250 readings it holds %d, %v to %v", len(all), all[0], all[len(all)-1])
	}
	if err := again.Add(7, 250, 500); err != nil {
		t.Fatal(err)
	}
	again.Close()
	r.Close()
	text, err := os.ReadFile(name)
	if err != nil || len(text) > places*place {
		t.Fatalf("the file has %d bytes, %v", len(text), err)
	}
	torn := 251 % places * place
	for i := range 9 {
		text[torn+5+i] ^= 0xff // half written
	}
	if err := os.WriteFile(name, text[:len(text)-11], 0o600); err != nil { // and the end cut off
		t.Fatal(err)
	}
	last, all := open()
	defer last.Close()
	if len(all) != places-2 || all[len(all)-1].At != 249 {
		t.Errorf("torn and cut it holds %d, the last %v", len(all), all[len(all)-1])
	}
	if err := last.Add(7, 251, 502); err != nil {
		t.Fatal(err)
	}
}

func TestRingTakesAnyFile(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	rapid.Check(t, func(rt *rapid.T) {
		name := filepath.Join(folder, "any.ring")
		if err := os.WriteFile(name, rapid.SliceOfN(rapid.Byte(), 0, 400).Draw(rt, "bytes"), 0o600); err != nil {
			rt.Fatal(err)
		}
		r, _, err := OpenRing(name, 64*place)
		if err != nil {
			rt.Fatal(err)
		}
		if err := r.Add(1, 2, 3); err != nil {
			rt.Fatal(err)
		}
		r.Close()
		r, all, err := OpenRing(name, 64*place)
		if err != nil || len(all) == 0 || all[len(all)-1].Value != 3 {
			rt.Fatalf("%v, %v", all, err)
		}
		r.Close()
	})
}

// A run that goes on while the program is killed and started again is one run.
func TestARunOutlivesTheProgram(t *testing.T) {
	t.Parallel()
	c := noon()
	ring, _, err := OpenRing(filepath.Join(t.TempDir(), "r"), RingSize)
	if err != nil {
		t.Fatal(err)
	}
	defer ring.Close()
	var runs []sensing.Run
	start := func(kept []Kept) *Hub {
		h, err := NewHub(Config{Sensors: []Sensor{plug}}, c.now, runs, kept,
			Keeper{Reading: ring.Add, Runs: func(r []sensing.Run) error { runs = slices.Clone(r); return nil }})
		if err != nil {
			t.Fatal(err)
		}
		return h
	}
	h := start(nil)
	for i := range 100 {
		c.pass(time.Second)
		p := 0
		if i >= 40 {
			p = 300 + i%5
		}
		h.handle(Message{Topic: "mill/power", Payload: []byte(fmt.Sprint(p)), At: c.now()})
	}
	kept, err := (&Ring{file: ring.file, places: ring.places}).readAll()
	if err != nil {
		t.Fatal(err)
	}
	c.pass(8 * time.Second)
	h = start(kept)
	if m := h.Look().Mills[0]; !m.Running {
		t.Fatal("after the start the run is forgotten")
	}
	for i := range 60 {
		c.pass(time.Second)
		p := 0
		if i < 40 {
			p = 300 + i%5
		}
		h.handle(Message{Topic: "mill/power", Payload: []byte(fmt.Sprint(p)), At: c.now()})
	}
	if len(runs) != 1 || math.Abs(runs[0].Time()-108) > 3 || math.Abs(runs[0].Energy.Unseen-9) > 2 {
		t.Errorf("the runs are %+v", runs)
	}
}

// readAll reads the file from its start.
func (r *Ring) readAll() ([]Kept, error) {
	if _, err := r.file.Seek(0, 0); err != nil {
		return nil, err
	}
	return r.read()
}
