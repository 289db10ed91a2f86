package live

import (
	"bytes"
	"context"
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"fmt"
	"log/slog"
	"net"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	paho "github.com/eclipse/paho.mqtt.golang"

	"hopperful/internal/trust"
	"hopperful/plan/sensing"
)

// How long something in another goroutine or program may take before a test gives up.
const patience = 20 * time.Second

// until waits for something to become true.
func until(t *testing.T, what string, is func() bool) {
	t.Helper()
	for end := time.Now().Add(patience); !is(); {
		if time.Now().After(end) {
			t.Fatalf("%s did not happen in %v", what, patience)
		}
		time.Sleep(5 * time.Millisecond)
	}
}

// notes is a log that may be written and read at once.
type notes struct {
	mu   sync.Mutex
	text bytes.Buffer
}

// Write adds to it.
func (n *notes) Write(b []byte) (int, error) {
	n.mu.Lock()
	defer n.mu.Unlock()
	return n.text.Write(b)
}

func (n *notes) String() string {
	n.mu.Lock()
	defer n.mu.Unlock()
	return n.text.String()
}

// served runs a service for a shop with that setup until the test ends.
func served(t *testing.T, c Config, o Options) (*Service, string) {
	t.Helper()
	shop := filepath.Join(t.TempDir(), "shop.db")
	if err := c.Save(shop); err != nil {
		t.Fatal(err)
	}
	if o.Now == nil {
		o.Now = time.Now
	}
	s := NewService(shop, o)
	ctx, end := context.WithCancel(context.Background())
	done := make(chan struct{})
	go func() { defer close(done); s.Run(ctx) }()
	t.Cleanup(func() { end(); <-done })
	return s, shop
}

// caller is a sensor: a client of the broker at an address.
func caller(t *testing.T, o *paho.ClientOptions) (paho.Client, error) {
	t.Helper()
	o.SetConnectRetry(false).SetAutoReconnect(false).SetConnectTimeout(patience).SetClientID(fmt.Sprintf("test%d", time.Now().UnixNano()))
	c := paho.NewClient(o)
	token := c.Connect()
	if !token.WaitTimeout(patience) {
		t.Fatal("the broker does not answer")
	}
	if token.Error() == nil {
		t.Cleanup(func() { c.Disconnect(10) })
	}
	return c, token.Error()
}

func ownBroker(t *testing.T, listen string) (Config, string) {
	t.Helper()
	u, password, err := NewUser("plug1", "")
	if err != nil {
		t.Fatal(err)
	}
	s := plug
	s.Alive = "mill/alive"
	return Config{Broker: Broker{Own: &Own{Listen: listen, Users: []User{u}}}, Sensors: []Sensor{s}}, password
}

// The shop's own broker lets in who knows the password and nobody else, hands on what is sent
// and the last will, keeps nothing for later, and writes no password into the log.
func TestOwnBroker(t *testing.T) {
	t.Parallel()
	conf, password := ownBroker(t, "127.0.0.1:0")
	var log notes
	s, shop := served(t, conf, Options{Keep: true, Log: slog.New(slog.NewTextHandler(&log, &slog.HandlerOptions{Level: slog.LevelDebug}))})
	until(t, "listening", func() bool { return s.Address() != nil })
	at := "tcp://" + s.Address().String()

	for _, wrong := range [][2]string{{"plug1", "wrong-password"}, {"nobody", password}, {"", ""}} {
		if _, err := caller(t, paho.NewClientOptions().AddBroker(at).SetUsername(wrong[0]).SetPassword(wrong[1])); err == nil {
			t.Errorf("%q came in with a wrong password", wrong[0])
		}
	}
	sender, err := caller(t, paho.NewClientOptions().AddBroker(at).SetUsername("plug1").SetPassword(password).SetWill("mill/alive", "Offline", 1, true))
	if err != nil {
		t.Fatal(err)
	}
	for i := range 5 {
		sender.Publish("mill/power", byte(i%3), i == 4, fmt.Sprint(150+i)).Wait()
	}
	sensor := func() sensing.Sensor {
		if all := s.Look().Sensors; len(all) > 0 {
			return all[0]
		}
		return sensing.Sensor{}
	}
	until(t, "taking five readings", func() bool { return sensor().Taken == 5 })
	if got := *sensor().Value; got != 154 {
		t.Errorf("the latest reading is %g", got)
	}
	// Nothing is kept for who comes later.
	heard := make(chan paho.Message, 1)
	other, err := caller(t, paho.NewClientOptions().AddBroker(at).SetUsername("plug1").SetPassword(password))
	if err != nil {
		t.Fatal(err)
	}
	other.Subscribe("mill/power", 1, func(_ paho.Client, m paho.Message) { heard <- m }).Wait()
	other.Publish("mill/power", 1, false, "155").Wait()
	if m := <-heard; string(m.Payload()) != "155" {
		t.Errorf("an old message was kept: %s", m.Payload())
	}
	// A payload beyond all bounds ends its sender, not the broker; an unread one is counted.
	other.Publish("mill/power", 0, false, "watts").Wait()
	until(t, "counting what cannot be read", func() bool { return sensor().Unread == 1 })
	other.Publish("mill/power", 0, false, strings.Repeat("9", 100_000)).Wait()
	until(t, "ending who sends too much", func() bool { return !other.IsConnectionOpen() })
	// The connection dies without a word: the last will says so.
	killConnection(t, at, "plug1", password)
	until(t, "hearing of the last will", func() bool { return sensor().State == sensing.Offline })
	for _, text := range []string{log.String(), fmt.Sprint(s.Look())} {
		if strings.Contains(text, password) {
			t.Error("the password is told")
		}
	}
	if text, err := os.ReadFile(filepath.Join(Folder(shop), configFile)); err != nil || bytes.Contains(text, []byte(password)) {
		t.Errorf("the password of a user is kept itself (%v)", err)
	}
}

