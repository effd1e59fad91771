package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"log/slog"
	"net"
	"net/url"
	"os"
	"path/filepath"
	"strings"

	"rungbook/bot"
	"rungbook/store"
	"rungbook/training/programme"
)

// databaseFlag adds the flag that names the database; settings order is flag,
// environment, default.
func (p program) databaseFlag(set *flag.FlagSet) *string {
	path := p.getenv("RUNGBOOK_DB")
	if path == "" {
		path = "rungbook.db"
	}
	return set.String("db", path, "")
}

// files names the database and what lies beside it.
func files(path string) store.Options {
	return store.Options{Path: path, KeyFile: path + ".key", ErasedFile: path + ".erased"}
}

// What the key guards, and what follows where it is lost.
const (
	keyGivenUp = "if it is lost, rungbook serve --without-key goes on with a new one, and gives up what the old one guards"
	keyGuards  = "the list of the erased (whoever was erased can be read in again, from what they write next, " +
		"the channel's past weeks or an older backup, and so can what whoever rejoined wrote before) " +
		"and the once-only marks (a message that set a pause can set it again when it is met again, its coach can be told again, " +
		"a message that was refused can be read in, and an answer still due or a pause's “misread” may fail)"
)

// lostKey tells of a lost key what it guards and how to go on without it.
func lostKey(err error, command string) error {
	return misuse("%w: put back the one made with it; without it these are lost: %s; "+
		"to go on all the same, with a new key: rungbook %s --without-key", err, keyGuards, command)
}

// tellOpening says what was mended as the database was opened.
func (p program) tellOpening(path string, opening store.Opening) {
	if opening.GaveUpKey {
		fmt.Fprintf(p.stderr, "Gone on without the old key, with %s.key. Lost with the old one: %s.\n", path, keyGuards)
	}
	if opening.ListAside != "" {
		fmt.Fprintf(p.stderr, "The list of the erased is of use only with the old key; it lies in %s now.\n", opening.ListAside)
	}
	if opening.Heeded > 0 {
		fmt.Fprintf(p.stderr, "%d of those on the list of the erased were not erased from this database: they are now.\n", opening.Heeded)
	}
}

// reading opens the database beside a running bot.
func (p program) reading(ctx context.Context, path string) (*store.DB, error) {
	o := files(path)
	o.ReadOnly = true
	db, err := store.Open(ctx, o)
	if errors.Is(err, store.ErrKeyLost) {
		return nil, misuse("%w: put back the one made with it; %s", err, keyGivenUp)
	}
	if err != nil {
		return nil, use{err}
	}
	return db, nil
}

// export writes what is kept of a member to stdout.
func (p program) export(ctx context.Context, args []string) (err error) {
	set := flag.NewFlagSet("export", flag.ContinueOnError)
	path := p.databaseFlag(set)
	name := set.String("member", "", "")
	format := set.String("format", "json", "")
	if err := p.noWords(set, args); err != nil {
		return err
	}
	if *name == "" {
		return misuse("export: say whose with --member NAME")
	}
	if *format != "json" && *format != "csv" {
		return misuse("export: --format is json or csv, not %q", *format)
	}
	db, err := p.reading(ctx, *path)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	found, err := findMember(ctx, db, *name)
	if err != nil {
		return err
	}
	data, err := found.JSON()
	if *format == "csv" {
		data, err = found.CSV()
	}
	if err != nil {
		return err
	}
	_, err = p.stdout.Write(data)
	return err
}

// findMember gathers the data of the one member of that name.
func findMember(ctx context.Context, db *store.DB, name string) (found bot.Exported, err error) {
	matches := 0
	err = db.View(ctx, func(tx *store.Tx) error {
		teams, err := tx.Teams()
		if err != nil {
			return err
		}
		for _, team := range teams {
			roster, err := tx.Roster(team)
			if err != nil {
				return err
			}
			for _, member := range roster {
				if !strings.EqualFold(member.Name, name) {
					continue
				}
				matches++
				if found, err = bot.ExportOf(tx, programme.Builtin(), team, member); err != nil {
					return err
				}
			}
		}
		return nil
	})
	switch {
	case err != nil:
		return found, fmt.Errorf("export: %w", err)
	case matches == 0:
		return found, misuse("export: nobody is called %q; /coach roster lists the names", name)
	case matches > 1:
		return found, misuse("export: %d members are called %q; they can each ask for their own with /mydata export", matches, name)
	}
	return found, nil
}

