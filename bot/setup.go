package bot

import (
	"errors"
	"slices"
	"strings"
	"time"

	"rungbook/bot/words"
	"rungbook/training"
)

// earliest is the first minute of the day at which a nudge or digest may be set.
const earliest = training.Clock(training.DayStart * 60)

// setup answers /setup: what is named is settled, the rest stays.
func setup(s *step, a args) error {
	team := s.team
	var err error
	if a.has("zone") {
		if team.Zone, err = a.zone("zone"); err != nil {
			return err
		}
	}
	if a.has("days") {
		if team.Days, err = training.ParseWeekdays(a.text("days")); err != nil {
			return refuse(words.NoDays(a.text("days"), `days:"Mon Thu"`))
		}
	}
	if a.has("nudge") {
		if team.Nudge, err = a.postTime("nudge", a.text("nudge")); err != nil {
			return err
		}
	}
	if a.has("digest") {
		if team.DigestDay, team.Digest, err = a.digestTime(); err != nil {
			return err
		}
	}
	text := words.Setup(team, s.programme)
	if a.has("coach") {
		coach, err := s.personNamed(a.text("coach"))
		if err != nil {
			return err
		}
		text += "\n" + words.IsCoach(coach.Name)
	}
	s.reply(ToPrivate, text, nil)
	if err := errors.Join(s.tx.PutTeam(team), s.moveWith(team.Zone)); err != nil {
		return err
	}
	if a.has("coach") {
		return s.appoint(a.text("coach"))
	}
	return nil
}

// moveWith takes everyone who lives by the team's clock along to its new zone.
func (s *step) moveWith(zone *time.Location) error {
	if zone.String() == s.team.Zone.String() {
		return nil
	}
	for _, member := range slices.Clone(s.roster) {
		if member.Zone.String() != s.team.Zone.String() {
			continue
		}
		member.Zone = zone
		if err := s.putMember(member); err != nil {
			return err
		}
	}
	return nil
}

// appoint makes somebody a coach, and tells them what waited for one.
func (s *step) appoint(name string) error {
	who, err := s.personNamed(name)
	if err != nil {
		return err
	}
	if err := s.mayKeep(who); err != nil {
		return err
	}
	who.Coach = true
	if who.Since.IsZero() {
		who.Since = s.at
	}
	if err := s.putMember(who); err != nil {
		return err
	}
	return s.tellWaiting(who)
}

// digestTime reads a weekday and a time: Sun 18:00.
func (a args) digestTime() (time.Weekday, training.Clock, error) {
	day, at, _ := strings.Cut(strings.TrimSpace(a.text("digest")), " ")
	weekday, err := training.ParseWeekday(day)
	if err != nil {
		return 0, 0, refuse(words.NoDigestTime(a.text("digest")))
	}
	clock, err := a.postTime("digest", strings.TrimSpace(at))
	return weekday, clock, err
}

// postTime reads a time at which something may be said unasked.
func (a args) postTime(name, value string) (training.Clock, error) {
	clock, err := training.ParseClock(value)
	if err != nil || clock < earliest {
		return 0, refuse(words.NoPostTime(name, earliest, value))
	}
	return clock, nil
}
