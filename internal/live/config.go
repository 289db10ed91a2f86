package live

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net"
	"net/url"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"unicode"

	"hopperful/internal/store"
	"hopperful/plan/sensing"
)

// Ending ends the name of the folder beside a shop that holds what its sensors need: where
// they are and with which password, the latest readings, the runs seen. It is no part of the
// records: those are never erased and travel with every copy, and a password shall not.
const Ending = ".sensors"

const configFile = "sensors.json"

// Refusal is what a person can mend.
type Refusal struct{ Say, Hint string }

// Error is both sentences.
func (r *Refusal) Error() string { return r.Say + " " + r.Hint }

// Config says where the sensors of a shop are.
type Config struct {
	Broker  Broker             `json:"broker"`
	Sensors []Sensor           `json:"sensors"`
	Idle    map[string]float64 `json:"idle_w,omitempty"` // what each mill draws empty [W], as somebody measured it
}

// Broker is where messages come from: a broker there is, or one of the shop's own.
type Broker struct {
	URL      string `json:"url,omitempty"` // mqtt://host:1883 or mqtts://host:8883
	User     string `json:"user,omitempty"`
	Password string `json:"password,omitempty"` // the file is its owner's alone
	CA       string `json:"ca,omitempty"`       // PEM file of the authority to trust; empty: those of the system
	Own      *Own   `json:"own,omitempty"`
}

// Own is a broker that the program runs itself.
type Own struct {
	Listen string `json:"listen"`
	Plain  bool   `json:"plain,omitempty"` // unencrypted although others can reach it
	Users  []User `json:"users,omitempty"`
}

// User may send to the shop's own broker.
type User struct {
	Name string `json:"name"`
	Salt []byte `json:"salt"`
	Hash []byte `json:"hash"`
}

// Sensor maps a topic to a quantity of a machine.
type Sensor struct {
	Name     string       `json:"name"`
	Machine  string       `json:"machine,omitempty"` // a mill or dryer; empty: the room
	What     sensing.What `json:"what"`
	Topic    string       `json:"topic"`
	Path     string       `json:"path,omitempty"`      // to the number in a JSON message; empty: the payload is the number
	Unit     string       `json:"unit,omitempty"`      // of it; empty: the usual one
	TimePath string       `json:"time_path,omitempty"` // to the sensor's own time, if it sends one
	Alive    string       `json:"alive,omitempty"`     // topic where it, or its last will, says that it is offline
}

// Folder is where the sensors of a shop keep what they need: beside its file.
func Folder(shop string) string { return store.Beside(shop, Ending) }

// Load reads how the sensors of a shop are set up; none where nobody did.
func Load(shop string) (Config, error) {
	var c Config
	name := filepath.Join(Folder(shop), configFile)
	text, mode, err := readBounded(name, mostConfig)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return c, nil
	case err != nil:
		return c, err
	case runtime.GOOS != "windows" && mode.Perm()&0o077 != 0:
		return c, &Refusal{name + " can be read by others, and it holds passwords.", "Take that away with chmod 600, and change the passwords."}
	case len(text) > mostConfig:
		return c, &Refusal{fmt.Sprintf("%s is larger than %d kB.", name, mostConfig>>10), "It was not written by hopperful; look into it."}
	}
	if err := json.Unmarshal(text, &c); err != nil {
		return Config{}, &Refusal{fmt.Sprintf("%s cannot be read: %v.", name, err), "Mend it, or delete it and set the sensors up again."}
	}
	return c, c.Check()
}

// Save writes how the sensors are set up, whole or not at all, for its owner alone.
func (c Config) Save(shop string) error {
	if err := c.Check(); err != nil {
		return err
	}
	text, err := json.MarshalIndent(c, "", "  ")
	if err != nil {
		return err
	}
	return writeWhole(filepath.Join(Folder(shop), configFile), append(text, '\n'))
}

// readBounded reads a file, and of one that is longer than most a byte more than that.
func readBounded(name string, most int64) ([]byte, fs.FileMode, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, 0, err
	}
	defer f.Close()
	about, err := f.Stat()
	if err != nil {
		return nil, 0, err
	}
	text, err := io.ReadAll(io.LimitReader(f, most+1))
	return text, about.Mode(), err
}

// writeWhole gives a file its name when all of it is written, in a folder of its owner's.
func writeWhole(name string, text []byte) error {
	if err := os.MkdirAll(filepath.Dir(name), 0o700); err != nil {
		return err
	}
	f, err := os.OpenFile(name+".new", os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	if err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return err
	}
	return os.Rename(name+".new", name)
}