// noWords reads flags alone.
func (p program) noWords(set *flag.FlagSet, args []string) error {
	words, err := p.flags(set, args)
	if err == nil && len(words) > 0 {
		err = misuse("%s: does not take %q; rungbook help lists what it takes", set.Name(), words[0])
	}
	return err
}

// oneWord reads flags and one word, which is named in the complaint.
func (p program) oneWord(set *flag.FlagSet, args []string, what string) (string, error) {
	words, err := p.flags(set, args)
	if err == nil && len(words) != 1 {
		err = misuse("%s: takes one %s, not %d", set.Name(), what, len(words))
	}
	if err != nil {
		return "", err
	}
	return words[0], nil
}

// backup writes a checked copy of the database while the bot runs.
func (p program) backup(ctx context.Context, args []string) (err error) {
	set := flag.NewFlagSet("backup", flag.ContinueOnError)
	path := p.databaseFlag(set)
	to, err := p.oneWord(set, args, "file to write to")
	if err != nil {
		return err
	}
	db, err := p.reading(ctx, *path)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	if err := db.Backup(ctx, to); err != nil {
		return err
	}
	fmt.Fprintf(p.stdout, "Backed up to %s and checked; its checksum is in %s.sha256. Keep copies of %s.key and %s.erased elsewhere: "+
		"they are not in it, and a restore needs both to leave out whoever was erased.\n", to, to, *path, *path)
	return nil
}

// restore makes a new database of a backup. The list of the erased beside the
// database says who was erased since, and so do databases to heed.
func (p program) restore(ctx context.Context, args []string) error {
	set := flag.NewFlagSet("restore", flag.ContinueOnError)
	path := p.databaseFlag(set)
	var what store.Restoration
	set.Func("heed", "", func(old string) error { what.Heed = append(what.Heed, old); return nil })
	set.BoolVar(&what.WithoutChecksum, "without-checksum", false, "")
	withoutKey := set.Bool("without-key", false, "")
	from, err := p.oneWord(set, args, "backup to restore")
	if err != nil {
		return err
	}
	what.From = from
	o := files(*path)
	o.WithoutKey = *withoutKey
	done, err := store.Restore(ctx, o, what)
	switch {
	case errors.Is(err, store.ErrKeyLost):
		return lostKey(err, "restore "+from)
	case errors.Is(err, store.ErrNoChecksum):
		return misuse("%w: put it beside the backup, or take the backup unproved: rungbook restore %s --without-checksum", err, from)
	case err != nil:
		return use{err}
	}
	p.tellOpening(*path, done.Opening)
	p.tellErased(o, done, what)
	return nil
}

// tellErased says who is left out of a restored database, and who cannot be.
func (p program) tellErased(o store.Options, done store.Restored, what store.Restoration) {
	by := what.Heed
	if done.List {
		by = append([]string{"the list " + o.ErasedFile}, by...)
	}
	if !done.GaveUpKey {
		by = append([]string{"the backup"}, by...)
	}
	fmt.Fprintf(p.stdout, "Restored to %s and checked. ", o.Path)
	if len(by) == 0 {
		fmt.Fprintln(p.stdout, "Without the old key nobody who was erased is kept out: "+
			"whoever was erased after the backup was made is in the database again, and can't be known.")
		return
	}
	fmt.Fprintf(p.stdout, "Left out is whoever was erased, as far as %s can tell.\n", strings.Join(by, ", "))
	if !done.List {
		fmt.Fprintf(p.stdout, "There is no list of the erased in %s, so who else was erased after the backup was made can't be known: "+
			"they are in the database again. If the list is found, put it there, and the next start heeds it. If the database from before "+
			"is found, move %s aside with its -wal, and restore again with --heed OLD-DATABASE.\n", o.ErasedFile, o.Path)
	}
}

// check looks at settings, programme and database, and prints what is sound
// and what is not, each fault with its mend.
func (p program) check(ctx context.Context, args []string) error {
	set := flag.NewFlagSet("check", flag.ContinueOnError)
	path := p.databaseFlag(set)
	file := set.String("programme", "", "")
	if err := p.noWords(set, args); err != nil {
		return err
	}
	report := report{out: p.stdout}
	p.checkSettings(&report)
	checkProgramme(&report, *file)
	p.checkDatabase(ctx, &report, *path)
	p.checkDiscord(ctx, &report, *path)
	if report.faults > 0 {
		return &faults{}
	}
	return nil
}

