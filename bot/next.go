package bot

import (
	"slices"

	"rungbook/training"
)

// planDays is how many days ahead /next names.
const planDays = 14

// NextFacts is the answer to /next.
type NextFacts struct {
	Standing
	Targets []training.Target `json:"targets"` // [] while paused
}

func (NextFacts) facts() {}

// next answers /next: what the next session asks, and why.
func next(t *turn, a args) error {
	who, err := a.seen("member")
	if err != nil {
		return err
	}
	return t.showNext(who)
}

func (t *turn) showNext(who training.Member) error {
	record, err := t.tx.Record(t.team.ID, who.ID)
	if err != nil {
		return err
	}
	today := t.dayFor(who)
	facts := NextFacts{Standing: t.standing(&record, today), Targets: t.programme.Targets(&record, t.team.Days, today)}
	for i := range facts.Targets {
		facts.Targets[i].Because = becauseWords(facts.Targets[i])
	}
	weeks, lighter := t.programme.LighterWeek(&record, today)
	text := t.nextText(t.whose(who), facts, plan{
		days:    t.daysAhead(&record, today),
		takesS:  t.programme.TotalS(facts.Targets),
		weeks:   weeks,
		lighter: lighter,
	})
	t.reply(ToPrivate, text, facts)
	return nil
}

// daysAhead returns the days to train of the coming planDays: from today on, or
// from tomorrow where today holds its session already.
func (t *turn) daysAhead(record *training.Record, today training.Day) []training.Day {
	from := today
	if t.programme.Counts(record.Session(today)) {
		from++
	}
	return t.programme.PlanDays(record, t.team.Days, from, planDays)
}

// plan is what /next says beside the targets.
type plan struct {
	days    []training.Day // the allowed days ahead
	takesS  int            // seconds of work and rest
	weeks   int            // full weeks without a break
	lighter bool           // a lighter week is due
}

// firstDone offers to tell the team of somebody's first attempt that came off.
// Nothing is told unless they say so.
func (t *turn) firstDone(log training.Log, done change) error {
	day, came := t.cameOn(log)
	if !came || t.cameBefore(&done.before, everAhead+day) {
		return nil
	}
	if done.after.Paused() || done.after.PausedOn(t.today()) || done.after.PausedOn(day) {
		return nil // no praise for work that was to stop
	}
	return t.unasked(decisionFirst, t.who.ID, causeOf(t.cause), Post{
		Kind: Notice, To: ToPrivate, Person: t.who.ID, Name: t.who.Name, Cause: log.ID,
		Text: firstDoneWords(t.triedRung(log.On(day))), Buttons: []Button{TapTell},
	})
}

// cameBefore reports whether an attempt came off on a day before the given one.
func (t *turn) cameBefore(record *training.Record, day training.Day) bool {
	return slices.ContainsFunc(record.Sessions, func(s training.Session) bool { return s.Day < day && t.came(s.Sets) })
}

// came reports whether an attempt among the sets came off.
func (t *turn) came(sets []training.Set) bool { return t.triedRung(sets) != "" }

// cameOn is the first day of a log on which an attempt came off.
func (t *turn) cameOn(log training.Log) (day training.Day, ok bool) {
	for _, one := range log.Days {
		if t.came(one.Sets) && (!ok || one.Day < day) {
			day, ok = one.Day, true
		}
	}
	return day, ok
}

// triedRung names the rung of the first attempt among the sets that came off.
func (t *turn) triedRung(sets []training.Set) string {
	for _, set := range sets {
		if ladder, rung, ok := t.programme.Find(set.Rung); ok && ladder.Tries && set.Done.Known && set.Done.Value > 0 {
			return rung.Name
		}
	}
	return ""
}

// tapTell tells the team of the tapper's own attempt, as they wish.
func (t *turn) tapTell(e Tap) error {
	log, ok, err := t.tx.Log(e.On)
	if err != nil {
		return err
	}
	day, came := training.Day(0), false
	if ok && log.State == training.LogLive && log.Member == t.who.ID {
		day, came = t.cameOn(log)
	}
	if !came {
		return refuse("There is no attempt of yours there to tell of.")
	}
	record, err := t.tx.Record(t.team.ID, t.who.ID)
	if err != nil {
		return err
	}
	if record.Paused() || record.PausedOn(day) || record.PausedOn(t.today()) {
		return refuse("While you are paused nothing is told. Ask me again when you are back.")
	}
	if t.cameBefore(&record, day) {
		return refuse("That was not your first.")
	}
	first, err := t.tx.ActOnce(e.On, actTell)
	if err != nil {
		return err
	}
	if !first {
		return refuse("The team has been told of it already.")
	}
	t.reply(ToChannel, toldWords(t.who.Name, t.triedRung(log.On(day)), day), nil)
	return nil
}
