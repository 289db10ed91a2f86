package cli

import (
	"crypto/tls"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/internal/live"
	"hopperful/internal/trust"
	"hopperful/plan/sensing"
	"hopperful/shop"
)

func sensorsAddCommand(env *Env) *cobra.Command {
	var s live.Sensor
	var what, preset, device string
	var presets []string
	for _, p := range live.Presets {
		presets = append(presets, p.Name)
	}
	c := &cobra.Command{
		Use: "add NAME",
		Example: `  hopperful sensors add plug --machine Grumble --quantity power --topic mill/power
  hopperful sensors add plug --machine Grumble --quantity power --preset switch-status --device plug1
  hopperful sensors add air --quantity room --topic bench/climate --path temperature --measured-in °C`,
		Args: takes(1, 1, "takes.a_name_for_the_sensor"),
		RunE: func(c *cobra.Command, args []string) error {
			s.Name, s.What = args[0], sensing.What(what)
			note := fact.Saying{}
			if preset != "" {
				p, err := live.PresetNamed(preset)
				if err == nil {
					s, err = p.Fill(s, device)
				}
				if err != nil {
					return ofSensors(err)
				}
				note = fact.Saying{Code: p.Note}
			}
			if err := knownMachine(c, env, s.Machine); err != nil {
				return err
			}
			return changeSetup(c, env, note, func(conf *live.Config) error {
				conf.Sensors = slices.DeleteFunc(conf.Sensors, func(o live.Sensor) bool { return o.Name == s.Name })
				conf.Sensors = append(conf.Sensors, s)
				return nil
			})
		},
	}
	var kinds []string
	for _, w := range sensing.Quantities() {
		kinds = append(kinds, string(w))
	}
	f := c.Flags()
	f.StringVar(&s.Machine, "machine", "", "")
	f.StringVar(&what, "quantity", "", "")
	tells(c, "quantity", kinds...)
	f.StringVar(&s.Topic, "topic", "", "")
	f.StringVar(&s.Path, "path", "", "")
	f.StringVar(&s.Unit, "measured-in", "", "")
	f.StringVar(&s.TimePath, "time-path", "", "")
	f.StringVar(&s.Alive, "alive", "", "")
	f.StringVar(&preset, "preset", "", "")
	tells(c, "preset", presets...)
	f.StringVar(&device, "device", "", "")
	shopFlag(c)
	completesFlag(c, env, "machine", millsInUse)
	completesFlag(c, env, "quantity", func(*shop.State) []string { return kinds })
	completesFlag(c, env, "preset", func(*shop.State) []string { return presets })
	return c
}

// knownMachine refuses a machine that the shop does not have.
func knownMachine(c *cobra.Command, env *Env, name string) error {
	state, err := readShopIfAny(c, env)
	if err != nil || name == "" {
		return err
	}
	var all []string
	for _, m := range state.ActiveMills() {
		all = append(all, m.Name)
	}
	for _, d := range state.Dryers {
		if !d.Retired {
			all = append(all, d.Name)
		}
	}
	if slices.Contains(all, name) {
		return nil
	}
	return &failure{what: fact.Say("cli.no_mill_or_dryer", fact.Name("name", name)), advice: fact.Say("cli.machines_there_are", fact.Names("all", all))}
}

// changeSetup changes how the sensors are set up and shows it.
func changeSetup(c *cobra.Command, env *Env, note fact.Saying, change func(*live.Config) error) error {
	conf, path, err := setup(c, env)
	if err == nil {
		err = change(&conf)
	}
	if err == nil {
		err = conf.Save(path)
	}
	if err != nil {
		return ofSensors(err)
	}
	if !note.Empty() {
		fmt.Fprintln(env.Err, env.speaks().Say(note))
	}
	return showSetup(c, env, conf)
}

func sensorsRemoveCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use: "remove NAME",
		Example: `  hopperful sensors add plug --machine Grumble --quantity power --topic mill/power
  hopperful sensors remove plug`,
		Args: takes(1, 1, "takes.the_name_of_a_sensor"),
		RunE: func(c *cobra.Command, args []string) error {
			return changeSetup(c, env, fact.Saying{}, func(conf *live.Config) error {
				before := len(conf.Sensors)
				conf.Sensors = slices.DeleteFunc(conf.Sensors, func(o live.Sensor) bool { return o.Name == args[0] })
				if len(conf.Sensors) == before {
					return &live.Refusal{What: fact.Say("cli.sensor_none", fact.Name("word", args[0])), Advice: fact.Say("cli.do_sensors_list")}
				}
				return nil
			})
		},
	}
	shopFlag(c)
	return c
}

// brokerFlags say where messages come from.
type brokerFlags struct {
	url, user, passwordFile, ca string
	own, plain, off             bool
	listen                      string
	add, drop                   []string
}