// On reports whether there is anything to listen to.
func (c Config) On() bool { return c.Broker.URL != "" || c.Broker.Own != nil }

// Check refuses a setup that cannot be.
func (c Config) Check() error {
	if err := c.Broker.check(); err != nil {
		return err
	}
	if len(c.Sensors) > mostSensors {
		return &Refusal{fmt.Sprintf("There are %d sensors; %d can be.", len(c.Sensors), mostSensors), "Remove some with hopperful sensors remove."}
	}
	for mill, watts := range c.Idle {
		if !(watts >= 1 && watts <= 2e4) {
			return &Refusal{fmt.Sprintf("%g W is nothing that %s can draw empty.", watts, mill), "Measure it again: 1 W to 20 kW can be."}
		}
	}
	for i, s := range c.Sensors {
		if err := s.check(); err != nil {
			return err
		}
		if slices.ContainsFunc(c.Sensors[:i], func(o Sensor) bool { return o.Name == s.Name }) {
			return &Refusal{fmt.Sprintf("Two sensors are called %s.", s.Name), "Give one of them another name."}
		}
	}
	return nil
}

func (b Broker) check() error {
	if b.Own != nil {
		return b.Own.check()
	}
	if b.URL == "" {
		return nil
	}
	u, err := url.Parse(b.URL)
	if err != nil || u.Host == "" || u.Scheme != "mqtt" && u.Scheme != "mqtts" {
		return &Refusal{fmt.Sprintf("%q is no address of a broker.", b.URL), "Write mqtt://HOST:1883, or mqtts://HOST:8883 where it is encrypted."}
	}
	if u.User != nil {
		return &Refusal{"The address of the broker holds a user or a password.", "Give them with --user and --password-file, so that no log shows them."}
	}
	return nil
}

func (o *Own) check() error {
	if _, _, err := net.SplitHostPort(o.Listen); err != nil {
		return &Refusal{fmt.Sprintf("%q is not of the form ADDRESS:PORT.", o.Listen), "Write 127.0.0.1:1883 for this computer alone, or 0.0.0.0:8883 for the workshop's network."}
	}
	if len(o.Users) > mostUsers {
		return &Refusal{fmt.Sprintf("There are %d users; %d can be.", len(o.Users), mostUsers), "Several sensors may share one."}
	}
	return nil
}

// Open reports whether others can reach it.
func (o *Own) Open() bool {
	host, _, _ := net.SplitHostPort(o.Listen)
	ip := net.ParseIP(host)
	return host != "localhost" && (ip == nil || !ip.IsLoopback())
}

func (s Sensor) check() error {
	switch {
	case s.Name == "" || len(s.Name) > mostName || !plainText(s.Name):
		return &Refusal{fmt.Sprintf("%q cannot be the name of a sensor.", s.Name), fmt.Sprintf("Use 1 to %d letters and digits.", mostName)}
	case len(s.Machine) > 200 || !plainText(s.Machine):
		return &Refusal{fmt.Sprintf("%q cannot be the name of a machine.", s.Machine), "Name a mill or dryer of the shop."}
	case !slices.Contains(sensing.Quantities(), s.What):
		return &Refusal{fmt.Sprintf("%q is nothing that a sensor can show here.", s.What), "It may be " + words(sensing.Quantities()) + "."}
	case s.What == sensing.Power && s.Machine == "", s.What == sensing.Energy && s.Machine == "", s.What == sensing.Wall && s.Machine == "":
		return &Refusal{fmt.Sprintf("The sensor %s shows the %s of nothing.", s.Name, s.What), "Say of which mill or dryer with --machine."}
	}
	for _, t := range []struct {
		text string
		must bool
	}{{s.Topic, true}, {s.Alive, false}} {
		if t.text == "" && !t.must {
			continue
		}
		if t.text == "" || len(t.text) > mostTopic || strings.ContainsAny(t.text, "+#\x00") || !plainText(t.text) {
			return &Refusal{fmt.Sprintf("%q is no topic that a sensor can have.", t.text), "Write it out in full, without + and #; hopperful sensors test --all shows which there are."}
		}
	}
	for _, p := range []string{s.Path, s.TimePath} {
		if _, err := parsePath(p); err != nil {
			return err
		}
	}
	_, err := s.scale()
	return err
}

func words(all []sensing.What) string {
	var texts []string
	for _, w := range all {
		texts = append(texts, string(w))
	}
	return strings.Join(texts[:len(texts)-1], ", ") + " or " + texts[len(texts)-1]
}

// plainText refuses what hides or breaks lines.
func plainText(text string) bool {
	return !strings.ContainsFunc(text, func(r rune) bool {
		return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) || r == unicode.ReplacementChar
	})
}
