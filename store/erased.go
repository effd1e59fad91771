package store

import (
	"bytes"
	"context"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"regexp"
	"slices"
	"strings"
)

// erasedHead begins the list of the erased, for whoever opens it.
const erasedHead = `# those who were erased from Rungbook, and since when they are back if they are
# this names nobody: without the key nobody can tell whose these are
# leave it beside the database, and keep a copy of it together with the key's
`

// erased is the list of the erased as it stands in its file, which outlives the
// database. The zero value is the list that is not there.
type erased struct {
	check string // hex of a keyed hash of a fixed word, which tells the key
	// Sorted: "erased" and the hex of a keyed hash of somebody who is blocked, or
	// "rejoined", that of somebody who is no more, and since when in ms since 1970 UTC.
	entries []string
}

// readErased reads the list from its file; one that is not there is empty, and so
// is that of no name.
func readErased(path string) (list erased, err error) {
	if path == "" {
		return list, nil
	}
	text, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return list, nil
	}
	if err != nil {
		return list, fmt.Errorf("read the list of the erased: %w", err)
	}
	if list, err = parseErased(string(text)); err != nil {
		return list, fmt.Errorf("the list of the erased %s is damaged (%w): put a copy of it back, "+
			"or move it aside, and those whom the database names alone are kept out", path, err)
	}
	return list, nil
}

// text is the list as it stands in its file. Its last line counts the others, so
// that a list cut short is told from a whole one.
func (l erased) text() []byte {
	var to bytes.Buffer
	fmt.Fprintf(&to, "%skey %s\n", erasedHead, l.check)
	for _, entry := range l.entries {
		fmt.Fprintln(&to, entry)
	}
	fmt.Fprintf(&to, "in all %d\n", len(l.entries))
	return to.Bytes()
}

var (
	keyLine   = regexp.MustCompile(`^key [0-9a-f]{32}$`)
	entryLine = regexp.MustCompile(`^(erased [0-9a-f]{32}|rejoined [0-9a-f]{32} \d+)$`)
)

func parseErased(text string) (list erased, err error) {
	whole := false
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		switch {
		case whole:
			return list, errors.New("something follows its end")
		case line == "" || strings.HasPrefix(line, "#"):
		case list.check == "" && keyLine.MatchString(line):
			list.check = strings.TrimPrefix(line, "key ")
		case list.check != "" && entryLine.MatchString(line):
			list.entries = append(list.entries, line)
		case list.check != "" && line == fmt.Sprintf("in all %d", len(list.entries)):
			whole = true
		default:
			return list, fmt.Errorf("it does not go on as it should with %q", line)
		}
	}
	if !whole {
		return list, errors.New("its end is missing")
	}
	return list, nil
}

// ownErased reads the list, and refuses one that another key was used for, unless
// it names nobody or what the key guards is given up: then it is moved aside.
func (db *DB) ownErased(o Options) (list erased, err error) {
	list, err = readErased(o.ErasedFile)
	if err != nil || list.check == "" {
		return list, err
	}
	check, err := db.hash("key", "check")
	if err != nil || list.check == hex.EncodeToString(check) {
		return list, err
	}
	switch {
	case len(list.entries) == 0:
		return erased{}, nil
	case !o.WithoutKey:
		return list, fmt.Errorf("%w: the one at hand is not the one that %s was made with", ErrKeyLost, o.ErasedFile)
	}
	db.opening.GaveUpKey = true
	db.opening.ListAside = o.ErasedFile + ".of-lost-key"
	if err := plainFiles.rename(o.ErasedFile, db.opening.ListAside); err != nil {
		return list, fmt.Errorf("move the list of the erased aside: %w", err)
	}
	return erased{}, nil
}

// CheckErased says what is wrong with the list of the erased, nil for nothing.
func (db *DB) CheckErased() error {
	if len(db.key) == 0 {
		_, err := readErased(db.options.ErasedFile)
		return err
	}
	o := db.options
	o.WithoutKey = false // it changes nothing
	_, err := db.ownErased(o)
	return err
}

