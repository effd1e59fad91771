// Command rungbook is a chat bot that does the counting for a strength-skill
// coach. This file is the only one that names concrete types: it reads
// settings, builds everything and runs one command.
package main

import (
	"bufio"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"os"
	"os/signal"
	"strings"
	"syscall"
	"time"
	_ "time/tzdata" // zones on any machine

	"rungbook/bot"
	"rungbook/bot/outbox"
	"rungbook/bot/rehearsal"
	"rungbook/parser"
	"rungbook/store"
	"rungbook/training"
	"rungbook/training/programme"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	status := program{args: os.Args[1:], getenv: os.Getenv, stdin: os.Stdin, stdout: os.Stdout, stderr: os.Stderr, now: time.Now}.run(ctx)
	stop()
	os.Exit(status)
}

// Exit statuses.
const (
	statusDone   = 0
	statusFaults = 1 // it found faults
	statusUse    = 2 // wrong use
)

// program is one run of the binary, with the outside as values.
type program struct {
	args           []string
	getenv         func(string) string
	stdin          io.Reader
	stdout, stderr io.Writer
	now            func() time.Time
}

// use is an error of whoever typed the command.
type use struct{ error }

func (u use) Unwrap() error { return u.error }

func misuse(format string, values ...any) error { return use{fmt.Errorf(format, values...)} }

// run runs the command and returns the exit status. Errors go to stderr, one
// line that says what to do.
func (p program) run(ctx context.Context) int {
	err := p.command(ctx)
	if errors.Is(err, flag.ErrHelp) {
		_, err = io.WriteString(p.stdout, usage)
	}
	if err == nil {
		return statusDone
	}
	var found *faults
	if errors.As(err, &found) {
		return statusFaults
	}
	fmt.Fprintln(p.stderr, "rungbook:", strings.ReplaceAll(strings.TrimSpace(err.Error()), "\n", "; "))
	var wrong use
	if errors.As(err, &wrong) {
		return statusUse
	}
	return statusFaults
}

// faults says that the command did its work and printed what it found.
type faults struct{}

func (*faults) Error() string { return "faults found" }

const usage = `Rungbook does the counting for a strength-skill coach in a team channel.

  rungbook rehearse [FILE or -] [--json] [--db FILE]
                                   plays a chat transcript on a simulated clock;
                                   with no FILE, the built-in weeks
  rungbook serve [--without-key]   the bot on Discord
  rungbook room [--db FILE]        the bot in a local room, with a live clock
  rungbook parse [--day YYYY-MM-DD] [--programme FILE]
                                   reads one message a line, writes one JSON line each
  rungbook check [--programme FILE]
                                   looks at settings, programme and database
  rungbook export --member NAME [--format json or csv]
                                   what is kept of somebody
  rungbook backup FILE             a checked copy, while the bot runs, and FILE.sha256
  rungbook health                  asks a running bot how it is
  rungbook restore FILE [--heed OLD-DATABASE] [--without-checksum] [--without-key]
                                   a new database from a backup, without whoever was
                                   erased: those the backup names, those on the list
                                   beside the database, those a further one names

The database is --db FILE, else RUNGBOOK_DB, else rungbook.db. Beside it lie its
key, FILE.key, and the list of the erased, FILE.erased; where the key is lost,
--without-key gives up what it guards and goes on with a new one. The environment
also holds RUNGBOOK_TOKEN or RUNGBOOK_TOKEN_FILE, RUNGBOOK_DISCORD_API,
RUNGBOOK_LISTEN (health and metrics, as 127.0.0.1:8080) and RUNGBOOK_LOG.
`

// command runs the command that the first argument names.
func (p program) command(ctx context.Context) error {
	if len(p.args) == 0 {
		return misuse("say what to do, as rungbook rehearse; rungbook help lists what there is")
	}
	name, rest := p.args[0], p.args[1:]
	switch name {
	case "rehearse":
		return p.rehearse(ctx, rest)
	case "parse":
		return p.parse(rest)
	case "serve":
		return p.serve(ctx, rest)
	case "health":
		return p.health(ctx, rest)
	case "room":
		return p.room(ctx, rest)
	case "check":
		return p.check(ctx, rest)
	case "export":
		return p.export(ctx, rest)
	case "backup":
		return p.backup(ctx, rest)
	case "restore":
		return p.restore(ctx, rest)
	case "help", "-h", "--help":
		_, err := io.WriteString(p.stdout, usage)
		return err
	}
	return misuse("no command %q here; rungbook help lists what there is", name)
}

// flags reads the command's flags from wherever they stand among its words and
// returns the other words.
func (p program) flags(set *flag.FlagSet, args []string) ([]string, error) {
	set.SetOutput(io.Discard)
	var words []string
	for {
		if err := set.Parse(args); err != nil {
			return nil, misuse("%s: %w; rungbook help lists what it takes", set.Name(), err)
		}
		args = set.Args()
		if len(args) == 0 {
			return words, nil
		}
		words, args = append(words, args[0]), args[1:]
	}
}