// killConnection comes in with a last will and goes without a word.
func killConnection(t *testing.T, at, user, password string) {
	t.Helper()
	var conn net.Conn
	o := paho.NewClientOptions().AddBroker(at).SetUsername(user).SetPassword(password).SetWill("mill/alive", "Offline", 1, true)
	o.SetCustomOpenConnectionFn(func(_ *url.URL, _ paho.ClientOptions) (net.Conn, error) {
		var err error
		conn, err = net.Dial("tcp", strings.TrimPrefix(at, "tcp://"))
		return conn, err
	})
	if _, err := caller(t, o); err != nil {
		t.Fatal(err)
	}
	conn.Close()
}

// Guessing at the door ends soon, and the right one still comes in who was in before.
func TestGuessingAtTheBrokerEnds(t *testing.T) {
	t.Parallel()
	u, password, err := NewUser("plug1", "")
	if err != nil {
		t.Fatal(err)
	}
	c := noon()
	g, err := newGate([]User{u}, c.now)
	if err != nil {
		t.Fatal(err)
	}
	if !g.lets("10.0.0.1", "plug1", password) {
		t.Fatal("the right password is refused")
	}
	for i := range mostGuesses {
		if g.lets("10.0.0.9", "plug1", fmt.Sprint("guess number", i)) {
			t.Fatal("a guess came in")
		}
	}
	before := len(g.wrong["10.0.0.9"])
	if g.lets("10.0.0.9", "plug1", "one more guess") || len(g.wrong["10.0.0.9"]) != before {
		t.Error("guessing goes on")
	}
	if !g.lets("10.0.0.9", "plug1", password) {
		t.Error("who was in before is kept out by guesses of others at its address")
	}
	if g.lets("10.0.0.9", "plug2", password) {
		t.Error("another name came in with it")
	}
	c.pass(2 * guessSpan)
	if !g.mayGuess("10.0.0.9") {
		t.Error("the address is kept out for ever")
	}
}

// Open to the network the broker is encrypted by the shop's own authority, and plain callers
// are not understood.
func TestTheBrokerIsEncryptedWhereOthersReachIt(t *testing.T) {
	t.Parallel()
	conf, password := ownBroker(t, "0.0.0.0:0")
	a, err := trust.Open(filepath.Join(t.TempDir(), "trust"), nil, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	s, _ := served(t, conf, Options{TLS: func() (*tls.Config, error) { return a.TLS(func() []net.IP { return nil }), nil }})
	until(t, "listening", func() bool { return s.Address() != nil })
	_, port, err := net.SplitHostPort(s.Address().String())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := caller(t, paho.NewClientOptions().AddBroker("tcp://127.0.0.1:"+port).SetUsername("plug1").SetPassword(password)); err == nil {
		t.Error("a plain caller came in")
	}
	pool := x509.NewCertPool()
	pool.AppendCertsFromPEM(pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: a.Certificate()}))
	if _, err := caller(t, paho.NewClientOptions().AddBroker("ssl://127.0.0.1:"+port).SetUsername("plug1").SetPassword(password).SetTLSConfig(&tls.Config{RootCAs: pool})); err != nil {
		t.Errorf("a caller that trusts the shop alone: %v", err)
	}
	if _, err := caller(t, paho.NewClientOptions().AddBroker("ssl://127.0.0.1:"+port).SetUsername("plug1").SetPassword(password)); err == nil {
		t.Error("a caller that does not trust the shop came in")
	}
}

// Without an authority nothing is opened to the network unencrypted.
func TestTheBrokerStaysShutWithoutEncryption(t *testing.T) {
	t.Parallel()
	conf, _ := ownBroker(t, "0.0.0.0:0")
	s, _ := served(t, conf, Options{})
	until(t, "telling so", func() bool { return s.Look().Link == sensing.LinkDown })
	if s.Address() != nil {
		t.Error("it listens")
	}
}

