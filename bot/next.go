package bot

import (
	"slices"

	"rungbook/bot/words"
	"rungbook/training"
)

// planDays is how many days ahead /next names.
const planDays = 14

// next answers /next: what the next session asks, and why.
func next(s *step, a args) error {
	who, err := a.seen("member")
	if err != nil {
		return err
	}
	return s.showNext(who)
}

func (s *step) showNext(who training.Member) error {
	record, err := s.tx.Record(s.team.ID, who.ID)
	if err != nil {
		return err
	}
	today := s.dayFor(who)
	facts := words.NextFacts{Standing: s.standing(&record, today), Targets: s.programme.Targets(&record, s.team.Days, today)}
	for i := range facts.Targets {
		facts.Targets[i].Because = words.Because(facts.Targets[i])
	}
	weeks, lighter := s.programme.LighterWeek(&record, today)
	text := words.Next(s.whose(who), s.programme, facts, words.Plan{
		Days:    s.daysAhead(&record, today),
		Ahead:   planDays,
		TakesS:  s.programme.TotalS(facts.Targets),
		Weeks:   weeks,
		Lighter: lighter,
	})
	s.reply(ToPrivate, text, facts)
	return nil
}

// daysAhead returns the days to train of the coming planDays: from today on, or
// from tomorrow where today holds its session already.
func (s *step) daysAhead(record *training.Record, today training.Day) []training.Day {
	from := today
	if s.programme.Counts(record.Session(today)) {
		from++
	}
	return s.programme.PlanDays(record, s.team.Days, from, planDays)
}

// firstDone offers to tell the team of somebody's first attempt that came off.
// Nothing is told unless they say so.
func (s *step) firstDone(log training.Log, done change) error {
	day, came := s.cameOn(log)
	if !came || s.cameBefore(&done.before, everAhead+day) {
		return nil
	}
	if done.after.Paused() || done.after.PausedOn(s.today()) || done.after.PausedOn(day) {
		return nil // no praise for work that was to stop
	}
	return s.unasked(decisionFirst, s.who.ID, causeOf(s.cause), Post{
		Kind: Notice, To: ToPrivate, Person: s.who.ID, Name: s.who.Name, Cause: log.ID,
		Text: words.FirstDone(s.triedRung(log.On(day))), Buttons: []Button{TapTell},
	})
}

// cameBefore reports whether an attempt came off on a day before the given one.
func (s *step) cameBefore(record *training.Record, day training.Day) bool {
	return slices.ContainsFunc(record.Sessions, func(one training.Session) bool { return one.Day < day && s.came(one.Sets) })
}

// came reports whether an attempt among the sets came off.
func (s *step) came(sets []training.Set) bool { return s.triedRung(sets) != "" }

// cameOn is the first day of a log on which an attempt came off.
func (s *step) cameOn(log training.Log) (day training.Day, ok bool) {
	for _, one := range log.Days {
		if s.came(one.Sets) && (!ok || one.Day < day) {
			day, ok = one.Day, true
		}
	}
	return day, ok
}

// triedRung names the rung of the first attempt among the sets that came off.
func (s *step) triedRung(sets []training.Set) string {
	for _, set := range sets {
		if ladder, rung, ok := s.programme.Find(set.Rung); ok && ladder.Tries && set.Done.Known && set.Done.Value > 0 {
			return rung.Name
		}
	}
	return ""
}

// tapTell tells the team of the tapper's own attempt.
func (s *step) tapTell(e Tap) error {
	log, ok, err := s.tx.Log(e.On)
	if err != nil {
		return err
	}
	day, came := training.Day(0), false
	if ok && log.State == training.LogLive && log.Member == s.who.ID {
		day, came = s.cameOn(log)
	}
	if !came {
		return refuse(words.NoAttemptToTell)
	}
	record, err := s.tx.Record(s.team.ID, s.who.ID)
	if err != nil {
		return err
	}
	if record.Paused() || record.PausedOn(day) || record.PausedOn(s.today()) {
		return refuse(words.PausedToTell)
	}
	if s.cameBefore(&record, day) {
		return refuse(words.NotFirst)
	}
	first, err := s.tx.Decide(s.team.ID, decisionTell, s.who.ID, causeOf(e.On), outcomePost, s.at)
	if err != nil {
		return err
	}
	if !first {
		return refuse(words.ToldAlready)
	}
	s.reply(ToChannel, words.Told(s.who.Name, s.triedRung(log.On(day)), day), nil)
	return nil
}
