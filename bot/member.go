package bot

import (
	"errors"
	"slices"
	"strings"
	"time"

	"rungbook/parser"
	"rungbook/training"
)

// help answers /help: the commands the author may give, or a topic.
func help(t *turn, a args) error {
	text, ok := t.helpWords(a.text("topic"))
	if !ok {
		return refuse("There is no help on “%s”. Topics: %s.", brief(a.text("topic")), helpTopics())
	}
	t.reply(ToPrivate, text, nil)
	return nil
}

// gates answers /gates.
func gates(t *turn, a args) error {
	who, err := a.seen("member")
	if err != nil {
		return err
	}
	return t.showGates(who)
}

func (t *turn) showGates(who training.Member) error {
	record, err := t.tx.Record(t.team.ID, who.ID)
	if err != nil {
		return err
	}
	today := t.dayFor(who)
	facts := GatesFacts{Gates: t.programme.GateFacts(&record, today), Standing: t.standing(&record, today)}
	t.reply(ToPrivate, gatesWords(t.whose(who), today, facts), facts)
	return nil
}

// whose names somebody else; of the author it is empty.
func (t *turn) whose(who training.Member) string {
	if who.ID == t.who.ID {
		return ""
	}
	return who.Name
}

// history answers /history: what was logged, a line a day, newest first.
func history(t *turn, a args) error {
	who, err := a.seen("member")
	if err != nil {
		return err
	}
	weeks, err := a.count("weeks", 4, 104)
	if err != nil {
		return err
	}
	record, err := t.tx.Record(t.team.ID, who.ID)
	if err != nil {
		return err
	}
	from := t.dayFor(who) - training.Day(7*weeks) + 1
	var lines []dayLine
	for _, session := range slices.Backward(record.Sessions) {
		if session.Day >= from {
			lines = append(lines, dayLine{session.Day, t.together(session.Sets)})
		}
	}
	today := t.dayFor(who)
	load := loadWords(t.programme.Loads(&record, today), t.programme.EffortWeek(&record, today))
	t.reply(ToPrivate, historyWords(t.whose(who), weeks, lines, load), nil)
	return nil
}

// away answers /away: the stretch replaces the one that runs or is to come.
func away(t *turn, a args) error {
	record, err := t.tx.Record(t.team.ID, t.who.ID)
	if err != nil {
		return err
	}
	today := t.today()
	past := pastAways(record.Aways, today)
	if a.has("what") {
		if len(past) == len(record.Aways) && !record.AwayOn(today) {
			return refuse("You are not away. Try /away from:%s until:%s.", today, today+6)
		}
		t.reply(ToPrivate, "Welcome back: you are no longer away.", nil)
		return t.tx.PutAways(t.team.ID, t.who.ID, past)
	}
	if !a.has("until") {
		return refuse("Say until when: /away from:%s until:%s.", today, today+6)
	}
	from, err := a.dayAhead("from", today, today)
	if err != nil {
		return err
	}
	until, err := a.dayAhead("until", max(from, today), 0)
	if err != nil {
		return err
	}
	if until < from || until < today || until-from > 366 {
		return refuse("From %s until %s is no stretch ahead of at most a year. Try /away from:%s until:%s.", from, until, today, today+6)
	}
	t.reply(ToPrivate, awayWords(from, until), nil)
	return t.tx.PutAways(t.team.ID, t.who.ID, append(past, training.Away{From: from, Until: until}))
}

// pastAways keeps of each stretch what lies before today.
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
func pauseCommand(t *turn, a args) error {
	if !t.who.Trains {
		return refuse("You are not on the roster as a member, so there is nothing to pause.")
	}
	if first, _, _ := strings.Cut(a.text("what"), " "); first == "end" || first == "ends" {
		text, err := t.takeBack(0)
		if err != nil {
			return err
		}
		t.reply(ToPrivate, text, nil)
		return nil
	}
	set, err := t.pause(t.who, false)
	if err != nil {
		return err
	}
	t.reply(ToPrivate, selfPausedWords(t.programme.Work, set), nil, set.buttons()...)
	return t.tellCoaches(t.who, pausedWords(t.who.Name, t.programme.Work, set.again))
}

