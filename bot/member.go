package bot

import (
	"errors"
	"slices"
	"strings"
	"time"

	"rungbook/bot/words"
	"rungbook/parser"
	"rungbook/training"
)

// gates answers /gates.
func gates(s *step, a args) error {
	who, err := a.seen("member")
	if err != nil {
		return err
	}
	return s.showGates(who)
}

func (s *step) showGates(who training.Member) error {
	record, err := s.tx.Record(s.team.ID, who.ID)
	if err != nil {
		return err
	}
	today := s.dayFor(who)
	facts := words.GatesFacts{Gates: s.programme.GateFacts(&record, today), Standing: s.standing(&record, today)}
	s.reply(ToPrivate, words.Gates(s.whose(who), today, facts), facts)
	return nil
}

// whose is the member's name, or empty for the author.
func (s *step) whose(who training.Member) string {
	if who.ID == s.who.ID {
		return ""
	}
	return who.Name
}

// history answers /history: what was logged, a line a day, newest first.
func history(s *step, a args) error {
	who, err := a.seen("member")
	if err != nil {
		return err
	}
	weeks, err := a.count("weeks", 4, 104)
	if err != nil {
		return err
	}
	record, err := s.tx.Record(s.team.ID, who.ID)
	if err != nil {
		return err
	}
	from := s.dayFor(who) - training.Day(7*weeks) + 1
	var lines []words.DayFacts
	for _, session := range slices.Backward(record.Sessions) {
		if session.Day >= from {
			lines = append(lines, words.DayFacts{Day: session.Day, Logged: s.together(session.Sets)})
		}
	}
	today := s.dayFor(who)
	load := words.Load(s.programme.Loads(&record, today), s.programme.EffortWeek(&record, today))
	s.reply(ToPrivate, words.History(s.whose(who), weeks, lines, load), nil)
	return nil
}

// away answers /away: the new stretch replaces those that run or are to come.
func away(s *step, a args) error {
	record, err := s.tx.Record(s.team.ID, s.who.ID)
	if err != nil {
		return err
	}
	today := s.today()
	past := pastAways(record.Aways, today)
	if a.has("what") {
		if len(past) == len(record.Aways) && !record.AwayOn(today) {
			return refuse(words.NotAway(today))
		}
		s.reply(ToPrivate, words.NoLongerAway, nil)
		return s.tx.PutAways(s.team.ID, s.who.ID, past)
	}
	date := s.date()
	if !a.has("until") {
		return refuse(words.SayUntil(date))
	}
	from, err := a.dayAhead("from", date, date)
	if err != nil {
		return err
	}
	until, err := a.dayAhead("until", max(from, date), 0)
	if err != nil {
		return err
	}
	if until < from || until < date || until-from > 366 {
		return refuse(words.NoStretch(from, until, date))
	}
	s.reply(ToPrivate, words.Away(from, until), nil)
	return s.tx.PutAways(s.team.ID, s.who.ID, append(past, training.Away{From: from, Until: until}))
}

// pastAways is the part of each stretch that lies before today.
func pastAways(aways []training.Away, today training.Day) []training.Away {
	var past []training.Away
	for _, away := range aways {
		away.Until = min(away.Until, today-1)
		if away.From <= away.Until {
			past = append(past, away)
		}
	}
	return past
}

// pauseCommand answers /pause and /pause end.
func pauseCommand(s *step, a args) error {
	if !s.who.Trains {
		return refuse(words.NothingToPause)
	}
	if first, _, _ := strings.Cut(a.text("what"), " "); first == "end" || first == "ends" {
		text, err := s.voidCause(0)
		if err != nil {
			return err
		}
		s.reply(ToPrivate, text, nil)
		return nil
	}
	first, err := s.tx.ActOnce(s.cause, actPause, s.now())
	if err != nil || !first {
		return err
	}
	set, err := s.pause(s.who, false)
	if err != nil {
		return err
	}
	s.replyTraceless(words.SelfPaused(s.programme.Work, set), pauseButtons(set)...)
	return s.tellCoaches(s.who, words.Paused(s.called(s.who), s.programme.Work, set.Again))
}

