package store

import (
	"context"
	"time"
)

// ServerFacts are what is known of a shop's server.
type ServerFacts struct {
	Version     string
	Connections int       // of hopperful, this one too
	Shops       int       // put aside ones too
	Encryption  string    // of the way to it, "" for none
	Checked     bool      // that it is the server it says it is
	Local       bool      // it is on this computer
	Clock       time.Time // what the server takes for now
}

// LookAtServer asks the server of a shop about itself.
func LookAtServer(ctx context.Context, path string) (ServerFacts, error) {
	at, err := readAddress(path)
	if err != nil {
		return ServerFacts{}, err
	}
	p := &onServer{at: at}
	defer p.connect(Options{ReadOnly: true}).Close()
	f := ServerFacts{Local: at.local()}
	if at.config.TLSConfig != nil {
		f.Checked = !at.config.TLSConfig.InsecureSkipVerify
	}
	err = trying(ctx, func() error {
		return p.db.QueryRowContext(ctx, `SELECT current_setting('server_version'),
(SELECT count(*) FROM pg_stat_activity WHERE application_name = 'hopperful'),
coalesce((SELECT version || ', ' || cipher FROM pg_stat_ssl WHERE pid = pg_backend_pid() AND ssl), ''), clock_timestamp()`).
			Scan(&f.Version, &f.Connections, &f.Encryption, &f.Clock)
	})
	if err == nil {
		if form, no := pgForm(ctx, p.db); no == nil && form > 0 {
			err = p.db.QueryRowContext(ctx, "SELECT count(*) FROM hopperful.shop").Scan(&f.Shops)
		}
	}
	return f, explain(err, "doing.looking_at", at.shown)
}