func (p program) parse(args []string) error {
	set := flag.NewFlagSet("parse", flag.ContinueOnError)
	day := set.String("day", "2026-11-25", "")
	file := set.String("programme", "", "")
	words, err := p.flags(set, args)
	if err != nil {
		return err
	}
	if len(words) > 0 {
		return misuse("parse: takes messages on stdin, not %q", words[0])
	}
	today, err := training.ParseDay(*day)
	if err != nil {
		return misuse("parse: --day: %w", err)
	}
	plan, err := loadProgramme(*file)
	if err != nil {
		return err
	}
	return parseLines(plan, today, p.stdin, p.stdout)
}

// parseLines reads one message a line and writes what it says, a line each.
func parseLines(plan *training.Programme, today training.Day, in io.Reader, out io.Writer) error {
	reader, from, to := parser.New(plan), bufio.NewReader(in), bufio.NewWriter(out)
	for {
		line, err := from.ReadString('\n')
		if line == "" && err == io.EOF {
			return to.Flush()
		}
		if err != nil && err != io.EOF {
			return fmt.Errorf("parse: read messages: %w", err)
		}
		text := strings.ReplaceAll(strings.TrimRight(line, "\r\n"), `\n`, "\n")
		answer, err := reader.Parse(text, parser.Context{Today: today}).JSON(plan, text)
		if err != nil {
			return fmt.Errorf("parse: %w", err)
		}
		if _, err := to.Write(append(answer, '\n')); err != nil {
			return fmt.Errorf("parse: %w", err)
		}
	}
}

func loadProgramme(file string) (*training.Programme, error) {
	if file == "" {
		return programme.Builtin(), nil
	}
	data, err := os.ReadFile(file)
	if err != nil {
		return nil, misuse("read programme: %w: name a file that is there", err)
	}
	plan, err := programme.Load(file, data)
	if err != nil {
		return nil, use{err}
	}
	return plan, nil
}

func (p program) rehearse(ctx context.Context, args []string) error {
	set := flag.NewFlagSet("rehearse", flag.ContinueOnError)
	asJSON := set.Bool("json", false, "")
	database := set.String("db", "", "")
	words, err := p.flags(set, args)
	if err != nil {
		return err
	}
	if len(words) > 1 {
		return misuse("rehearse: takes one transcript, not %d", len(words))
	}
	transcript, err := p.transcript(words)
	if err != nil {
		return use{err}
	}
	out := bufio.NewWriter(p.stdout)
	scribe := rehearsal.NewText(out, transcript)
	if *asJSON {
		scribe = rehearsal.NewJSON(out, transcript)
	}
	err = rehearsal.Play(ctx, rehearsal.Options{Transcript: transcript, Open: p.open, DB: *database, Scribe: scribe})
	return errors.Join(err, out.Flush())
}

// transcript reads the one named, - for stdin, or the built-in weeks.
func (p program) transcript(words []string) (*rehearsal.Transcript, error) {
	if len(words) == 0 {
		return rehearsal.Tidewater(), nil
	}
	name := words[0]
	if name == "-" {
		data, err := io.ReadAll(p.stdin)
		if err != nil {
			return nil, fmt.Errorf("read transcript: %w", err)
		}
		return rehearsal.Parse("stdin", data)
	}
	data, err := os.ReadFile(name)
	if err != nil {
		return nil, fmt.Errorf("read transcript: %w: name one that is there, or - for stdin", err)
	}
	return rehearsal.Parse(name, data)
}

// open puts the bot to work on a database whose posts are shown by show.
func (p program) open(ctx context.Context, path string, show func(bot.Post) error) (*rehearsal.House, error) {
	db, err := store.Open(ctx, files(path))
	if errors.Is(err, store.ErrKeyLost) {
		return nil, misuse("%w: put back the one made with it, or name another database", err)
	}
	if err != nil {
		return nil, use{err}
	}
	kept := store.As[bot.Tx]{DB: db}
	return &rehearsal.House{
		Bot:    bot.New(bot.Options{Store: kept, Programme: programme.Builtin(), Programmes: programme.Library{}, Log: p.log()}),
		Store:  kept,
		Outbox: outbox.New(db).To(outbox.Screen(show)),
		Close:  db.Close,
	}, nil
}

// log is where the bot's own faults go.
func (p program) log() *slog.Logger {
	var level slog.Level
	if err := level.UnmarshalText([]byte(p.getenv("RUNGBOOK_LOG"))); err != nil {
		level = slog.LevelInfo
	}
	return slog.New(slog.NewTextHandler(p.stderr, &slog.HandlerOptions{Level: level}))
}