// heed makes the database and the list of the erased one: whoever stands on the
// list and not in the database is erased from it, and the list is brought up to
// date.
func (db *DB) heed(ctx context.Context) error {
	if db.options.ErasedFile == "" || len(db.key) == 0 {
		return nil
	}
	list, err := db.ownErased(db.options)
	if err != nil {
		return err
	}
	var have []string
	err = db.View(ctx, func(tx *Tx) error {
		have, err = tx.erasedEntries()
		return err
	})
	db.erasedFile = db.options.ErasedFile
	if list.check != "" {
		db.erasedKept = list.text()
	}
	if err != nil || list.check != "" && slices.Equal(have, list.entries) {
		return err
	}
	return db.Update(ctx, func(tx *Tx) error {
		for _, entry := range list.entries {
			if !slices.Contains(have, entry) {
				db.opening.Heeded++
			}
		}
		tx.blocksChanged = true
		return tx.heed("heed the list of the erased", list.entries)
	})
}

// erasedEntries lists the entries of a list of the erased as the database has them.
func (tx *Tx) erasedEntries() ([]string, error) {
	return tx.texts("read who was erased", `SELECT 'erased ' || lower(hex(hash)) FROM block
		UNION ALL SELECT 'rejoined ' || lower(hex(hash)) || ' ' || since FROM rejoined ORDER BY 1`)
}

// heed blocks and erases whom the entries call erased. Who has rejoined is left as
// they are where the database knows of it, else it is older, and what it holds of
// them is erased.
func (tx *Tx) heed(verb string, entries []string) error {
	type back struct{ hash, since string }
	var rejoined []back
	for _, entry := range entries {
		words := strings.Fields(entry)
		hash := words[1]
		if len(words) == 3 {
			var one int
			known, err := tx.one(verb, "SELECT 1 FROM rejoined WHERE hash = unhex(?) AND since >= CAST(? AS INTEGER)",
				[]any{hash, words[2]}, &one)
			if err != nil {
				return err
			}
			if known {
				continue
			}
			rejoined = append(rejoined, back{hash, words[2]})
		}
		if _, err := tx.exec(verb, "INSERT INTO block (hash) VALUES (unhex(?)) ON CONFLICT DO NOTHING", hash); err != nil {
			return err
		}
	}
	if err := tx.eraseBlocked(verb); err != nil {
		return err
	}
	for _, who := range rejoined {
		if _, err := tx.exec(verb, "DELETE FROM block WHERE hash = unhex(?)", who.hash); err != nil {
			return err
		}
		_, err := tx.exec(verb, `INSERT INTO rejoined (hash, since) VALUES (unhex(?), CAST(? AS INTEGER))
			ON CONFLICT DO UPDATE SET since = excluded.since`, who.hash, who.since)
		if err != nil {
			return err
		}
	}
	return nil
}

// keepErased writes the list of the erased as it will be after the transaction. It
// comes before the commit: nobody is told that they are erased of whom the list
// does not know.
func (tx *Tx) keepErased() error {
	db := tx.db
	if !tx.blocksChanged || db.erasedFile == "" {
		return nil
	}
	check, err := db.hash("key", "check")
	if err != nil {
		return err
	}
	entries, err := tx.erasedEntries()
	if err != nil {
		return err
	}
	tx.erasedText = erased{check: hex.EncodeToString(check), entries: entries}.text()
	return writeWhole(db.erasedFile, tx.erasedText)
}

// takeErasedBack writes the list again as it was before a transaction that could
// not be committed. Where that fails too, the next start erases whoever asked
// for it and was told to ask again.
func (tx *Tx) takeErasedBack() {
	if tx.erasedText != nil && tx.db.erasedKept != nil {
		_ = writeWhole(tx.db.erasedFile, tx.db.erasedKept)
	}
}
