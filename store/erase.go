package store

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"rungbook/training"
)

// Erase removes every trace of the person in every team and blocks them by a
// keyed hash. What they did as a coach for others stays, with nobody named as
// the one who did it. A post not yet sent that names them, in whatever part,
// is dropped whole. Call Scrub afterwards, so that the files forget too; if the
// process ends before, the next Open does.
func (tx *Tx) Erase(id training.PersonID) error {
	const verb = "erase"
	if tx.own != nil {
		tx.own.all = true
	}
	tx.blocksChanged = true
	hash, err := tx.personHash(verb, id)
	if err != nil {
		return err
	}
	if err := tx.dropPosts(verb, id); err != nil {
		return err
	}
	// All other rows about them go with the person.
	for _, query := range []string{"DELETE FROM decision WHERE subject = ?", "DELETE FROM person WHERE id = ?"} {
		if _, err := tx.exec(verb, query, int64(id)); err != nil {
			return err
		}
	}
	if _, err := tx.exec(verb, "INSERT INTO scrub_due (id) VALUES (1) ON CONFLICT DO NOTHING"); err != nil {
		return err
	}
	if _, err := tx.exec(verb, "DELETE FROM rejoined WHERE hash = ?", hash); err != nil {
		return err
	}
	_, err = tx.exec(verb, "INSERT INTO block (hash) VALUES (?) ON CONFLICT DO NOTHING", hash)
	return err
}

// Blocked reports whether the person was erased and must not be read in.
func (tx *Tx) Blocked(id training.PersonID) (bool, error) {
	const verb = "read block"
	hash, err := tx.personHash(verb, id)
	if err != nil {
		return false, err
	}
	var one int
	return tx.one(verb, "SELECT 1 FROM block WHERE hash = ?", []any{hash}, &one)
}

// ShutOut reports whether what the person wrote at the instant must not be read in:
// they are erased, or have rejoined only since.
func (tx *Tx) ShutOut(id training.PersonID, written time.Time) (bool, error) {
	const verb = "read block"
	hash, err := tx.personHash(verb, id)
	if err != nil {
		return false, err
	}
	var one int
	return tx.one(verb, `SELECT 1 FROM block WHERE hash = ?1 UNION ALL SELECT 1 FROM rejoined WHERE hash = ?1 AND since > ?2 LIMIT 1`,
		[]any{hash, instant(written)}, &one)
}

// Unblock lets an erased person be read in again: what they write from the instant
// on. Somebody who is not blocked is left as they are.
func (tx *Tx) Unblock(id training.PersonID, since time.Time) error {
	const verb = "lift block"
	tx.blocksChanged = true
	hash, err := tx.personHash(verb, id)
	if err != nil {
		return err
	}
	lifted, err := tx.exec(verb, "DELETE FROM block WHERE hash = ?", hash)
	if err != nil || lifted == 0 {
		return err
	}
	_, err = tx.exec(verb, "INSERT INTO rejoined (hash, since) VALUES (?, ?) ON CONFLICT DO NOTHING", hash, instant(since))
	return err
}

// Rejoined returns since when a person who had been erased is read again.
func (tx *Tx) Rejoined(id training.PersonID) (since time.Time, ok bool, err error) {
	const verb = "read when somebody rejoined"
	hash, err := tx.personHash(verb, id)
	if err != nil {
		return since, false, err
	}
	ok, err = tx.one(verb, "SELECT since FROM rejoined WHERE hash = ?", []any{hash}, (*instant)(&since))
	return since, ok, err
}

func (tx *Tx) personHash(verb string, id training.PersonID) ([]byte, error) {
	return tx.hash(verb, "person", strconv.FormatInt(int64(id), 10))
}

