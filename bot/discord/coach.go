package discord

import (
	"context"
	"errors"
	"fmt"
	"time"

	"rungbook/bot"
	"rungbook/bot/outbox"
	"rungbook/training"
)

// identity is what an event shows of its author: whether they hold the coach role,
// and their name in the server.
type identity struct {
	coach bool
	name  string
}

// seeAuthor writes down what an event shows of its author: that they have become a
// coach by the role, or are one no longer, so that what is said to coaches reaches
// them alone; and what a member is called now, so that no old name stands for
// somebody else. It is called in the team's queue.
func (a *Adapter) seeAuthor(ctx context.Context, team training.TeamID, author bot.Author, at time.Time) error {
	now := identity{author.Coach, author.Name}
	if a.memory.identityOf(team, author.ID) == now {
		return nil
	}
	gone := false
	err := a.store.Update(ctx, func(tx Tx) (err error) {
		gone, err = noteAuthor(tx, team, author, at)
		return err
	})
	if err != nil {
		return fmt.Errorf("note who an author is: %w", err)
	}
	if gone {
		if err := a.coachGone(ctx, team, author.ID); err != nil {
			return err
		}
	}
	a.memory.noteIdentity(team, author.ID, now)
	if author.Coach {
		a.step(ctx, team, bot.CoachAppeared{Team: team, Coach: author.ID, At: at}, nil)
	}
	return nil
}

// noteAuthor writes down what somebody is called, and that they are a coach by the
// role. A coach who is no member yet becomes one. gone reports whether they were one
// by the role and are not now, which is for the bot to write down.
func noteAuthor(tx Tx, team training.TeamID, author bot.Author, at time.Time) (gone bool, err error) {
	if blocked, err := tx.Blocked(author.ID); err != nil || blocked {
		return false, err
	}
	who, known, err := tx.Member(team, author.ID)
	if err != nil || !known && !author.Coach {
		return false, err
	}
	byRole, err := tx.CoachByRole(team, author.ID)
	if err != nil {
		return false, err
	}
	if !known {
		settled, _, err := tx.Team(team)
		if err != nil {
			return false, err
		}
		who = training.Member{ID: author.ID, Zone: settled.Zone, Since: at, Nudges: true}
	}
	appeared, renamed := author.Coach && !byRole, author.Name != "" && author.Name != who.Name
	if renamed {
		who.Name = author.Name
	}
	if appeared {
		who.Coach = true
	}
	if appeared || renamed {
		err = tx.PutMember(team, who)
	}
	if appeared && err == nil {
		err = tx.PutCoachByRole(team, author.ID, true)
	}
	return byRole && !author.Coach, err
}

// coachByHand makes a coach of an author whom /setup has named one. Whether they are
// one by the role must be written down.
func (a *Adapter) coachByHand(ctx context.Context, team training.TeamID, author *bot.Author) error {
	if author.Coach {
		return nil
	}
	return a.store.View(ctx, func(tx Tx) error {
		who, _, err := tx.Member(team, author.ID)
		author.Coach = who.Coach
		return err
	})
}

// coachGone tells the bot that somebody is no coach any more. It is called in the
// team's queue.
func (a *Adapter) coachGone(ctx context.Context, team training.TeamID, person training.PersonID) error {
	event := bot.CoachGone{Team: team, Coach: person, At: a.clock()}
	posts, err := a.bot.Step(ctx, event)
	if err != nil {
		return fmt.Errorf("note that somebody is no coach any more: %w", err)
	}
	a.memory.forgetCoaches(team)
	a.follow(ctx, team, event, posts, nil)
	return nil
}

// errNoCoach is why a post to a coach is not sent: they are none any more.
var errNoCoach = errors.New("no coach any more")

// coachHolds is how long the platform is taken at its word that somebody is a coach:
// what is said to one at once asks once.
const coachHolds = 20 * time.Second

