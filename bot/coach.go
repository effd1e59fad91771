package bot

import (
	"slices"
	"strings"

	"rungbook/parser"
	"rungbook/training"
)

// witnessDays is how many days back a coach may say that they saw a gate.
const witnessDays = 7

// witness answers /coach witness.
func witness(t *turn, a args) error {
	who, gate, err := a.memberAndGate()
	if err != nil {
		return err
	}
	day, err := a.day("day", who, t.dayFor(who))
	if err != nil {
		return err
	}
	return t.witness(who, gate, day)
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
func (t *turn) witness(who training.Member, gate training.Gate, day training.Day) error {
	if err := t.notOneself(who, "Another coach witnesses your gates."); err != nil {
		return err
	}
	record, err := t.tx.Record(t.team.ID, who.ID)
	if err != nil {
		return err
	}
	today := t.dayFor(who)
	switch {
	case day > today || day < today-witnessDays:
		return refuse("A mark is for today or up to %d days back; %s is neither.", witnessDays, dayWords(day))
	case day < record.Floor(today):
		return refuse("%s lies in or before %s's pause: what was shown then opens no gate.", dayWords(day), who.Name)
	}
	if err := t.tx.PutMark(t.team.ID, who.ID, training.Mark{Gate: gate.Rung, Day: day}, t.who.ID); err != nil {
		return err
	}
	t.reply(ToPrivate, witnessedWords(who.Name, t.programme.NameOf(gate.Rung), day), nil)
	return nil
}

// notOneself refuses what a coach does for themselves while there is another.
func (t *turn) notOneself(who training.Member, text string) error {
	if who.ID == t.who.ID && t.hasCoach() {
		return refuse("%s", text)
	}
	return nil
}

// unwitness answers /coach unwitness: all marks of the gate go.
func unwitness(t *turn, a args) error {
	who, gate, err := a.memberAndGate()
	if err != nil {
		return err
	}
	name := t.programme.NameOf(gate.Rung)
	dropped, err := t.tx.DropMarks(t.team.ID, who.ID, gate.Rung)
	if err != nil {
		return err
	}
	if dropped == 0 {
		return refuse("%s has no witness mark on %s.", who.Name, name)
	}
	t.reply(ToPrivate, who.Name+"'s "+name+" gate now rests on what "+who.Name+" logged.", nil)
	return nil
}

// coachPause answers /coach pause: only a coach ends it.
func coachPause(t *turn, a args) error {
	// no reason is asked for, and none that is given is read
	a.values["member"] = t.nameIn(a.text("member"))
	who, err := a.trainee("member")
	if err != nil {
		return err
	}
	set, err := t.pause(who, true)
	if err != nil {
		return err
	}
	t.reply(ToPrivate, coachPausedWords(who.Name, set.again), nil)
	if who.ID != t.who.ID {
		if err := t.tellMember(who, pausedByCoachWords(t.who.Name, t.programme.Work)); err != nil {
			return err
		}
	}
	return t.tellCoaches(who, pausedWords(who.Name, t.programme.Work, set.again))
}

// trainee returns the member the option names, who must train here.
func (a args) trainee(name string) (training.Member, error) {
	who, err := a.member(name)
	if err == nil && !who.Trains {
		err = refuse("%s is not on the roster as a member.", who.Name)
	}
	return who, err
}

// coachResume answers /coach resume.
func coachResume(t *turn, a args) error {
	who, err := a.trainee("member")
	if err != nil {
		return err
	}
	return t.resumes(who, a.has("void"))
}

// resumes ends a member's pause, answers, and tells the member with the
// cautions in full.
func (t *turn) resumes(who training.Member, void bool) error {
	if err := t.notOneself(who, "Another coach resumes you."); err != nil {
		return err
	}
	ended, err := t.resume(who, void)
	if err != nil {
		return err
	}
	if !ended {
		return refuse("%s is not paused.", who.Name)
	}
	t.reply(ToPrivate, resumedWords(who.Name, void), nil)
	return t.tellMember(who, resumeNoticeWords(t.programme, void))
}

// logFor stores sets that a coach types for a member, with a word to them.
func (t *turn) logFor(who training.Member, said parser.Result) error {
	if !who.Trains {
		who = t.joined(who)
		if err := t.put(who); err != nil {
			return err
		}
	}
	days := merged(said.Days)
	log := t.coachLog(who, days)
	done, err := t.keep(log)
	if err != nil {
		return err
	}
	for _, day := range days {
		if err := t.tx.Audit(t.team.ID, t.who.ID, who.ID, day.Day, "log", t.at); err != nil {
			return err
		}
	}
	t.answerFor(who, log, done, remarksOf(said, nil))
	return t.tellMember(who, loggedForYouWords(t.who.Name, t.dayLines(days)))
}

// answerFor answers a coach's log of somebody else, privately and with the
// facts of that member.
func (t *turn) answerFor(who training.Member, log training.Log, done change, of remarks) {
	text, facts, _ := t.answer(who, log, done, of)
	t.reply(ToPrivate, text, facts)
}

// correct answers /coach correct: the day's messages no longer give its sets.
func correct(t *turn, a args) error {
	who, err := a.trainee("member")
	if err != nil {
		return err
	}
	day, err := a.day("day", who, 0)
	if err != nil {
		return err
	}
	if day > t.dayFor(who) {
		return refuse("%s is still to come.", dayWords(day))
	}
	var said parser.Result
	if !strings.EqualFold(a.text("text"), "none") {
		if said, err = t.readSets(a.text("text"), who); err != nil {
			return err
		}
	}
	if len(said.Days) > 1 {
		return refuse("That is of several days. Correct one day at a time.")
	}
	log := t.coachLog(who, training.OnDay(day, said.Sets()...))
	done, err := t.replaceDay(who, log, day)
	if err != nil {
		return err
	}
	t.answerFor(who, log, done, remarksOf(said, nil))
	if slices.Equal(done.before.Session(day).Sets, done.after.Session(day).Sets) {
		return nil
	}
	return t.tellMember(who, correctedForYouWords(t.who.Name, day, t.together(log.Sets())))
}

// coachLog is what a coach types for a member.
func (t *turn) coachLog(who training.Member, days []training.DaySets) training.Log {
	return training.Log{
		ID: t.id, Team: t.team.ID, Member: who.ID, Author: t.who.ID, At: t.at, Alone: true, State: training.LogLive, Days: days,
	}
}

// replaceDay puts the log in the place of all that gave the day's sets so far.
// What messages gave for other days stays.
func (t *turn) replaceDay(who training.Member, log training.Log, day training.Day) (change, error) {
	before, err := t.tx.Record(t.team.ID, who.ID)
	if err != nil {
		return change{}, err
	}
	logs, err := t.tx.DayLogs(t.team.ID, who.ID, day)
	if err != nil {
		return change{}, err
	}
	for _, old := range logs {
		if old.State == training.LogUndone || old.State == training.LogDeleted {
			continue
		}
		if err := t.tx.PutLog(withoutDay(old, day)); err != nil {
			return change{}, err
		}
	}
	if err := t.tx.PutCorrection(t.team.ID, who.ID, day, t.at); err != nil {
		return change{}, err
	}
	if err := t.tx.Audit(t.team.ID, t.who.ID, who.ID, day, "correct", t.at); err != nil {
		return change{}, err
	}
	done, err := t.keep(log)
	done.before = before
	return done, err
}

// withoutDay is the log as it stands once its day is corrected.
func withoutDay(log training.Log, day training.Day) training.Log {
	left := slices.DeleteFunc(slices.Clone(log.Days), func(one training.DaySets) bool { return one.Day == day })
	if len(left) == 0 || !log.State.Holds() {
		return log.Without(training.LogCorrected)
	}
	log.Days = left
	return log
}

// teamDays answers /coach days with the check of the week.
func teamDays(t *turn, a args) error {
	days, err := training.ParseWeekdays(a.text("days"))
	if err != nil {
		return refuse("“%s” is no list of days. Try /coach days Mon Thu.", brief(a.text("days")))
	}
	t.team.Days = days
	t.reply(ToPrivate, weekWords(days, t.programme), nil)
	return t.tx.PutTeam(t.team)
}

// coachMember answers /coach member: onto the roster, a zone, or off it.
func coachMember(t *turn, a args) error {
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
		who.Trains = false
		t.reply(ToPrivate, who.Name+" is off the roster; the record stays. A new log puts them back.", nil)
		return t.put(who)
	}
	if !who.Trains {
		who = t.joined(who)
	}
	t.reply(ToPrivate, memberWords(who), nil)
	return t.put(who)
}