// report prints findings a line each and counts the faults.
type report struct {
	out    interface{ Write([]byte) (int, error) }
	faults int
}

func (r *report) sound(format string, values ...any) {
	fmt.Fprintf(r.out, "sound: "+format+"\n", values...)
}

func (r *report) fault(format string, values ...any) {
	r.faults++
	fmt.Fprintf(r.out, "fault: "+format+"\n", values...)
}

// checkSettings reports each setting of the environment that serve could not use.
func (p program) checkSettings(r *report) {
	before := r.faults
	if file := p.getenv("RUNGBOOK_TOKEN_FILE"); file != "" {
		if data, err := os.ReadFile(file); err != nil {
			r.fault("RUNGBOOK_TOKEN_FILE: %v: write the bot's token into that file", err)
		} else if strings.TrimSpace(string(data)) == "" {
			r.fault("RUNGBOOK_TOKEN_FILE: %s is empty: write the bot's token into it", file)
		}
		if p.getenv("RUNGBOOK_TOKEN") != "" {
			r.fault("RUNGBOOK_TOKEN and RUNGBOOK_TOKEN_FILE are both set: keep one")
		}
	}
	if api := p.getenv("RUNGBOOK_DISCORD_API"); api != "" {
		if at, err := url.Parse(api); err != nil || at.Host == "" || at.Scheme != "http" && at.Scheme != "https" {
			r.fault("RUNGBOOK_DISCORD_API: %q is no address: give one as https://host/api", api)
		}
	}
	if listen := p.getenv("RUNGBOOK_LISTEN"); listen != "" {
		if _, _, err := net.SplitHostPort(listen); err != nil {
			r.fault("RUNGBOOK_LISTEN: %v: give one as 127.0.0.1:8080", err)
		}
	}
	if level := p.getenv("RUNGBOOK_LOG"); level != "" {
		if err := new(slog.Level).UnmarshalText([]byte(level)); err != nil {
			r.fault("RUNGBOOK_LOG: %q is no level: debug, info, warn or error", level)
		}
	}
	if r.faults == before {
		r.sound("settings")
	}
}

func checkProgramme(r *report, file string) {
	plan, err := loadProgramme(file)
	if err != nil {
		for line := range strings.Lines(err.Error()) {
			r.fault("%s", strings.TrimSpace(line))
		}
		return
	}
	r.sound("programme %s, %d ladders, %d gates", plan.Name, len(plan.Ladders), len(plan.Gates))
}

// checkFolder looks whether a database can be made at the path.
func checkFolder(r *report, path string) {
	folder := filepath.Dir(path)
	if _, err := os.Stat(folder); err != nil {
		r.fault("no folder %s for the database: make it, or name another with --db or RUNGBOOK_DB", folder)
		return
	}
	probe, err := os.CreateTemp(folder, ".check-*")
	if err != nil {
		r.fault("the folder %s may not be written: give the bot the right to, or name another with --db or RUNGBOOK_DB", folder)
		return
	}
	if err := errors.Join(probe.Close(), os.Remove(probe.Name())); err != nil {
		r.fault("%v", err)
	}
	r.sound("no database at %s yet; it is made at the first start", path)
}

func (p program) checkDatabase(ctx context.Context, r *report, path string) {
	key, noKey := os.Stat(path + ".key")
	if _, err := os.Stat(path); errors.Is(err, os.ErrNotExist) && (noKey != nil || key.Size() != store.KeySize) {
		checkFolder(r, path)
		return
	}
	if noKey != nil || key.Size() != store.KeySize {
		r.fault("%s.key is missing or not %d bytes long: put back the one made with this database; %s", path, store.KeySize, keyGivenUp)
	} else if key.Mode().Perm()&0o077 != 0 {
		r.fault("%s.key may be read by others on this machine: chmod 600 it", path)
	}
	db, err := p.reading(ctx, path)
	if err != nil {
		r.fault("%v", err)
		return
	}
	if err := db.CheckErased(); err != nil {
		r.fault("%v", err)
	}
	found, err := db.Check(ctx)
	if err := errors.Join(err, db.Close()); err != nil {
		r.fault("%v", err)
	}
	for _, fault := range found {
		r.fault("%s: restore the latest backup with rungbook restore FILE", fault)
	}
	if err == nil && len(found) == 0 {
		r.sound("database %s", path)
	}
}
