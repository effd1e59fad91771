package bot

import (
	"slices"
	"strings"

	"rungbook/bot/words"
	"rungbook/parser"
	"rungbook/training"
)

// witnessDays is how many days back a coach may witness a gate.
const witnessDays = 7

// rosterCommand answers /coach roster: everyone, a line each.
func rosterCommand(s *step, _ args) error {
	weeks, err := s.week(s.today())
	if err != nil {
		return err
	}
	facts, roster := weekFacts(weeks), slices.Clone(s.roster)
	for i := range roster {
		roster[i].Name = s.called(roster[i])
	}
	s.reply(ToPrivate, words.Roster(roster, facts), facts)
	return nil
}

// witness answers /coach witness.
func witness(s *step, a args) error {
	who, gate, err := a.memberAndGate()
	if err != nil {
		return err
	}
	day, err := a.day("day", who, s.dayFor(who))
	if err != nil {
		return err
	}
	return s.witness(who, gate, day)
}

func (a args) memberAndGate() (training.Member, training.Gate, error) {
	who, err := a.trainee("member")
	if err != nil {
		return who, training.Gate{}, err
	}
	gate, err := a.gate("gate")
	return who, gate, err
}

// witness marks a gate as seen and answers.
func (s *step) witness(who training.Member, gate training.Gate, day training.Day) error {
	if err := s.notOneself(who, words.OthersWitness); err != nil {
		return err
	}
	record, err := s.tx.Record(s.team.ID, who.ID)
	if err != nil {
		return err
	}
	today := s.dayFor(who)
	switch {
	case day > today || day < today-witnessDays:
		return refuse(words.NotWitnessed(day, witnessDays))
	case day < record.Floor(today):
		return refuse(words.BeforePause(day, who.Name))
	}
	if err := s.tx.PutMark(s.team.ID, who.ID, training.Mark{Gate: gate.Rung, Day: day}, s.who.ID); err != nil {
		return err
	}
	s.reply(ToPrivate, words.Witnessed(who.Name, s.programme.NameOf(gate.Rung), day), nil)
	return nil
}

// notOneself refuses a coach who acts on their own record while there is another
// coach to do it.
func (s *step) notOneself(who training.Member, text string) error {
	if who.ID == s.who.ID && s.hasCoach() {
		return refuse(text)
	}
	return nil
}

// unwitness answers /coach unwitness: it removes all marks of the gate.
func unwitness(s *step, a args) error {
	who, gate, err := a.memberAndGate()
	if err != nil {
		return err
	}
	name := s.programme.NameOf(gate.Rung)
	dropped, err := s.tx.DropMarks(s.team.ID, who.ID, gate.Rung)
	if err != nil {
		return err
	}
	if dropped == 0 {
		return refuse(words.NoMark(who.Name, name))
	}
	s.reply(ToPrivate, words.Unwitnessed(who.Name, name), nil)
	return nil
}

// coachPause answers /coach pause, which only a coach ends.
func coachPause(s *step, a args) error {
	// no reason is asked for, and none that is given is read
	a.values["member"] = s.nameIn(a.text("member"))
	who, err := a.trainee("member")
	if err != nil {
		return err
	}
	first, err := s.tx.ActOnce(s.cause, actPause, s.now())
	if err != nil || !first {
		return err
	}
	set, err := s.pause(who, true)
	if err != nil {
		return err
	}
	s.reply(ToPrivate, words.CoachPaused(who.Name, set.Again), nil)
	if who.ID != s.who.ID {
		if err := s.tellOfPause(who, words.PausedByCoach(s.who.Name, s.programme.Work)); err != nil {
			return err
		}
	}
	return s.tellCoaches(who, words.Paused(s.called(who), s.programme.Work, set.Again))
}

// trainee returns the member the option names, who must train here.
func (a args) trainee(name string) (training.Member, error) {
	who, err := a.member(name)
	if err == nil && !who.Trains {
		err = refuse(words.NotAMember(who.Name))
	}
	return who, err
}

// coachResume answers /coach resume.
func coachResume(s *step, a args) error {
	who, err := a.trainee("member")
	if err != nil {
		return err
	}
	return s.resumes(who, a.has("void"))
}

// resumes ends a member's pause, answers, and tells the member with the
// cautions in full.
func (s *step) resumes(who training.Member, void bool) error {
	if err := s.notOneself(who, words.OthersResume); err != nil {
		return err
	}
	ended, err := s.resume(who, void)
	if err != nil {
		return err
	}
	if !ended {
		return refuse(words.IsNotPaused(who.Name))
	}
	s.reply(ToPrivate, words.Resumed(who.Name, void), nil)
	return s.tellOfPause(who, words.ResumeNotice(s.programme, void))
}

