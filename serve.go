package main

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"strings"
	"time"

	_ "golang.org/x/crypto/x509roots/fallback" // certificates in an image that has none

	"rungbook/bot"
	"rungbook/bot/discord"
	"rungbook/bot/outbox"
	"rungbook/scheduler"
	"rungbook/store"
	"rungbook/training/programme"
)

// deaf is how long the bot may hear nothing before it is called unwell.
const deaf = 5 * time.Minute

// serve runs the bot on Discord until a signal.
func (p program) serve(ctx context.Context, args []string) (err error) {
	set := flag.NewFlagSet("serve", flag.ContinueOnError)
	path := p.databaseFlag(set)
	withoutKey := set.Bool("without-key", false, "")
	if err := p.noWords(set, args); err != nil {
		return err
	}
	token, err := p.token()
	if err != nil {
		return err
	}
	o := files(*path)
	o.WithoutKey = *withoutKey
	db, err := store.Open(ctx, o)
	if errors.Is(err, store.ErrKeyLost) {
		return lostKey(err, "serve")
	}
	if err != nil {
		return use{err}
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	p.tellOpening(*path, db.Opening())
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	adapter, core, err := p.onDiscord(token, db, stop)
	if err != nil {
		return use{err}
	}
	ends, err := p.listen(adapter)
	if err != nil {
		return err
	}
	defer ends()
	ticking := make(chan struct{})
	go func() {
		defer close(ticking)
		p.ticker(adapter, core).Run(ctx)
	}()
	err = served(ctx, adapter.Run(ctx))
	stop(nil)
	<-ticking
	return err
}

// onDiscord builds the bot and its adapter on the database. stop ends the
// process when the disk can no longer be trusted.
func (p program) onDiscord(token string, db *store.DB, stop context.CancelCauseFunc) (*discord.Adapter, *bot.Bot, error) {
	log := p.log()
	core := bot.New(bot.Options{Store: store.As[bot.Tx]{DB: db}, Programme: programme.Builtin(), Programmes: programme.Library{}, Log: log})
	adapter, err := discord.New(discord.Options{
		Token: token, API: p.getenv("RUNGBOOK_DISCORD_API"), Bot: stopOnUnsure{core, stop}, Store: store.As[discord.Tx]{DB: db},
		Programme: programme.Builtin(), Import: core.Import, Scrub: db.Scrub, Log: log, Clock: p.now,
		Outbox: outbox.New(db, outbox.WithClock(p.now), outbox.WithWidth(32)),
	})
	return adapter, core, err
}

// ticker beats for the adapter and keeps house once a day.
func (p program) ticker(adapter *discord.Adapter, core *bot.Bot) scheduler.Ticker {
	log := p.log()
	return scheduler.Ticker{
		Clock: p.now, Log: log,
		Beat: func(at time.Time) { adapter.Beat(context.Background(), at) },
		Daily: func(at time.Time) {
			if err := core.Housekeep(context.Background(), at); err != nil {
				log.Error("housekeeping", "cause", err)
			}
		},
	}
}

// served is how a run on Discord ended: by a signal, by settings that have to
// be mended, or by a disk that is not to be trusted.
func served(ctx context.Context, err error) error {
	if discord.Final(err) {
		return use{err}
	}
	if cause := context.Cause(ctx); err == nil && errors.Is(cause, store.ErrUnsure) {
		return cause
	}
	return err
}

// stopOnUnsure ends the process when the disk did not confirm a write: what is in
// memory can no longer be squared with what is kept.
type stopOnUnsure struct {
	*bot.Bot
	stop context.CancelCauseFunc
}

func (s stopOnUnsure) Step(ctx context.Context, event bot.Event) ([]bot.Post, error) {
	posts, err := s.Bot.Step(ctx, event)
	if errors.Is(err, store.ErrUnsure) {
		s.stop(err)
	}
	return posts, err
}

// token reads the bot's token from the environment or the file it names.
func (p program) token() (string, error) {
	token := p.getenv("RUNGBOOK_TOKEN")
	if file := p.getenv("RUNGBOOK_TOKEN_FILE"); file != "" && token == "" {
		data, err := os.ReadFile(file)
		if err != nil {
			return "", misuse("RUNGBOOK_TOKEN_FILE: %w: write the bot's token into that file", err)
		}
		token = string(data)
	}
	if token = strings.TrimSpace(token); token == "" {
		return "", misuse("serve: no token: put the bot's token into a file and name it in RUNGBOOK_TOKEN_FILE")
	}
	return token, nil
}

// listen serves health and metrics where RUNGBOOK_LISTEN says, if it does.
func (p program) listen(adapter *discord.Adapter) (end func(), err error) {
	address := p.getenv("RUNGBOOK_LISTEN")
	if address == "" {
		return func() {}, nil
	}
	listener, err := net.Listen("tcp", address)
	if err != nil {
		return nil, misuse("RUNGBOOK_LISTEN: %w", err)
	}
	server := &http.Server{Handler: p.watch(adapter.Health), ReadHeaderTimeout: 5 * time.Second}
	go func() {
		if err := server.Serve(listener); !errors.Is(err, http.ErrServerClosed) {
			p.log().Error("health", "cause", err)
		}
	}()
	return func() { server.Close() }, nil
}

// watch answers /health and /metrics.
func (p program) watch(health func() discord.Health) http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /health", func(w http.ResponseWriter, _ *http.Request) {
		now := health()
		well := now.Well(p.now(), deaf)
		w.Header().Set("Content-Type", "application/json")
		if !well {
			w.WriteHeader(http.StatusServiceUnavailable)
		}
		json.NewEncoder(w).Encode(struct {
			Well      bool      `json:"well"`
			Connected bool      `json:"connected"`
			Since     time.Time `json:"since,omitzero"`
			LastHeard time.Time `json:"last_heard,omitzero"`
		}{well, now.Connected, now.Since, now.Active})
	})
	mux.HandleFunc("GET /metrics", func(w http.ResponseWriter, _ *http.Request) {
		now := health()
		connected := 0
		if now.Connected {
			connected = 1
		}
		w.Header().Set("Content-Type", "text/plain; version=0.0.4")
		fmt.Fprintf(w, "# TYPE rungbook_connected gauge\nrungbook_connected %d\n", connected)
		if !now.Active.IsZero() {
			fmt.Fprintf(w, "# TYPE rungbook_last_heard_seconds gauge\nrungbook_last_heard_seconds %d\n", now.Active.Unix())
		}
	})
	return mux
}

