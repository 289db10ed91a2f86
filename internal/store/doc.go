// Package store keeps a shop's records: in one file, or on a PostgreSQL server.
//
// Either way they are a table that is only ever appended to; everything else is
// derived by package shop and held in memory. What differs is behind [medium], in
// the files that begin with pg and in the others; one suite of tests runs on both. [Store.State]
// hands out the state as it is, without a lock and without touching the disk.
// [Store.Append] is the only way to write: the shop's own check, the new rows
// and the new state happen together or not at all.
//
// One program at a time may have a file open for writing, any number for reading;
// on a server any number may write. The reasons are in docs/decisions/0001-record-log.md
// and 0006-shops-on-a-server.md.
package store
