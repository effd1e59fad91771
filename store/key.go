package store

import (
	"bytes"
	"context"
	"crypto/hmac"
	"crypto/sha256"
	"errors"
	"fmt"
)

const hashSize = 16 // bytes; too few to matter to anybody without the key

// hash makes a keyed hash of the text of a kind. Without the key nobody can
// tell what it is of, not even by trying all numbers there are.
func (db *DB) hash(kind, text string) ([]byte, error) {
	if len(db.key) == 0 {
		return nil, ErrNoKey
	}
	mac := hmac.New(sha256.New, db.key)
	mac.Write([]byte(kind + " " + text))
	return mac.Sum(nil)[:hashSize], nil
}

// checkKey refuses a key other than the one the hashes were made with, which
// would forget whom to keep out. The first key given is the one.
func (db *DB) checkKey(ctx context.Context) error {
	if len(db.key) == 0 {
		return nil
	}
	want, err := db.hash("key", "check")
	if err != nil {
		return err
	}
	var kept []byte
	err = db.View(ctx, func(tx *Tx) error {
		_, err := tx.one("read key check", "SELECT hash FROM key_check", nil, &kept)
		return err
	})
	switch {
	case err != nil:
		return err
	case bytes.Equal(kept, want):
		return nil
	case kept != nil:
		return errors.New("the key is not the one this database was made with: put that one back, without it nobody knows who was erased")
	case db.writer == nil:
		return nil
	}
	return db.Update(ctx, func(tx *Tx) error {
		_, err := tx.exec("store key check", "INSERT INTO key_check (id, hash) VALUES (1, ?)", want)
		return err
	})
}

// hash is DB.hash as part of a verb.
func (tx *Tx) hash(verb, kind, text string) ([]byte, error) {
	hash, err := tx.db.hash(kind, text)
	if err != nil {
		return nil, tx.fail(verb, fmt.Errorf("hash: %w", err))
	}
	return hash, nil
}
