package discord

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"rungbook/bot"
	"rungbook/bot/slash"
	"rungbook/bot/words"
	"rungbook/training"
)

// choiceHolds is how long somebody of several teams is taken at their word
// which of them they talk to.
const choiceHolds = 12 * time.Hour

// direct meets what somebody says to the bot alone, in that person's queue.
func (a *Adapter) direct(ctx context.Context, m message, edit bool) {
	what := created
	if edit {
		what = changed
	}
	if !a.memory.meet(m.Channel, m.ID, what) {
		return
	}
	a.report("take a direct message in", a.toTeam(ctx, m, edit))
}

// toTeam hands what somebody said to the bot alone to the team it is for, or asks
// which that is. An edit goes to the team that took the message in.
func (a *Adapter) toTeam(ctx context.Context, m message, edit bool) error {
	person := training.PersonID(m.Author.ID)
	if edit {
		team, _, ok, err := a.sourceOf(ctx, m.ID)
		if err != nil {
			return err
		}
		if ok {
			return a.forTeam(team, m, edit)
		}
	}
	if err := a.noteDirect(ctx, person, m.Channel); err != nil {
		return err
	}
	team, ok, err := a.teamOf(ctx, person, timeOf(m.ID))
	switch {
	case err != nil:
		return err
	case ok:
		return a.forTeam(team, m, edit)
	case team == 0:
		return a.sayAlone(ctx, m, words.NoTeamKnown, nil)
	}
	return a.undecided(ctx, team, m)
}

// undecided meets what somebody of several teams says before they have told
// which one it is for: what can't wait is acted on, the rest is asked about.
func (a *Adapter) undecided(ctx context.Context, team training.TeamID, m message) error {
	author := authorOf(*m.Author, nil, 0)
	said := a.message(m, team, bot.Private, author)
	said.Redelivered = m.redelivered
	posts, ask, err := a.bot.BeforeTeamChosen(ctx, said)
	if len(posts) > 0 {
		a.follow(ctx, team, said, posts, &origin{source: said.ID, channel: m.Channel, direct: true})
	}
	if err != nil || !ask {
		return err
	}
	return a.askTeam(ctx, m)
}

// missedAlone meets what somebody of several teams said to the bot alone while it
// was away. It reaches the bot once, with the first of their teams.
func (a *Adapter) missedAlone(ctx context.Context, team training.TeamID, m message, now time.Time) {
	first, chosen, err := a.teamOf(ctx, training.PersonID(m.Author.ID), now)
	a.report("ask whose a direct message is", err)
	if err != nil || chosen || first != team || !a.memory.meet(m.Channel, m.ID, created) {
		return
	}
	a.queues.add(a.work, queueKey{directQueue, m.Author.ID}, func(ctx context.Context) {
		a.report("take a direct message in", a.undecided(ctx, team, m))
	})
}

// replied reports whether the bot has replied to the message.
func (r *channelHistory) replied(to, me snowflake) bool {
	return slices.ContainsFunc(r.history, func(m message) bool {
		return m.Author != nil && m.Author.ID == me && m.Reference != nil && m.Reference.Message == to
	})
}

// teamOf is the team that a person's direct messages are for: their only one,
// or the one they chose. Without either ok is false, and team is any of theirs,
// 0 for somebody of none.
func (a *Adapter) teamOf(ctx context.Context, person training.PersonID, now time.Time) (team training.TeamID, ok bool, err error) {
	err = a.store.View(ctx, func(tx Tx) error {
		teams, err := tx.TeamsOf(person)
		if err != nil || len(teams) == 0 {
			return err
		}
		team, ok = teams[0], len(teams) == 1
		if ok {
			return nil
		}
		chosen, has, err := tx.Choice(person, now)
		if has {
			team, ok = chosen, true
		}
		return err
	})
	return team, ok, err
}

// forTeam puts a direct message into its team's queue, behind what was said
// before it and is still to be read.
func (a *Adapter) forTeam(team training.TeamID, m message, edit bool) error {
	if err := a.reads.await(a.reading, team); err != nil {
		return err
	}
	a.queues.add(a.work, queueKey{intakeQueue, snowflake(team)}, func(ctx context.Context) {
		author, err := a.authorAlone(ctx, team, *m.Author, slash.IsCommand(m.Content))
		if err == nil {
			err = a.take(ctx, team, m, edit, bot.Private, author)
		}
		a.report("take a direct message in", err)
	})
	return nil
}

// authorAlone is who speaks to the bot alone. Their roles do not come with the
// event: where they matter the platform is asked.
func (a *Adapter) authorAlone(ctx context.Context, team training.TeamID, u user, roles bool) (bot.Author, error) {
	author := authorOf(u, nil, 0)
	if !roles {
		return author, nil
	}
	at, _, err := a.teamChannelOf(ctx, team)
	if err != nil {
		return author, err
	}
	in, err := a.api.member(ctx, snowflake(team), u.ID)
	switch {
	case refusedFor(err, codeUnknownMember, codeUnknownUser): // no longer there: no role
		return author, a.coachGone(ctx, team, author.ID)
	case refusedFor(err, codeUnknownGuild, codeNoAccess):
		return author, nil
	case err != nil:
		return author, fmt.Errorf("ask for somebody's roles: %w", err)
	}
	author = authorOf(u, in, at.coaches)
	if author.Manager, err = a.manages(ctx, snowflake(team), in.Roles, u.ID); err != nil {
		return author, err
	}
	if err := a.seeAuthor(ctx, team, author, a.clock()); err != nil {
		return author, err
	}
	return author, a.coachByHand(ctx, team, &author)
}