func brokerCommand(env *Env) *cobra.Command {
	var b brokerFlags
	c := &cobra.Command{
		Use: "broker",
		Example: `  hopperful sensors broker --url mqtt://127.0.0.1:1883 --user hopperful --password-file passphrase.txt
  hopperful sensors broker --own --listen 127.0.0.1:1883 --add-user plug1
  hopperful sensors broker --off`,
		Args: takes(0, 0, "takes.flags_only"),
		RunE: func(c *cobra.Command, _ []string) error {
			var note fact.Saying
			if b.plain {
				note = fact.Say("cli.passwords_unencrypted")
			}
			return changeSetup(c, env, note, func(conf *live.Config) error { return b.change(c, env, conf) })
		},
	}
	f := c.Flags()
	f.StringVar(&b.url, "url", "", "")
	f.StringVar(&b.user, "user", "", "")
	f.StringVar(&b.passwordFile, "password-file", "", "")
	f.StringVar(&b.ca, "ca", "", "")
	f.BoolVar(&b.own, "own", false, "")
	f.StringVar(&b.listen, "listen", "", "")
	f.BoolVar(&b.plain, "plain", false, "")
	f.StringArrayVar(&b.add, "add-user", nil, "")
	f.StringArrayVar(&b.drop, "drop-user", nil, "")
	f.BoolVar(&b.off, "off", false, "")
	shopFlag(c)
	return c
}

// change puts what was typed into the setup.
func (b *brokerFlags) change(c *cobra.Command, env *Env, conf *live.Config) error {
	chosen := 0
	for _, on := range []bool{b.url != "", b.own, b.off} {
		if on {
			chosen++
		}
	}
	if chosen > 1 {
		return usagef(c, fact.Say("cli.broker_one_way"))
	}
	password, err := b.password()
	if err != nil {
		return err
	}
	switch {
	case b.off:
		conf.Broker = live.Broker{}
	case b.url != "":
		conf.Broker = live.Broker{URL: b.url, User: b.user, Password: password, CA: b.ca}
	case b.own || conf.Broker.Own != nil:
		return b.changeOwn(c, env, conf, password)
	}
	return nil
}

// changeOwn puts what was typed of the shop's own broker into the setup.
func (b *brokerFlags) changeOwn(c *cobra.Command, env *Env, conf *live.Config, password string) error {
	own := live.Own{Listen: "127.0.0.1:1883"}
	if conf.Broker.Own != nil {
		own = *conf.Broker.Own
	}
	if b.listen != "" {
		own.Listen = b.listen
	}
	if c.Flags().Changed("plain") {
		own.Plain = b.plain
	}
	if len(b.add) > 1 && password != "" {
		return usagef(c, fact.Say("cli.password_file_one_user"))
	}
	for _, name := range b.drop {
		before := len(own.Users)
		if own.Users = slices.DeleteFunc(slices.Clone(own.Users), func(u live.User) bool { return u.Name == name }); len(own.Users) == before {
			return &live.Refusal{What: fact.Say("cli.nobody_is_called", fact.Name("name", name)), Advice: fact.Say("cli.do_sensors_users")}
		}
	}
	for _, name := range b.add {
		u, secret, err := live.NewUser(name, password)
		if err != nil {
			return err
		}
		own.Users = append(slices.DeleteFunc(slices.Clone(own.Users), func(o live.User) bool { return o.Name == name }), u)
		if password == "" {
			fmt.Fprintln(env.Err, env.speaks().Line("cli.password_once", fact.Name("name", name), fact.Name("secret", secret)))
		}
	}
	conf.Broker = live.Broker{Own: &own}
	return nil
}

// password reads the file with it.
func (b *brokerFlags) password() (string, error) {
	if b.passwordFile == "" {
		return "", nil
	}
	f, err := os.Open(b.passwordFile)
	if err != nil {
		return "", err
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, mostPassphrase))
	if word := strings.TrimSpace(string(text)); err == nil && word != "" {
		return word, nil
	}
	if err == nil {
		err = &failure{what: fact.Say("cli.password_file_empty", fact.Name("password_file", b.passwordFile)), advice: fact.Say("cli.do_write_password")}
	}
	return "", err
}

// ownTLS is how the shop's own broker encrypts: with the shop's own authority.
func ownTLS(c *cobra.Command, env *Env, path string) func() (*tls.Config, error) {
	return func() (*tls.Config, error) {
		hosts, err := c.Flags().GetStringArray("host")
		if err != nil {
			hosts = nil
		}
		a, err := trust.Open(path+trust.Ending, hosts, env.Now)
		if err != nil {
			return nil, err
		}
		return a.TLS(everyAddress), nil
	}
}