// dropPosts drops the unsent posts that a decision about the person points at
// or that name them.
func (tx *Tx) dropPosts(verb string, id training.PersonID) error {
	words, err := tx.texts(verb,
		"SELECT DISTINCT m.name FROM member m JOIN person p ON p.key = m.person WHERE p.id = ? AND m.name <> ''", int64(id))
	if err != nil {
		return err
	}
	words = append(words, strconv.FormatInt(int64(id), 10))
	var named []int64
	err = tx.each(verb, `SELECT id, payload, EXISTS (SELECT 1 FROM decision WHERE decision.post = post.id AND subject = ?) FROM post
		WHERE state IN ('formed', 'sending')`, []any{int64(id)}, func(scan func(...any) error) error {
		var post int64
		var payload []byte
		var theirs bool
		err := scan(&post, &payload, &theirs)
		if theirs || names(payload, words) {
			named = append(named, post)
		}
		return err
	})
	if err != nil {
		return err
	}
	for _, post := range named {
		_, err := tx.exec(verb, "UPDATE post SET state = 'dropped', payload = NULL, why = 'erased', claimed = NULL WHERE id = ?", post)
		if err != nil {
			return err
		}
	}
	return nil
}

func (tx *Tx) texts(verb, query string, args ...any) ([]string, error) {
	var texts []string
	err := tx.each(verb, query, args, func(scan func(...any) error) error {
		var text string
		err := scan(&text)
		texts = append(texts, text)
		return err
	})
	return texts, err
}

// names reports whether one of the words stands in the payload as a whole
// word. In JSON it is looked for in what the text says, not in how it is
// written.
func names(payload []byte, words []string) bool {
	decoder := json.NewDecoder(bytes.NewReader(payload))
	decoder.UseNumber()
	var value any
	if decoder.Decode(&value) != nil || decoder.More() {
		return says(string(payload), words)
	}
	return valueNames(value, words)
}

func valueNames(value any, words []string) bool {
	switch value := value.(type) {
	case string:
		return says(value, words)
	case json.Number:
		return slices.Contains(words, value.String())
	case []any:
		return slices.ContainsFunc(value, func(one any) bool { return valueNames(one, words) })
	case map[string]any:
		for key, one := range value {
			if says(key, words) || valueNames(one, words) {
				return true
			}
		}
	}
	return false
}

func says(text string, words []string) bool {
	for _, word := range words {
		for rest := text; ; {
			before, after, found := strings.Cut(rest, word)
			if !found {
				break
			}
			last, _ := utf8.DecodeLastRuneInString(text[:len(text)-len(rest)+len(before)])
			next, _ := utf8.DecodeRuneInString(after)
			if !partOfWord(last) && !partOfWord(next) {
				return true
			}
			rest = after
		}
	}
	return false
}

func partOfWord(r rune) bool {
	return r != utf8.RuneError && (unicode.IsLetter(r) || unicode.IsDigit(r))
}

// Scrub makes the files forget what was erased: it writes the database anew
// without its free space, and empties the log beside it. The bot waits for it:
// a tenth of a second or so for each ten thousand sessions. It fails if a View
// outlasts the wait; what was erased stays erased, and Scrub may be called
// again.
func (db *DB) Scrub(ctx context.Context) error {
	if db.writer == nil {
		return fmt.Errorf("scrub: %w", errReadOnly)
	}
	c, err := db.writer.take(ctx, db.closed)
	if err != nil {
		return fmt.Errorf("scrub: %w", explain(err))
	}
	defer db.writer.give(c)
	if err := c.run("VACUUM"); err != nil {
		return fmt.Errorf("scrub: %w", explain(err))
	}
	var busy, pages, moved int
	if err := c.raw.QueryRowContext(ctx, "PRAGMA wal_checkpoint(TRUNCATE)").Scan(&busy, &pages, &moved); err != nil {
		return fmt.Errorf("scrub: %w", explain(err))
	}
	if busy != 0 {
		return errors.New("scrub: a reader holds the old pages: try again")
	}
	if err := c.run("DELETE FROM scrub_due"); err != nil {
		return fmt.Errorf("scrub: %w", explain(err))
	}
	return nil
}

// scrubIfDue makes good what an earlier process did not come to.
func (db *DB) scrubIfDue(ctx context.Context) error {
	var due bool
	err := db.View(ctx, func(tx *Tx) error {
		_, err := tx.one("read scrub", "SELECT EXISTS (SELECT 1 FROM scrub_due)", nil, &due)
		return err
	})
	if err != nil || !due {
		return err
	}
	return db.Scrub(ctx)
}