// me answers /me: the author's own settings.
func me(s *step, a args) error {
	if a.has("rejoin") {
		return s.rejoin()
	}
	who := s.who
	if a.has("zone") {
		zone, err := a.zone("zone")
		if err != nil {
			return err
		}
		who.Zone = zone
	}
	if a.has("nudges") {
		who.Nudges = a.text("nudges") == "on"
	}
	s.reply(ToPrivate, words.Settings(who), nil)
	if !a.has("zone") && !a.has("nudges") {
		return nil
	}
	return s.putMember(who)
}

// rejoin lifts the block that an erasure left: what was written before stays unread.
func (s *step) rejoin() error {
	blocked, err := s.tx.Blocked(s.who.ID)
	if err != nil {
		return err
	}
	if !blocked {
		return refuse(words.NotShutOut)
	}
	s.reply(ToPrivate, words.Rejoined, nil)
	return s.tx.Unblock(s.who.ID, s.at)
}

// mydata answers /mydata export and /mydata erase.
func mydata(s *step, a args) error {
	if a.text("what") == "erase" {
		s.reply(ToPrivate, words.ErasedNow, nil)
		s.erased = true
		return s.tx.Erase(s.who.ID)
	}
	asked, err := s.tx.AskedLogs(s.team.ID, s.who.ID, time.Time{})
	if err != nil {
		return err
	}
	all, err := ExportOf(s.tx, s.programme, s.team.ID, s.who)
	if err != nil {
		return err
	}
	whole, err := all.JSON()
	if err != nil {
		return err
	}
	sets, err := all.CSV()
	if err != nil {
		return err
	}
	s.reply(ToPrivate, words.Exported(len(all.Sessions), len(asked)), nil)
	s.posts[len(s.posts)-1].Files = []File{{"my-rungbook.json", whole}, {"my-rungbook-sets.csv", sets}}
	return nil
}

// logCommand answers /log: the author's own as a log in that place, a coach's
// for somebody else privately.
func logCommand(s *step, a args) error {
	who, err := a.member("member")
	if err != nil {
		return err
	}
	parsed, err := s.readSets(a.text("text"), who)
	if who.ID == s.who.ID && parsed.Care != "" && parsed.Verdict != parser.Log {
		return s.unlogged(parsed, err)
	}
	if err != nil {
		return err
	}
	if err := a.dates(&parsed, who); err != nil {
		return err
	}
	if who.ID != s.who.ID {
		return s.logFor(who, parsed)
	}
	if err := s.enrolOnLog(parsed, s.today()); err != nil {
		return err
	}
	if err := s.actOnPain(parsed.Care); err != nil {
		return err
	}
	return errors.Join(s.storeLog(parsed, s.today()), s.asksJoint(parsed.Care))
}

// unlogged acts on what the author says of their own body in a /log whose sets are
// not logged. It is no refusal, which would undo the pause.
func (s *step) unlogged(parsed parser.Result, refused error) error {
	if err := errors.Join(s.actOnPain(parsed.Care), s.asksJoint(parsed.Care)); err != nil {
		return err
	}
	switch {
	case parsed.Verdict == parser.Unsure:
		s.reply(s.audience(), s.unsure(parsed, words.AnswerRunes), nil)
	case len(s.posts) == 0: // asked before, or paused already
		s.reply(s.audience(), refused.Error(), nil)
	}
	return nil
}

// dates moves the sets to the day that the option names, if it is given, and
// refuses days to come.
func (a args) dates(parsed *parser.Result, who training.Member) error {
	if a.has("day") && len(parsed.Days) > 1 {
		return refuse(words.DaySaidTwice)
	}
	for i := range parsed.Days {
		day, err := a.day("day", who, parsed.Days[i].Day)
		if err != nil {
			return err
		}
		if day > a.step.dayFor(who) {
			return refuse(words.LogToCome(day))
		}
		parsed.Days[i].Day = day
	}
	return nil
}

// readSets reads the text of a command that must hold sets; what cannot be
// read whole is refused with the problem.
func (s *step) readSets(text string, who training.Member) (parser.Result, error) {
	clock := clockOf(s.at, who.Zone)
	clock.Addressed = true
	parsed := s.parser.Parse(text, clock)
	switch parsed.Verdict {
	case parser.Log:
		return parsed, nil
	case parser.Unsure:
		return parsed, refuse(s.unsure(parsed, words.AnswerRunes))
	}
	return parsed, refuse(words.NoSets(s.example()))
}
