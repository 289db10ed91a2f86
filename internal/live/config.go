package live

import (
	"encoding/json"
	"errors"
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

	"hopperful/fact"
	"hopperful/internal/store"
	"hopperful/plan/sensing"
	"hopperful/quantity"
)

// Ending ends the name of the folder beside a shop that holds what its sensors need: where
// they are and with which password, the latest readings, the runs seen. It is no part of the
// records: those are never erased and travel with every copy, and a password shall not.
const Ending = ".sensors"

const configFile = "sensors.json"

// Refusal is what a person can mend.
type Refusal struct{ What, Advice fact.Saying }

// Error is the code of what is wrong; the edges word it.
func (r *Refusal) Error() string { return r.What.Code }

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
		return c, &Refusal{fact.Say("live.readable_by_others", fact.Name("name", name)), fact.Say("live.do_chmod")}
	case len(text) > mostConfig:
		return c, &Refusal{fact.Say("live.config_too_large", fact.Name("name", name), fact.Count("most_config", int(mostConfig>>10))), fact.Say("live.do_look_into_it")}
	}
	if err := json.Unmarshal(text, &c); err != nil {
		return Config{}, &Refusal{fact.Say("live.cannot_be_read", fact.Name("name", name), fact.Name("why", err.Error())), fact.Say("live.do_mend_or_delete")}
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
		return &Refusal{fact.Say("live.too_many_sensors", fact.Count("n", len(c.Sensors)), fact.Count("most_sensors", mostSensors)), fact.Say("live.do_remove_some")}
	}
	for mill, watts := range c.Idle {
		if !(watts >= 1 && watts <= 2e4) {
			return &Refusal{fact.Say("live.not_a_power", fact.Set("watts", quantity.Power, watts), fact.Name("mill", mill)), fact.Say("live.do_measure_again")}
		}
	}
	for i, s := range c.Sensors {
		if err := s.check(); err != nil {
			return err
		}
		if slices.ContainsFunc(c.Sensors[:i], func(o Sensor) bool { return o.Name == s.Name }) {
			return &Refusal{fact.Say("live.sensor_twice", fact.Name("name", s.Name)), fact.Say("live.do_rename_one")}
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
		return &Refusal{fact.Say("live.not_a_broker", fact.Name("url", b.URL)), fact.Say("live.do_broker_form")}
	}
	if u.User != nil {
		return &Refusal{fact.Say("live.address_with_user"), fact.Say("live.do_user_and_file")}
	}
	return nil
}

func (o *Own) check() error {
	if _, _, err := net.SplitHostPort(o.Listen); err != nil {
		return &Refusal{fact.Say("live.not_address_port", fact.Name("listen", o.Listen)), fact.Say("live.do_listen_address")}
	}
	if len(o.Users) > mostUsers {
		return &Refusal{fact.Say("live.too_many_users", fact.Count("n", len(o.Users)), fact.Count("most_users", mostUsers)), fact.Say("live.do_share_user")}
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
		return &Refusal{fact.Say("live.not_a_sensor_name", fact.Name("name", s.Name)), fact.Say("live.do_name_length", fact.Count("most_name", mostName))}
	case len(s.Machine) > 200 || !plainText(s.Machine):
		return &Refusal{fact.Say("live.not_a_machine_name", fact.Name("machine", s.Machine)), fact.Say("live.do_name_machine")}
	case !slices.Contains(sensing.Quantities(), s.What):
		return &Refusal{fact.Say("live.not_shown_by_sensors", fact.Name("what", string(s.What))), fact.Say("live.it_may_be", fact.Name("quantities", words(sensing.Quantities())))}
	case s.What == sensing.Power && s.Machine == "", s.What == sensing.Energy && s.Machine == "", s.What == sensing.Wall && s.Machine == "":
		return &Refusal{fact.Say("live.sensor_of_nothing", fact.Name("name", s.Name), fact.Name("what", string(s.What))), fact.Say("live.do_say_machine")}
	}
	for _, t := range []struct {
		text string
		must bool
	}{{s.Topic, true}, {s.Alive, false}} {
		if t.text == "" && !t.must {
			continue
		}
		if t.text == "" || len(t.text) > mostTopic || strings.ContainsAny(t.text, "+#\x00") || !plainText(t.text) {
			return &Refusal{fact.Say("live.not_a_topic", fact.Name("text", t.text)), fact.Say("live.do_topic_in_full")}
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
