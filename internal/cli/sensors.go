package cli

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/internal/live"
	"hopperful/internal/web"
	"hopperful/plan/sensing"
	"hopperful/quantity"
	"hopperful/shop"
)

func sensorsCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use: "sensors",
		Example: `  hopperful sensors
  hopperful sensors --full`,
		Args: unknownCommand,
		RunE: func(c *cobra.Command, _ []string) error {
			state, seen, err := sensorsNow(c, env)
			if err != nil {
				return err
			}
			return answers(c, env, speaks(env, state), sensing.Of(state, seen))
		},
	}
	shopFlag(c)
	c.AddCommand(sensorsListCommand(env), sensorsAddCommand(env), sensorsRemoveCommand(env), brokerCommand(env), sensorsTestCommand(env), watchCommand(env),
		confirmSeenCommand(env), asideCommand(env), idleCommand(env), learnWattsCommand(env))
	return c
}

// sensorsNow is the shop and what its sensors tell: by the server that listens, else as they
// are set up, with the runs that were seen.
func sensorsNow(c *cobra.Command, env *Env) (*shop.State, sensing.Seen, error) {
	path, err := shopPath(c, env)
	if err != nil {
		return nil, sensing.Seen{}, err
	}
	state, err := readShop(c, env)
	if err != nil {
		return nil, sensing.Seen{}, err
	}
	if through, no := reach(c.Context(), env, path); no == nil {
		seen, err := through.Sensors(c.Context())
		return state, seen, err
	}
	beside, err := besideShop(env, path)
	if err != nil {
		return nil, sensing.Seen{}, err
	}
	conf, err := live.Load(beside)
	if err != nil {
		return nil, sensing.Seen{}, ofSensors(err)
	}
	runs, err := live.LoadRuns(beside)
	return state, conf.AsSetUp(env.Now(), runs), ofSensors(err)
}

// reach finds the server that serves a shop.
func reach(ctx context.Context, env *Env, path string) (*web.Caller, error) {
	beside, err := besideShop(env, path)
	if err != nil {
		return nil, err
	}
	return web.Reach(ctx, beside, env.Getenv(tokenVariable))
}

// ofSensors is a refusal of the sensors' setup in the words of the command line.
func ofSensors(err error) error {
	var r *live.Refusal
	if errors.As(err, &r) {
		return &failure{what: r.What, advice: r.Advice, err: err}
	}
	return err
}

func sensorsListCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use:     "list",
		Example: `  hopperful sensors list`,
		Args:    takes(0, 0, "takes.flags_only"),
		RunE: func(c *cobra.Command, _ []string) error {
			conf, _, err := setup(c, env)
			if err != nil {
				return err
			}
			return showSetup(c, env, conf)
		},
	}
	shopFlag(c)
	return c
}

// setupJSON is a setup without what is secret in it.
type setupJSON struct {
	Broker  string             `json:"broker"` // its address; "" for none
	Own     bool               `json:"own"`
	Users   []string           `json:"users"`
	Sensors []live.Sensor      `json:"sensors"`
	Idle    map[string]float64 `json:"idle_w"`
}

func showSetup(c *cobra.Command, env *Env, conf live.Config) error {
	out := setupJSON{Broker: conf.Broker.URL, Users: []string{}, Sensors: append([]live.Sensor{}, conf.Sensors...), Idle: conf.Idle}
	if out.Idle == nil {
		out.Idle = map[string]float64{}
	}
	if own := conf.Broker.Own; own != nil {
		out.Broker, out.Own = own.Listen, true
		for _, u := range own.Users {
			out.Users = append(out.Users, u.Name)
		}
	}
	if asJSON(c) {
		return writeJSON(env, out)
	}
	switch {
	case out.Own:
		plain(env.Out, "%s", env.speaks().Line("cli.broker_own", fact.Name("broker", out.Broker), fact.Names("who", out.Users)))
	case out.Broker != "":
		plain(env.Out, "%s", env.speaks().Line("cli.broker", fact.Name("broker", out.Broker)))
	default:
		plain(env.Out, "%s", env.speaks().Line("cli.broker_none"))
	}
	for _, s := range conf.Sensors {
		plain(env.Out, "%s", env.speaks().Line("cli.of_from", fact.Name("name", s.Name), fact.Name("what", string(s.What)), fact.Name("machine", s.Machine), fact.Name("topic", s.Topic), fact.Name("path", s.Path)))
	}
	for _, mill := range slices.Sorted(maps.Keys(conf.Idle)) {
		plain(env.Out, "%s", env.speaks().Line("cli.draws_empty", fact.Name("mill", mill), fact.Set("watts", quantity.Power, conf.Idle[mill])))
	}
	return nil
}