// health asks a running bot how it is.
func (p program) health(ctx context.Context, args []string) error {
	set := flag.NewFlagSet("health", flag.ContinueOnError)
	if err := p.noWords(set, args); err != nil {
		return err
	}
	address := p.getenv("RUNGBOOK_LISTEN")
	if address == "" {
		return misuse("health: RUNGBOOK_LISTEN is not set: give the bot and this command the same, as 127.0.0.1:8080")
	}
	ctx, cancel := context.WithTimeout(ctx, 5*time.Second)
	defer cancel()
	ask, err := http.NewRequestWithContext(ctx, http.MethodGet, "http://"+address+"/health", nil)
	if err != nil {
		return misuse("health: %w", err)
	}
	answer, err := http.DefaultClient.Do(ask)
	if err != nil {
		return fmt.Errorf("health: nobody answers at %s: is the bot running?", address)
	}
	defer answer.Body.Close()
	if _, err := io.Copy(p.stdout, answer.Body); err != nil {
		return fmt.Errorf("health: %w", err)
	}
	if answer.StatusCode != http.StatusOK {
		return &faults{}
	}
	return nil
}

// checkDiscord asks the platform what the bot may do, where there is a token.
func (p program) checkDiscord(ctx context.Context, r *report, path string) {
	token, err := p.token()
	if err != nil {
		r.sound("no token, so nothing is asked of Discord")
		return
	}
	if _, err := os.Stat(path); err != nil {
		r.sound("no team yet, so nothing is asked of Discord")
		return
	}
	db, err := p.reading(ctx, path)
	if err != nil {
		return // told already
	}
	defer db.Close()
	quiet := p
	quiet.stderr = io.Discard
	adapter, _, err := quiet.onDiscord(token, db, func(error) {})
	if err == nil {
		err = adapter.CheckPermissions(ctx)
	}
	var lacks *discord.PermissionError
	switch {
	case errors.As(err, &lacks):
		for _, line := range lacks.Lines {
			r.fault("%s", line)
		}
	case err != nil:
		r.fault("%v", err)
	default:
		r.sound("permissions on Discord")
	}
}
