package store

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"

	"github.com/jackc/pgx/v5/pgconn"
)

//go:embed pgmigration/*.sql
var pgEmbedded embed.FS

// pgMigrations are the steps from an empty database to today's tables.
var pgMigrations = textsOf(pgEmbedded)

// pgForm asks which step a database is at; 0 when it knows no shops.
func pgForm(ctx context.Context, db *sql.DB) (int, error) {
	form, err := one[int](db.QueryRowContext(ctx, "SELECT form FROM hopperful.form"))
	var said *pgconn.PgError
	if errors.As(err, &said) && (said.Code == "42P01" || said.Code == "3F000") {
		return 0, nil
	}
	return form, err
}

// pgMigrate brings a database up to date. Several programs may do so at once: one
// of them wins, and the others find it done when they try again.
func pgMigrate(ctx context.Context, db *sql.DB) error {
	return trying(ctx, func() error {
		at, err := pgForm(ctx, db)
		if err != nil || at >= len(pgMigrations) {
			return err
		}
		tx, err := db.BeginTx(ctx, nil)
		if err != nil {
			return err
		}
		defer tx.Rollback()
		if at == 0 {
			if _, err := tx.ExecContext(ctx, "CREATE SCHEMA IF NOT EXISTS hopperful; CREATE TABLE hopperful.form (form integer NOT NULL); INSERT INTO hopperful.form VALUES (0)"); err != nil {
				return anew(err)
			}
		}
		if err := tx.QueryRowContext(ctx, "SELECT form FROM hopperful.form FOR UPDATE").Scan(&at); err != nil {
			return err
		}
		for i := at; i < len(pgMigrations); i++ {
			if _, err := tx.ExecContext(ctx, pgMigrations[i]); err != nil {
				return fmt.Errorf("step %d: %w", i+1, err)
			}
		}
		if _, err := tx.ExecContext(ctx, "UPDATE hopperful.form SET form = $1", len(pgMigrations)); err != nil {
			return err
		}
		return tx.Commit()
	})
}

// anew marks what says that another program made the same table at this moment.
func anew(err error) error {
	var said *pgconn.PgError
	if errors.As(err, &said) && (said.Code == "42P07" || said.Code == "42P06") {
		return &pgconn.PgError{Code: "40001", Message: said.Message}
	}
	return err
}