// setup reads how the sensors of the shop are set up; beside is what they lie beside.
func setup(c *cobra.Command, env *Env) (conf live.Config, beside string, err error) {
	path, err := shopPath(c, env)
	if err == nil {
		beside, err = besideShop(env, path)
	}
	if err == nil {
		conf, err = live.Load(beside)
	}
	return conf, beside, ofSensors(err)
}

// listening is a service of the command's own, or the server's.
type listening struct {
	look  func(context.Context) (sensing.Seen, error)
	heard func() []string // topics and numbers in them, where they are asked for
}

// listen begins to listen; a running server listens already.
func listen(ctx context.Context, c *cobra.Command, env *Env, all bool) (*listening, error) {
	conf, beside, err := setup(c, env)
	if err != nil {
		return nil, err
	}
	path, err := shopPath(c, env)
	if err != nil {
		return nil, err
	}
	if through, no := reach(ctx, env, path); no == nil && !all {
		return &listening{look: through.Sensors, heard: func() []string { return nil }}, nil
	} else if no == nil && conf.Broker.Own != nil {
		return nil, &failure{what: fact.Say("cli.broker_of_server"), advice: fact.Say("cli.do_stop_serve")}
	}
	if !conf.On() {
		return nil, &failure{what: fact.Say("cli.broker_missing"), advice: fact.Say("cli.do_name_broker")}
	}
	topics := &topicBook{known: map[string]bool{}}
	s := live.NewService(beside, live.Options{Now: env.Now, TLS: ownTLS(c, env, beside), All: all, Heard: topics.note})
	go s.Run(ctx)
	return &listening{look: func(context.Context) (sensing.Seen, error) { return s.Look(), nil }, heard: topics.list}, nil
}

// mostTopics bounds what is told of a broker.
const mostTopics = 200

// topicBook notes which topics there are.
type topicBook struct {
	mu    sync.Mutex
	known map[string]bool
}

func (b *topicBook) note(m live.Message) {
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, path := range live.Fields(m.Payload) {
		if len(b.known) < mostTopics {
			b.known[strings.TrimSuffix(fmt.Sprintf("%q %s", m.Topic, path), " ")] = true
		}
	}
}

func (b *topicBook) list() []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return slices.Sorted(maps.Keys(b.known))
}

// usualListening is how long a test listens.
const usualListening = 15 * time.Second

func sensorsTestCommand(env *Env) *cobra.Command {
	var span *float64
	var all bool
	c := &cobra.Command{
		Use: "test",
		Example: `  hopperful sensors broker --own --listen 127.0.0.1:0 --add-user plug1
  hopperful sensors test --for 1s`,
		Args: takes(0, 0, "takes.flags_only"),
		RunE: func(c *cobra.Command, _ []string) error {
			state, err := readShop(c, env)
			if err != nil {
				return err
			}
			ctx, end := context.WithTimeout(c.Context(), spanOf(span, usualListening))
			defer end()
			l, err := listen(ctx, c, env, all)
			if err != nil {
				return err
			}
			<-ctx.Done()
			if c.Context().Err() != nil {
				return c.Context().Err()
			}
			seen, err := l.look(c.Context())
			if err != nil {
				return err
			}
			if err := answers(c, env, speaks(env, state), sensing.Of(state, seen)); err != nil || asJSON(c) {
				return err
			}
			for _, t := range l.heard() {
				plain(env.Out, "%s", t)
			}
			return nil
		},
	}
	quantityVar(c, &span, "for", quantity.Duration)
	c.Flags().BoolVar(&all, "all", false, "")
	shopFlag(c)
	return c
}

func spanOf(span *float64, usual time.Duration) time.Duration {
	if span == nil {
		return usual
	}
	return time.Duration(min(max(*span, 0.1), 86400) * float64(time.Second))
}

