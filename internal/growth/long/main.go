// Command long writes an invented shop of many records: long FILE RECORDS.
package main

import (
	"context"
	"fmt"
	"os"
	"strconv"
	"time"

	"hopperful/internal/growth"
	"hopperful/internal/store"
	"hopperful/shop"
)

func main() {
	if err := run(context.Background(), os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(ctx context.Context, args []string) error {
	if len(args) != 2 {
		return fmt.Errorf("usage: long FILE RECORDS")
	}
	n, err := strconv.Atoi(args[1])
	if err != nil {
		return fmt.Errorf("%q is no number of records", args[1])
	}
	s, err := store.Create(ctx, args[0], store.Options{})
	if err != nil {
		return err
	}
	defer s.Close()
	now := time.Now()
	return growth.Records(n, now, func(piece []shop.Record) error {
		_, err := s.Append(ctx, now, piece...)
		return err
	})
}