// logFor stores sets that a coach types for a member, and tells the member.
func (s *step) logFor(who training.Member, parsed parser.Result) error {
	if !who.Trains {
		who = s.joined(who)
		if err := s.putMember(who); err != nil {
			return err
		}
	}
	days := merged(parsed.Days)
	log := s.coachLog(who, days)
	done, err := s.putLog(log)
	if err != nil {
		return err
	}
	for _, day := range days {
		if err := s.tx.Audit(s.team.ID, s.who.ID, who.ID, day.Day, "log", s.at); err != nil {
			return err
		}
	}
	s.answerFor(who, log, done, remarksOf(parsed, nil))
	return s.tellMember(who, words.LoggedForYou(s.who.Name, s.dayLines(days)))
}

// answerFor answers a coach's log of somebody else, privately and with the
// facts of that member.
func (s *step) answerFor(who training.Member, log training.Log, done change, of words.Remarks) {
	text, facts, _ := s.answer(who, log, done, of)
	s.reply(ToPrivate, text, facts)
}

// correct answers /coach correct: the text's sets replace those that messages gave
// for the day.
func correct(s *step, a args) error {
	who, err := a.trainee("member")
	if err != nil {
		return err
	}
	day, err := a.day("day", who, 0)
	if err != nil {
		return err
	}
	if day > s.dayFor(who) {
		return refuse(words.ToCome(day))
	}
	var parsed parser.Result
	if !strings.EqualFold(a.text("text"), "none") {
		if parsed, err = s.readSets(a.text("text"), who); err != nil {
			return err
		}
	}
	if len(parsed.Days) > 1 {
		return refuse(words.OneDayAtATime)
	}
	log := s.coachLog(who, training.OnDay(day, parsed.Sets()...))
	done, err := s.replaceDay(who, log, day)
	if err != nil {
		return err
	}
	s.answerFor(who, log, done, remarksOf(parsed, nil))
	if slices.Equal(done.before.Session(day).Sets, done.after.Session(day).Sets) {
		return nil
	}
	return s.tellMember(who, words.CorrectedForYou(s.who.Name, day, s.together(log.Sets())))
}

// coachLog is what a coach types for a member.
func (s *step) coachLog(who training.Member, days []training.DaySets) training.Log {
	return training.Log{
		ID: s.id, Team: s.team.ID, Member: who.ID, Author: s.who.ID, At: s.at, Channel: s.channel, Alone: true,
		State: training.LogLive, Days: days,
	}
}

// replaceDay stores the log in place of all sets that messages gave for the day.
// Sets that the same messages gave for other days stay.
func (s *step) replaceDay(who training.Member, log training.Log, day training.Day) (change, error) {
	before, err := s.tx.Record(s.team.ID, who.ID)
	if err != nil {
		return change{}, err
	}
	logs, err := s.tx.DayLogs(s.team.ID, who.ID, day)
	if err != nil {
		return change{}, err
	}
	for _, old := range logs {
		if old.State == training.LogUndone || old.State == training.LogDeleted {
			continue
		}
		if err := s.tx.PutLog(withoutDay(old, day)); err != nil {
			return change{}, err
		}
	}
	if err := s.tx.PutCorrection(s.team.ID, who.ID, day, s.at); err != nil {
		return change{}, err
	}
	if err := s.tx.Audit(s.team.ID, s.who.ID, who.ID, day, "correct", s.at); err != nil {
		return change{}, err
	}
	done, err := s.putLog(log)
	done.before = before
	return done, err
}

// withoutDay is the log without the sets of a day that was corrected.
func withoutDay(log training.Log, day training.Day) training.Log {
	left := slices.DeleteFunc(slices.Clone(log.Days), func(one training.DaySets) bool { return one.Day == day })
	if len(left) == 0 || !log.State.Holds() {
		return log.Without(training.LogCorrected)
	}
	log.Days = left
	return log
}

// teamDays answers /coach days, with a check whether the week keeps the rest rule.
func teamDays(s *step, a args) error {
	days, err := training.ParseWeekdays(a.text("days"))
	if err != nil {
		return refuse(words.NoDays(a.text("days"), "/coach days Mon Thu"))
	}
	s.team.Days = days
	s.reply(ToPrivate, words.TeamDays(days, s.programme), nil)
	return s.tx.PutTeam(s.team)
}

// coachMember answers /coach member: onto the roster, a zone, or off it.
func coachMember(s *step, a args) error {
	who, err := a.member("name")
	if err != nil {
		return err
	}
	if a.has("zone") {
		if who.Zone, err = a.zone("zone"); err != nil {
			return err
		}
	}
	if a.has("remove") {
		return s.offRoster(who)
	}
	if !who.Trains {
		who = s.joined(who)
	}
	s.reply(ToPrivate, words.OnRoster(who), nil)
	return s.putMember(who)
}
