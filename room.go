package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"rungbook/bot"
	"rungbook/bot/room"
	"rungbook/scheduler"
	"rungbook/training"
)

// roomTeam is the number of the local room's team.
const roomTeam training.TeamID = 1

// room runs the bot in a local room, with the live clock and no account
// anywhere. Without --db the demo team's record is thrown away at the end.
func (p program) room(ctx context.Context, args []string) error {
	set := flag.NewFlagSet("room", flag.ContinueOnError)
	path := set.String("db", "", "")
	if err := p.noWords(set, args); err != nil {
		return err
	}
	if *path == "" {
		dir, err := os.MkdirTemp("", "rungbook-room-")
		if err != nil {
			return fmt.Errorf("room: %w", err)
		}
		defer os.RemoveAll(dir)
		*path = filepath.Join(dir, "room.db")
	}
	sitting := room.New(room.Options{In: p.stdin, Out: p.stdout, Now: p.now})
	house, err := p.open(ctx, *path, sitting.Show)
	if err != nil {
		return err
	}
	defer house.Close()
	zone, err := p.furnish(ctx, house.Store)
	if err != nil {
		return err
	}
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	beats := make(chan time.Time)
	go scheduler.Ticker{Clock: p.now, Log: p.log(), Beat: func(at time.Time) {
		select {
		case beats <- at:
		case <-ctx.Done():
		}
	}}.Run(ctx)
	return sitting.Run(ctx, room.House{
		Bot: house.Bot, Outbox: house.Outbox, Team: roomTeam, Zone: zone, Beats: beats,
		People: func(ctx context.Context) ([]bot.Author, error) { return people(ctx, house.Store) },
	})
}

// furnish makes the demo team where the database has none, and returns the
// team's zone.
func (p program) furnish(ctx context.Context, store bot.Store) (zone *time.Location, err error) {
	err = store.Update(ctx, func(tx bot.Tx) error {
		team, ok, err := tx.Team(roomTeam)
		zone = team.Zone
		if err != nil || ok {
			return err
		}
		team, roster, err := demoTeam(p.now())
		if err != nil {
			return err
		}
		zone = team.Zone
		if err := tx.PutTeam(team); err != nil {
			return err
		}
		for _, member := range roster {
			if err := tx.PutMember(team.ID, member); err != nil {
				return err
			}
		}
		return nil
	})
	return zone, err
}

// demoTeam is Tidewater Rings. Nobody in it is a real person.
func demoTeam(now time.Time) (training.Team, []training.Member, error) {
	zone, err := time.LoadLocation("Europe/Lisbon")
	if err != nil {
		return training.Team{}, nil, err
	}
	team := training.Team{
		ID: roomTeam, Name: "Tidewater Rings", Zone: zone, Days: training.Weekdays(0).With(time.Monday).With(time.Thursday),
		Nudge: 17*60 + 30, DigestDay: time.Sunday, Digest: 18 * 60, Quiet: training.Quiet{From: 22 * 60, Until: 7 * 60},
	}
	var roster []training.Member
	for i, name := range []string{"Priya", "Tomé", "Wen", "Sanna", "Bako", "Mirela", "Ilda"} {
		member := training.Member{
			ID: training.PersonID(i + 1), Name: name, Zone: zone, Since: now,
			Joined: training.DayOf(now, zone), Trains: true, Nudges: true,
		}
		if name == "Ilda" {
			member.Trains, member.Coach, member.Joined = false, true, 0
		}
		roster = append(roster, member)
	}
	return team, roster, nil
}

// people lists who may speak in the room. Whoever coaches may manage it too:
// there is no server to ask.
func people(ctx context.Context, store bot.Store) (authors []bot.Author, err error) {
	err = store.View(ctx, func(tx bot.Tx) error {
		roster, err := tx.Roster(roomTeam)
		for _, member := range roster {
			authors = append(authors, bot.Author{
				ID: member.ID, Name: member.Name, Coach: member.Coach, Manager: member.Coach || member.Manager,
			})
		}
		return err
	})
	return authors, err
}
