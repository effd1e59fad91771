package store

import (
	"bytes"
	"context"
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
)

// KeySize is that of a key file, in bytes.
const KeySize = 32

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

// hash is DB.hash as part of a verb.
func (tx *Tx) hash(verb, kind, text string) ([]byte, error) {
	hash, err := tx.db.hash(kind, text)
	if err != nil {
		return nil, tx.fail(verb, fmt.Errorf("hash: %w", err))
	}
	return hash, nil
}

// readKey reads a key file. One that is missing, or that a power cut or a full
// disk left unfinished, is ErrKeyLost.
func readKey(path string) ([]byte, error) {
	key, err := os.ReadFile(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("%w: there is no %s", ErrKeyLost, path)
	case err != nil:
		return nil, fmt.Errorf("read the key: %w", err)
	case len(key) != KeySize:
		return nil, fmt.Errorf("%w: %s holds %d bytes, not %d", ErrKeyLost, path, len(key), KeySize)
	}
	return key, nil
}

// makeKey writes a new key. What stands in its place, if anything, is kept: a key
// with a stray newline is still a key to somebody.
func makeKey(path string) ([]byte, error) {
	if info, err := os.Stat(path); err == nil && info.Size() > 0 {
		if err := plainFiles.rename(path, path+".unfit"); err != nil {
			return nil, fmt.Errorf("move what is no key aside: %w", err)
		}
	}
	key := make([]byte, KeySize)
	rand.Read(key)
	if err := writeWhole(path, key); err != nil {
		return nil, fmt.Errorf("make a key beside the database: %w", err)
	}
	return key, nil
}

// findKey reads the key file, if the key is not known yet. Where the key is lost a
// new one is made, unless something hashed with the lost one is not given up.
// empty says that the database has no tables yet.
func (db *DB) findKey(ctx context.Context, empty bool) error {
	o := db.options
	if db.key != nil || o.KeyFile == "" {
		return nil
	}
	key, err := readKey(o.KeyFile)
	if errors.Is(err, ErrKeyLost) {
		key, err = db.replaceKey(ctx, empty, err)
		db.newKey = err == nil
	}
	db.key = key
	return err
}

// hashed are the tables whose rows say nothing without the key.
var hashed = []string{"block", "rejoined", "acted", "unanswered", "refused", "take_back"}

func (db *DB) replaceKey(ctx context.Context, empty bool, lost error) ([]byte, error) {
	some := false
	if !empty {
		err := db.View(ctx, func(tx *Tx) (err error) {
			for _, table := range hashed {
				var one int
				if some, err = tx.one("read what is hashed", "SELECT 1 FROM "+table+" LIMIT 1", nil, &one); err != nil || some {
					return err
				}
			}
			some, err = tx.one("read what is hashed", "SELECT 1 FROM decision WHERE cause LIKE '#%' LIMIT 1", nil, new(int))
			return err
		})
		if err != nil {
			return nil, err
		}
	}
	list, err := readErased(db.options.ErasedFile)
	if err != nil {
		return nil, err
	}
	if (some || len(list.entries) > 0) && !db.options.WithoutKey {
		return nil, lost
	}
	return makeKey(db.options.KeyFile)
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
	case kept != nil && !db.newKey && !db.options.WithoutKey:
		return fmt.Errorf("%w: the one at hand is not the one this database was made with", ErrKeyLost)
	case db.writer == nil:
		return nil
	}
	giveUp := kept != nil || db.newKey
	db.opening.GaveUpKey = giveUp && db.options.WithoutKey
	return db.Update(ctx, func(tx *Tx) error { return tx.putKeyCheck(want, giveUp) })
}

// putKeyCheck notes which key it is now, and forgets what another was needed for
// where that is given up.
func (tx *Tx) putKeyCheck(check []byte, giveUp bool) error {
	const verb = "store key check"
	if giveUp {
		for _, table := range append([]string{"key_check"}, hashed...) {
			if _, err := tx.exec(verb, "DELETE FROM "+table); err != nil {
				return err
			}
		}
	}
	_, err := tx.exec(verb, "INSERT INTO key_check (id, hash) VALUES (1, ?)", check)
	return err
}