// askTeam asks somebody of several teams which one they mean; what they said
// waits for the answer.
func (a *Adapter) askTeam(ctx context.Context, m message) error {
	a.memory.mu.Lock()
	waiting := a.memory.undecided[m.Author.ID]
	a.memory.undecided[m.Author.ID] = append(waiting, m)
	a.memory.mu.Unlock()
	if len(waiting) > 0 {
		return nil // asked already
	}
	var row []any
	err := a.store.View(ctx, func(tx Tx) error {
		teams, err := tx.TeamsOf(training.PersonID(m.Author.ID))
		if err != nil {
			return err
		}
		for _, id := range teams {
			team, _, err := tx.Team(id)
			if err != nil {
				return err
			}
			row = append(row, button(clip(team.Name, 80), fmt.Sprintf("team:%d", id)))
		}
		return nil
	})
	if err != nil {
		return err
	}
	var rows []any
	for len(row) > 0 {
		n := min(len(row), mostInRow)
		rows, row = append(rows, actionRow(row[:n])), row[n:]
	}
	return a.sayAlone(ctx, m, words.WhichTeam, rows)
}

// sayAlone answers somebody alone in words of the adapter's own.
func (a *Adapter) sayAlone(ctx context.Context, m message, text string, rows []any) error {
	if rows == nil {
		rows = []any{}
	}
	_, err := a.api.create(ctx, m.Channel, body{
		Content: text, Mentions: nobody, Rows: rows, Reference: &replyTo{Message: m.ID}, Nonce: "d" + m.ID.String(), Enforce: true,
	})
	if refusedFor(err, codeClosed, codeClosedToo) {
		return nil
	}
	return err
}

// meetButtonAlone meets a button where somebody is alone with the bot.
func (a *Adapter) meetButtonAlone(ctx context.Context, i *interaction, o *origin) error {
	if i.User == nil {
		return nil
	}
	if word, id, _ := strings.Cut(i.Data.CustomID, ":"); word == "team" {
		return a.choose(ctx, i, training.TeamID(number(id)), o)
	}
	tap, ok := readTap(i.Data.CustomID)
	if !ok {
		o.tell(ctx, a, words.ButtonIsOver)
		return nil
	}
	a.queues.add(a.work, queueKey{intakeQueue, snowflake(tap.Team)}, func(ctx context.Context) {
		author, err := a.authorAlone(ctx, tap.Team, *i.User, true)
		if err != nil {
			a.report("meet a button", err)
			o.tell(ctx, a, words.ServerFault)
			return
		}
		tap.ID, tap.Author, tap.Place, tap.At = training.MessageID(i.ID), author, bot.Private, timeOf(i.ID)
		a.step(ctx, tap.Team, tap, o)
	})
	return nil
}

// choose keeps which team somebody means, and takes in what waited for it.
func (a *Adapter) choose(ctx context.Context, i *interaction, team training.TeamID, o *origin) error {
	person := training.PersonID(i.User.ID)
	name, mine := "", false
	err := a.store.Update(ctx, func(tx Tx) error {
		if _, known, err := tx.Member(team, person); err != nil || !known {
			return err
		}
		settled, _, err := tx.Team(team)
		if err != nil {
			return err
		}
		name, mine = settled.Name, true
		return tx.PutChoice(person, team, timeOf(i.ID).Add(choiceHolds))
	})
	if err != nil {
		return err
	}
	if !mine {
		o.tell(ctx, a, words.NoTeamOfYours)
		return nil
	}
	o.tell(ctx, a, words.TeamChosen(name))
	a.memory.mu.Lock()
	waiting := a.memory.undecided[i.User.ID]
	delete(a.memory.undecided, i.User.ID)
	a.memory.mu.Unlock()
	var errs []error
	for _, one := range waiting {
		errs = append(errs, a.forTeam(team, one, false))
	}
	return errors.Join(errs...)
}

// directSpace is the least time between two direct channels opened: the
// platform takes many at once for spam.
const directSpace = 500 * time.Millisecond

// directWith is where somebody and the bot are alone; it is opened where it is not
// known, and then kept if that is asked. Its number tells when it was opened first,
// which may be for a notice of a pause.
func (a *Adapter) directWith(ctx context.Context, person training.PersonID, keep bool) (snowflake, error) {
	var id int64
	var known bool
	err := a.store.View(ctx, func(tx Tx) (err error) {
		id, known, err = tx.Direct(person)
		return err
	})
	if err != nil || known {
		return snowflake(id), err
	}
	opened, err := a.openDirect(ctx, snowflake(person))
	if err != nil || !keep {
		return opened, err
	}
	return opened, a.noteDirect(ctx, person, opened)
}

// openDirect opens where somebody and the bot are alone, once a process.
func (a *Adapter) openDirect(ctx context.Context, person snowflake) (snowflake, error) {
	a.memory.mu.Lock()
	opened, known := a.memory.opened[person]
	a.memory.mu.Unlock()
	if known {
		return opened, nil
	}
	if err := a.api.limiter.waitFor(ctx, a.directs); err != nil {
		return 0, err
	}
	opened, err := a.api.openDirect(ctx, person)
	if err != nil {
		return 0, err
	}
	a.memory.mu.Lock()
	defer a.memory.mu.Unlock()
	a.memory.opened[person] = opened
	return opened, nil
}

func (a *Adapter) noteDirect(ctx context.Context, person training.PersonID, id snowflake) error {
	return a.store.Update(ctx, func(tx Tx) error { return tx.PutDirect(person, int64(id)) })
}