// stillCoach reports whether somebody may be told what is for coaches, having asked
// the platform, which tells of no role taken away and nobody who has left. The error
// is for the outbox: errNoCoach, for good, for somebody who is not on the roster as a
// coach; else, to be tried again, where the platform can't be asked now, or says that
// they hold the role no longer or have left, which the bot is then told.
func (a *Adapter) stillCoach(ctx context.Context, team training.TeamID, person training.PersonID) error {
	coach, byRole := false, false
	err := a.store.View(ctx, func(tx Tx) error {
		who, _, err := tx.Member(team, person)
		if coach = who.Coach; err != nil || !coach {
			return err
		}
		byRole, err = tx.CoachByRole(team, person)
		return err
	})
	switch {
	case err != nil:
		return fmt.Errorf("read who is a coach: %v: %w", err, outbox.ErrUnsent)
	case !coach:
		return fmt.Errorf("%w: %w", outbox.ErrRefused, errNoCoach)
	case a.memory.coachLately(team, person, a.clock()):
		return nil
	}
	is, err := a.askCoach(ctx, team, person, byRole)
	if err != nil {
		return err
	}
	if !is {
		a.queues.add(a.work, queueKey{intakeQueue, snowflake(team)}, func(ctx context.Context) {
			a.report("take a coach off the roster", a.coachGone(ctx, team, person))
		})
		return fmt.Errorf("%w: %w", outbox.ErrUnsent, errNoCoach)
	}
	a.memory.noteCoach(team, person, a.clock())
	return nil
}

// askCoach asks the platform whether a coach is in the server, and still holds the
// role if they are one by it. The error is for the outbox: nothing was sent.
func (a *Adapter) askCoach(ctx context.Context, team training.TeamID, person training.PersonID, byRole bool) (is bool, err error) {
	at, _, err := a.teamChannelOf(ctx, team)
	if err != nil {
		return false, fmt.Errorf("read where a team is: %v: %w", err, outbox.ErrUnsent)
	}
	in, err := a.api.member(ctx, snowflake(team), snowflake(person))
	if err == nil && in.User.ID != snowflake(person) {
		err = errors.New("no member in the answer")
	}
	switch {
	case refusedFor(err, codeUnknownMember, codeUnknownUser):
		return false, nil
	case errors.As(err, new(*outbox.RateError)):
		return false, err
	case err != nil: // no refusal of the post: the outbox must not take it for one
		return false, fmt.Errorf("ask whether somebody is still a coach: %v: %w", err, outbox.ErrUnsent)
	}
	return !byRole || in.holds(at.coaches), nil
}

// tellEachCoach tells each coach of the team but one, 0 for none. One who cannot be
// told either finds it in the log.
func (a *Adapter) tellEachCoach(
	ctx context.Context, team training.TeamID, but training.PersonID, text string, nonce func(training.PersonID) string,
) {
	var coaches []training.PersonID
	err := a.store.View(ctx, func(tx Tx) error {
		roster, err := tx.Roster(team)
		for _, who := range roster {
			if who.Coach && who.ID != but {
				coaches = append(coaches, who.ID)
			}
		}
		return err
	})
	a.report("list coaches", err)
	for _, id := range coaches {
		if err := a.tellCoach(ctx, team, id, text, nonce(id)); err != nil {
			a.log.Warn("tell a coach what could not be said", "cause", err)
		}
	}
}

// tellCoach writes to one who still is a coach. Of a direct channel that this opens no
// note is kept: it may be about a pause.
func (a *Adapter) tellCoach(ctx context.Context, team training.TeamID, id training.PersonID, text, nonce string) error {
	if err := a.stillCoach(ctx, team, id); err != nil {
		return err
	}
	channel, err := a.directWith(ctx, id, false)
	if err != nil {
		return err
	}
	_, err = a.api.create(ctx, channel, body{Content: text, Mentions: nobody, Rows: []any{}, Nonce: nonce, Enforce: true})
	return err
}

// identityOf returns what of somebody was last written down; the zero value for
// nothing.
func (m *memory) identityOf(team training.TeamID, person training.PersonID) identity {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.authors[team][person]
}

// noteIdentity notes what of somebody was written down.
func (m *memory) noteIdentity(team training.TeamID, person training.PersonID, now identity) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.authors[team] == nil {
		m.authors[team] = map[training.PersonID]identity{}
	}
	m.authors[team][person] = now
}

// noteCoach notes that the platform has said that somebody is a coach.
func (m *memory) noteCoach(team training.TeamID, person training.PersonID, at time.Time) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.coachesAsked[team] == nil {
		m.coachesAsked[team] = map[training.PersonID]time.Time{}
	}
	m.coachesAsked[team][person] = at
}

// coachLately reports whether the platform said so within coachHolds.
func (m *memory) coachLately(team training.TeamID, person training.PersonID, now time.Time) bool {
	m.mu.Lock()
	defer m.mu.Unlock()
	asked, ever := m.coachesAsked[team][person]
	age := now.Sub(asked)
	return ever && age >= 0 && age < coachHolds
}

// forgetCoaches has it looked up anew who is a coach: their role is another, or
// somebody's was taken away.
func (m *memory) forgetCoaches(team training.TeamID) {
	m.mu.Lock()
	defer m.mu.Unlock()
	delete(m.authors, team)
	delete(m.coachesAsked, team)
}
