package store

import (
	"context"
	"database/sql"
	"testing"
	"time"

	"rungbook/training"
)

// session is what one member logs on one day: six rows of eleven sets or so.
func session(id int, member training.PersonID, day training.Day) training.Log {
	log := training.Log{ID: training.MessageID(1<<60 + id), Team: 7, Member: member, Author: member,
		At: time.UnixMilli(1791220000000 + int64(id)), State: training.LogLive, Days: training.OnDay(day)}
	for _, rung := range []training.RungID{"high hold", "support", "mid hang", "transitions", "pull-ups", "slow lowers"} {
		for range 3 {
			log.Days[0].Sets = append(log.Days[0].Sets, training.Set{Rung: rung, WorkS: 20 + id%7, RestS: training.Known(60)})
		}
	}
	return log
}

// history fills a database with sessions of the member, two a week, among as
// many of five others.
func pastRows(b *testing.B, sessions int) *DB {
	b.Helper()
	db := openWithTeam(b)
	err := db.Update(context.Background(), func(tx *Tx) error {
		for i := range sessions {
			for other := range 6 {
				if err := tx.PutLog(session(6*i+other, training.PersonID(11+other), training.Date(2016, 10, 3)+training.Day(7*i/2))); err != nil {
					return err
				}
			}
		}
		return nil
	})
	if err != nil {
		b.Fatal(err)
	}
	return db
}

// BenchmarkRecord reads a record that was read before, and afresh.
func BenchmarkRecord(b *testing.B) {
	for name, sessions := range map[string]int{"month": 10, "1000": 1000} { // 10 sessions of 6 rows: 60 rows
		for _, afresh := range []bool{false, true} {
			if afresh {
				name += " afresh"
			}
			b.Run(name, func(b *testing.B) {
				db := pastRows(b, sessions)
				if afresh {
					db.history = nil
				}
				benchRecord(b, db, sessions)
			})
		}
	}
}

func benchRecord(b *testing.B, db *DB, sessions int) {
	b.ReportAllocs()
	for b.Loop() {
		err := db.View(context.Background(), func(tx *Tx) error {
			record, err := tx.Record(7, 11)
			if len(record.Sessions) != sessions {
				b.Fatalf("%d sessions, want %d", len(record.Sessions), sessions)
			}
			return err
		})
		if err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPutLog(b *testing.B) {
	db := pastRows(b, 100)
	i := 1000000
	b.ReportAllocs()
	for b.Loop() {
		i++
		if err := db.Update(context.Background(), func(tx *Tx) error { return tx.PutLog(session(i, 11, training.Date(2026, 10, 5))) }); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkBareInsert writes the rows of BenchmarkPutLog through database/sql
// and nothing else: the same file, settings and tables.
func BenchmarkBareInsert(b *testing.B) {
	path := pastRows(b, 100).path
	raw, err := sql.Open("sqlite", dsn(path, writing))
	if err != nil {
		b.Fatal(err)
	}
	defer raw.Close()
	raw.SetMaxOpenConns(1)
	i := 1000000
	b.ReportAllocs()
	for b.Loop() {
		i++
		log := session(i, 11, training.Date(2026, 10, 5))
		if err := bareInsert(raw, log); err != nil {
			b.Fatal(err)
		}
	}
}

func bareInsert(raw *sql.DB, log training.Log) error {
	tx, err := raw.Begin()
	if err != nil {
		return err
	}
	defer tx.Rollback() // after a commit it does nothing
	if _, err := tx.Exec("INSERT INTO log (id, member, author, at, day, state, alone, silent) VALUES (?, 1, 1, ?, ?, 'live', 0, 0)", int64(log.ID), log.At.UnixMilli(), log.Day().String()); err != nil {
		return err
	}
	for at := 0; at < len(log.Sets()); at += 3 {
		set := log.Sets()[at]
		_, err := tx.Exec("INSERT INTO bout VALUES (?, ?, ?, 3, ?, ?, 0, 0, '', '', ?, NULL, 0, 0, NULL)", int64(log.ID), log.Day().String(), at, string(set.Rung), set.WorkS, set.RestS.Value)
		if err != nil {
			return err
		}
	}
	return tx.Commit()
}