// mosquitto runs Debian's broker with a password, and stops it with the test.
func mosquitto(t *testing.T, port string) (stop func()) {
	t.Helper()
	folder := t.TempDir()
	passwords := filepath.Join(folder, "passwords")
	for _, user := range []string{"hopperful", "plug1"} {
		args := []string{"-b", passwords, user, "correct-horse"}
		if user == "hopperful" {
			args = append([]string{"-c"}, args...)
		}
		if out, err := exec.Command("mosquitto_passwd", args...).CombinedOutput(); err != nil {
			t.Fatalf("mosquitto_passwd: %v: %s", err, out)
		}
	}
	conf := filepath.Join(folder, "mosquitto.conf")
	text := fmt.Sprintf("listener %s 127.0.0.1\nallow_anonymous false\npassword_file %s\npersistence false\n", port, passwords)
	if os.Getuid() == 0 {
		text += "user root\n"
	}
	if err := os.WriteFile(conf, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	start := exec.Command("mosquitto", "-c", conf)
	if err := start.Start(); err != nil {
		t.Fatal(err)
	}
	stop = sync.OnceFunc(func() { start.Process.Kill(); start.Wait() })
	t.Cleanup(stop)
	return stop
}

func freePort(t *testing.T) string {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	_, port, _ := net.SplitHostPort(l.Addr().String())
	return port
}

// A broker that is there: Debian's mosquitto. It is listened to, lost, and found again; a
// wrong password is told as one.
func TestMosquitto(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("mosquitto"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("mosquitto is not installed; scripts/test installs it where it may")
		}
		t.Skip("mosquitto is not installed (on Debian: apt-get install mosquitto)")
	}
	port := freePort(t)
	stop := mosquitto(t, port)
	url := "mqtt://127.0.0.1:" + port
	s, _ := served(t, Config{Broker: Broker{URL: url, User: "hopperful", Password: "correct-horse"}, Sensors: []Sensor{plug}}, Options{})
	until(t, "reaching mosquitto", func() bool { return s.Look().Link == sensing.LinkUp })
	send := func(retained bool, payload string) {
		t.Helper()
		c, err := caller(t, paho.NewClientOptions().AddBroker("tcp://127.0.0.1:"+port).SetUsername("plug1").SetPassword("correct-horse"))
		if err != nil {
			t.Fatal(err)
		}
		c.Publish("mill/power", 1, retained, payload).Wait()
	}
	taken := func() int64 { return s.Look().Sensors[0].Taken }
	send(false, "231")
	until(t, "taking a reading", func() bool { return taken() == 1 })
	stop()
	until(t, "noticing that it is gone", func() bool { return s.Look().Link != sensing.LinkUp })
	mosquitto(t, port)
	until(t, "finding it again", func() bool { return s.Look().Link == sensing.LinkUp })
	send(false, "232")
	until(t, "taking a reading again", func() bool { return taken() == 2 })

	wrong, _ := served(t, Config{Broker: Broker{URL: url, User: "hopperful", Password: "wrong-horse"}, Sensors: []Sensor{plug}}, Options{})
	until(t, "telling of the wrong password", func() bool { return strings.Contains(wrong.Look().Why, "password") })
	if strings.Contains(wrong.Look().Why, "wrong-horse") {
		t.Error("the password is told")
	}
	send(true, "777") // kept by the broker: a reading of another day for who comes later
	later, _ := served(t, Config{Broker: Broker{URL: url, User: "hopperful", Password: "correct-horse"}, Sensors: []Sensor{plug}}, Options{})
	until(t, "getting what was kept", func() bool {
		all := later.Look().Sensors
		return len(all) == 1 && all[0].Repeated == 1
	})
	if later.Look().Sensors[0].Taken != 0 {
		t.Error("a reading that the broker kept was taken for one of now")
	}
}

// Ten thousand messages sent as fast as they go: all are taken or told as dropped.
func TestManyMessages(t *testing.T) {
	t.Parallel()
	conf, password := ownBroker(t, "127.0.0.1:0")
	s, _ := served(t, conf, Options{Keep: true})
	until(t, "listening", func() bool { return s.Address() != nil })
	c, err := caller(t, paho.NewClientOptions().AddBroker("tcp://"+s.Address().String()).SetUsername("plug1").SetPassword(password))
	if err != nil {
		t.Fatal(err)
	}
	const n = 10000
	began := time.Now()
	for i := range n {
		c.Publish("mill/power", 0, false, fmt.Sprintf("%d", 200+i%50)).Wait()
	}
	var got sensing.Sensor
	until(t, "taking them all", func() bool { got = s.Look().Sensors[0]; return got.Taken+got.Dropped == n })
	t.Logf("%d messages a second; %d dropped", int(n/time.Since(began).Seconds()), got.Dropped)
}

// A setup that is changed while the service runs is taken up.
func TestAChangedSetupIsTakenUp(t *testing.T) {
	t.Parallel()
	conf, _ := ownBroker(t, "127.0.0.1:0")
	s, shop := served(t, conf, Options{})
	until(t, "listening", func() bool { return s.Address() != nil })
	conf.Sensors = append(conf.Sensors, Sensor{Name: "air", What: sensing.Room, Topic: "room/t"})
	if err := conf.Save(shop); err != nil {
		t.Fatal(err)
	}
	until(t, "taking the new sensor up", func() bool { return len(s.Look().Sensors) == 2 })
}