func watchCommand(env *Env) *cobra.Command {
	var span *float64
	c := &cobra.Command{
		Use: "watch",
		Example: `  hopperful sensors broker --own --listen 127.0.0.1:0 --add-user plug1
  hopperful sensors watch --for 1s`,
		Args: takes(0, 0, "takes.flags_only"),
		RunE: func(c *cobra.Command, _ []string) error {
			state, err := readShop(c, env)
			if err != nil {
				return err
			}
			ctx, end := context.WithTimeout(c.Context(), spanOf(span, 24*time.Hour))
			defer end()
			l, err := listen(ctx, c, env, false)
			if err != nil {
				return err
			}
			return watchSensors(ctx, c, env, state, l)
		},
	}
	quantityVar(c, &span, "for", quantity.Duration)
	shopFlag(c)
	return c
}

// watchSensors prints what changes. With --json it is one object at the end.
func watchSensors(ctx context.Context, c *cobra.Command, env *Env, state *shop.State, l *listening) error {
	p := speaks(env, state)
	shown := map[string]string{}
	tell := func(key, text string) {
		if shown[key] != text && !asJSON(c) {
			plain(env.Out, "%s  %s", env.Now().Format(time.TimeOnly), text)
		}
		shown[key] = text
	}
	var last sensing.Seen
	for ctx.Err() == nil {
		seen, err := l.look(ctx)
		if err != nil && ctx.Err() == nil {
			return err
		} else if err != nil {
			break
		}
		last = seen
		for _, x := range seen.Sensors {
			tell(x.Name, p.Say(sensing.Line(x))+", "+p.Say(sensing.StateWords(x.State)))
		}
		for _, f := range sensing.Alerts(state, seen, "") {
			if f.Weight > 0 {
				tell(f.Code+f.Text("mill")+f.Text("sensor"), p.Say(f.Saying))
			}
		}
		pause := time.Second
		if len(seen.Sensors) == 0 { // it is only beginning
			pause = time.Second / 10
		}
		select {
		case <-ctx.Done():
		case <-time.After(pause):
		}
	}
	if asJSON(c) {
		return writeJSON(env, p.Document(sensing.Of(state, last)))
	}
	return nil
}

// examineSensors tells how the sensors are, for the doctor.
func examineSensors(ctx context.Context, env *Env, path string) examined {
	beside, err := besideShop(env, path)
	var conf live.Config
	if err == nil {
		conf, err = live.Load(beside)
	}
	if err != nil {
		var r *live.Refusal
		if errors.As(err, &r) {
			return examined{fact.Say("cli.sensors"), false, r.What, r.Advice}
		}
		return examined{fact.Say("cli.sensors"), false, fact.Verbatim(err.Error()), fact.Say("cli.do_folder_beside", fact.Name("ending", live.Ending))}
	}
	if !conf.On() && len(conf.Sensors) == 0 {
		return examined{fact.Say("cli.sensors"), true, fact.Say("cli.sensors_none"), fact.Saying{}}
	}
	through, no := reach(ctx, env, path)
	if no != nil {
		return examined{fact.Say("cli.sensors"), true, fact.Say("cli.sensors_not_heard", fact.Count("n", len(conf.Sensors))), fact.Saying{}}
	}
	seen, err := through.Sensors(ctx)
	if err != nil {
		return examined{fact.Say("cli.sensors"), false, fact.Say("cli.state_unknown"), fact.Say("cli.do_page_sensors")}
	}
	if seen.Link == sensing.LinkDown {
		return examined{fact.Say("cli.sensors"), false, fact.Say("live.link_down", fact.Name("why", seen.Why)), fact.Say("cli.do_broker_where")}
	}
	for _, x := range seen.Sensors {
		if x.State != sensing.Fresh {
			return examined{fact.Say("cli.sensors"), false, fact.Say("cli.sensor_is", fact.Name("name", x.Name), fact.Parts("state", sensing.StateWords(x.State))), fact.Say("cli.do_sensors_test")}
		}
	}
	return examined{fact.Say("cli.sensors"), true, fact.Say("cli.all_are_heard", fact.Count("n", len(seen.Sensors))), fact.Saying{}}
}