// me answers /me: the author's own settings.
func me(t *turn, a args) error {
	if a.has("rejoin") {
		return t.rejoin()
	}
	who := t.who
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
	t.reply(ToPrivate, meWords(who), nil)
	if !a.has("zone") && !a.has("nudges") {
		return nil
	}
	return t.put(who)
}

// rejoin lifts the block that an erasure left.
func (t *turn) rejoin() error {
	blocked, err := t.tx.Blocked(t.who.ID)
	if err != nil {
		return err
	}
	if !blocked {
		return refuse("You are not shut out: just post a log.")
	}
	t.reply(ToPrivate, "Good to have you back. Your next log starts a new record.", nil)
	return t.tx.Unblock(t.who.ID)
}

// mydata answers /mydata export and /mydata erase.
func mydata(t *turn, a args) error {
	if a.text("what") == "erase" {
		t.reply(ToPrivate, erasedNowWords, nil)
		t.erased = true
		return t.tx.Erase(t.who.ID)
	}
	record, err := t.tx.Record(t.team.ID, t.who.ID)
	if err != nil {
		return err
	}
	asked, err := t.tx.AskedLogs(t.team.ID, t.who.ID, time.Time{})
	if err != nil {
		return err
	}
	all := Export(t.programme, t.who, &record, asked)
	whole, err := all.JSON()
	if err != nil {
		return err
	}
	sets, err := all.CSV()
	if err != nil {
		return err
	}
	t.reply(ToPrivate, exportWords(len(record.Sessions), len(asked)), nil)
	t.posts[len(t.posts)-1].Files = []File{{"my-rungbook.json", whole}, {"my-rungbook-sets.csv", sets}}
	return nil
}

// logCommand answers /log: the author's own as a log in that place, a coach's
// for somebody else privately.
func logCommand(t *turn, a args) error {
	who, err := a.member("member")
	if err != nil {
		return err
	}
	said, err := t.readSets(a.text("text"), who)
	if who.ID == t.who.ID && said.Care != "" && said.Verdict != parser.Log {
		return t.unlogged(said, err)
	}
	if err != nil {
		return err
	}
	if err := a.dates(&said, who); err != nil {
		return err
	}
	if who.ID != t.who.ID {
		return t.logFor(who, said)
	}
	if err := t.joins(said, t.today()); err != nil {
		return err
	}
	if err := t.hurts(said.Care); err != nil {
		return err
	}
	return errors.Join(t.logs(said, t.today()), t.asksJoint(said.Care))
}

// unlogged meets what the author says of their own body where no sets are
// logged. It is no refusal, which would take back what comes of that.
func (t *turn) unlogged(said parser.Result, refused error) error {
	if err := errors.Join(t.hurts(said.Care), t.asksJoint(said.Care)); err != nil {
		return err
	}
	switch {
	case said.Verdict == parser.Unsure:
		t.reply(t.here(), t.unsureWords(said, answerRunes), nil)
	case len(t.posts) == 0: // asked before, or paused already
		t.reply(t.here(), refused.Error(), nil)
	}
	return nil
}

// dates gives what was read the day of the option, if that is said, and refuses
// days to come.
func (a args) dates(said *parser.Result, who training.Member) error {
	if a.has("day") && len(said.Days) > 1 {
		return refuse("The text is of several days, and day: of one. Say the days in one place.")
	}
	for i := range said.Days {
		day, err := a.day("day", who, said.Days[i].Day)
		if err != nil {
			return err
		}
		if day > a.turn.dayFor(who) {
			return refuse("%s is still to come: log it when it is done.", dayWords(day))
		}
		said.Days[i].Day = day
	}
	return nil
}

// readSets reads the text of a command that must hold sets; what cannot be
// read whole is refused with the problem.
func (t *turn) readSets(text string, who training.Member) (parser.Result, error) {
	clock := clockOf(t.at, who.Zone)
	clock.Addressed = true
	said := t.parser.Parse(text, clock)
	switch said.Verdict {
	case parser.Log:
		return said, nil
	case parser.Unsure:
		return said, refusal{text: t.unsureWords(said, answerRunes)}
	}
	return said, refuse("I read no sets in that. Try %s.", t.example())
}
