// Package store keeps a shop's records in one file.
//
// The file is an SQLite database with one table that is only ever appended to;
// everything else is derived by package shop and held in memory. [Store.State]
// hands out the state as it is, without a lock and without touching the disk.
// [Store.Append] is the only way to write: the shop's own check, the new rows
// and the new state happen together or not at all.
//
// One program at a time may have a shop open for writing, any number for
// reading. The reasons are in docs/decisions/0001-record-log.md.
package store
