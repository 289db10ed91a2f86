"""Appends rows to a bare SQLite file, each durable before the next, as a shop's log
is: write-ahead log, synchronous FULL."""

import os
import sqlite3
import sys
import tempfile
import time


def main():
    rows = int(sys.argv[1])
    with tempfile.TemporaryDirectory() as folder:
        db = sqlite3.connect(os.path.join(folder, "bare"), isolation_level=None)
        db.execute("PRAGMA journal_mode=WAL")
        db.execute("PRAGMA synchronous=FULL")
        db.execute("CREATE TABLE record (id INTEGER PRIMARY KEY, kind TEXT, at TEXT, body TEXT, seal BLOB)")
        body, wall, cpu = "x" * 160, time.perf_counter(), time.process_time()
        for i in range(rows):
            db.execute("BEGIN IMMEDIATE")
            db.execute("INSERT INTO record (kind, at, body, seal) VALUES ('ground', '2026-05-04T08:00:00+02:00', ?, zeroblob(32))", (body,))
            db.execute("COMMIT")
        print((time.perf_counter() - wall) / rows, (time.process_time() - cpu) / rows)


main()
