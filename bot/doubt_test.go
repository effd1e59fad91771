package bot_test

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"rungbook/bot"
	"rungbook/parser"
	"rungbook/store"
	"rungbook/training"
)

// hangs are three sets of a hang.
func hangs(seconds int) []training.Set {
	set := training.Set{Rung: "deep-hang", WorkS: seconds}
	return []training.Set{set, set, set}
}

// script has the bot read some texts as the tests below want them.
func (h *house) script() {
	of := func(parsed parser.Result) func(parser.Context) parser.Result {
		return func(parser.Context) parser.Result { return parsed }
	}
	days := func(seconds int, back ...training.Day) func(parser.Context) parser.Result {
		return func(ctx parser.Context) parser.Result {
			parsed := parser.Result{Verdict: parser.Log}
			for _, n := range back {
				parsed.Days = append(parsed.Days, parser.DaySets{Day: ctx.Today - n, Stated: true, Sets: hangs(seconds)})
			}
			return parsed
		}
	}
	today := func(parsed parser.Result) func(parser.Context) parser.Result {
		return func(ctx parser.Context) parser.Result {
			parsed.Days = []parser.DaySets{{Day: ctx.Today, Sets: hangs(30)}}
			return parsed
		}
	}
	doubtful := func(ctx parser.Context) parser.Result {
		parsed := days(30, 2, 0)(ctx)
		parsed.Verdict, parsed.Problems = parser.Unsure, []parser.Problem{{Say: "Is that of both days?"}}
		return parsed
	}
	h.bot.Script(map[string]func(parser.Context) parser.Result{
		"two days":        days(30, 3, 0),
		"two other days":  days(20, 3, 1),
		"an old and new":  days(30, 100, 0),
		"both too old":    days(30, 101, 100),
		"two days, or so": doubtful,
		"elbow feels odd": of(parser.Result{Verdict: parser.Pain, Care: training.AskCare}),
		"hangs, odd":      today(parser.Result{Verdict: parser.Log, Care: training.AskCare, Unread: []string{"odd"}}),
		"hangs, spicy":    today(parser.Result{Verdict: parser.Log, Unread: []string{"spicy", "whoa"}, NotCounted: []string{"squats"}}),
	})
}

func newScripted(t *testing.T) *house {
	h := newHouse(t, "")
	h.script()
	h.says("2026-10-01 18:00", "Priya", "3x10s support") // the welcome is said
	return h
}

// taps presses a button under the answer to a message of who wrote it.
func (h *house) taps(stamp, name string, button bot.Button, on training.MessageID, of string) []bot.Post {
	h.t.Helper()
	h.last++
	return h.step(bot.Tap{
		ID: h.last, Team: team, Author: h.cast[name], Place: bot.Channel, Button: button, On: on, About: h.cast[of].ID, At: h.at(stamp),
	})
}

// sessions is somebody's record in short.
func (h *house) sessions(name string) string {
	h.t.Helper()
	var days []string
	err := h.db.View(h.t.Context(), func(tx *store.Tx) error {
		record, err := tx.Record(team, h.cast[name].ID)
		for _, session := range record.Sessions {
			days = append(days, session.Day.String()[5:]+" "+string(session.Sets[0].Rung)+strings.Repeat("+", len(session.Sets)-1))
		}
		return err
	})
	if err != nil {
		h.t.Fatal(err)
	}
	return strings.Join(days, ", ")
}

func (h *house) wants(what, got, want string) {
	h.t.Helper()
	if got != want {
		h.t.Errorf("%s:\n got %s\nwant %s", what, got, want)
	}
}

func factsOf(t *testing.T, post bot.Post) string {
	t.Helper()
	text, err := json.Marshal(post.Facts)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// TestSeveralDaysInOneMessage logs, edits, corrects, undoes and deletes what one
// message gave for two days.
func TestSeveralDaysInOneMessage(t *testing.T) {
	h := newScripted(t)
	posts := h.says("2026-10-08 19:00", "Priya", "two days")
	id := h.last
	h.wants("the answer", texts(posts), `reply to channel: Mon 5 Oct: 3×30 s deep hang.
Thu 8 Oct: 3×30 s deep hang.
Gate: deep hang open until 5 Nov ✓, rest not stated.
Next team day Mon 12 Oct: 30 s deep hang, 3×11 s support, 3×20 s toe transitions.`)
	facts := factsOf(t, posts[0])
	for _, want := range []string{
		`"day":"2026-10-05","logged":[{"rung":"deep hang","work_s":30,"count":3}],"days":[{"day":"2026-10-05","logged":[{`,
		`,{"day":"2026-10-08","logged":[{"rung":"deep hang","work_s":30,"count":3}]}]`,
	} {
		if !strings.Contains(facts, want) {
			t.Errorf("no %s in %s", want, facts)
		}
	}
	h.wants("logged", h.sessions("Priya"), "10-01 support++, 10-05 deep-hang++, 10-08 deep-hang++")

	edit := bot.Edit{Message: bot.Message{Edited: h.at("2026-10-08 19:05"),
		ID: id, Team: team, Author: h.cast["Priya"], Place: bot.Channel, Text: "two other days", At: h.at("2026-10-08 19:00"),
	}}
	posts = h.step(edit)
	h.wants("the edit", texts(posts), `revise to channel: Mon 5 Oct: 3×20 s deep hang.
Wed 7 Oct: 3×20 s deep hang.
Rest rule: Wed 7 Oct: 1 clear day since Mon 5 Oct (2 due); Wed 7 Oct: 3 sessions in 7 days (at most 2).
Next team day Mon 12 Oct.`)
	h.wants("after the edit", h.sessions("Priya"), "10-01 support++, 10-05 deep-hang++, 10-07 deep-hang++")

	h.says("2026-10-08 19:10", "Ilda", "/coach correct member:Priya day:2026-10-05 text:5 pull-ups")
	h.wants("after a correction of one day", h.sessions("Priya"), "10-01 support++, 10-05 pull-ups, 10-07 deep-hang++")
	edit.Text, edit.Edited = "two days", h.at("2026-10-08 19:15")
	h.wants("an edit of a day that is corrected", texts(h.step(edit)), "reply to private: "+
		"Your coach has corrected Mon 5 Oct, so this changes nothing of that day. If something is wrong, tell them.\n"+
		`revise to channel: Thu 8 Oct: 3×30 s deep hang.
Gate: deep hang open until 5 Nov ✓, rest not stated.
Free from Sun 11 Oct; next team day Mon 12 Oct: 30 s deep hang, 3×11 s support, 3×20 s toe transitions.`)
	h.wants("after it", h.sessions("Priya"), "10-01 support++, 10-05 pull-ups, 10-08 deep-hang++")

	h.says("2026-10-08 19:20", "Wen", "two days")
	undone := answers(h.says("2026-10-08 19:21", "Wen", "/undo"))
	h.wants("undone", texts(undone), `reply to channel: Taken back from Mon 5 Oct: 3×30 s deep hang; Thu 8 Oct: 3×30 s deep hang.
withdraw to channel:`)
	h.wants("after undo", h.sessions("Wen"), "")
	h.says("2026-10-08 19:22", "Wen", "two days")
	h.step(bot.Delete{ID: h.last, Team: team, Author: h.cast["Wen"], Place: bot.Channel, At: h.at("2026-10-08 19:23")})
	h.wants("after the deletion", h.sessions("Wen"), "")

	old := answers(h.says("2026-10-08 19:30", "Tomé", "an old and new"))
	h.wants("one day too old", texts(old), `reply to channel: Thu 8 Oct: 3×30 s deep hang (not logged, as more than 60 days back: Tue 30 Jun).
Gate: deep hang open until 5 Nov ✓, rest not stated.
Free from Sun 11 Oct; next team day Mon 12 Oct: 30 s deep hang, 3×10 s toe support, 3×20 s toe transitions.`)
	h.wants("both too old", texts(h.says("2026-10-08 19:31", "Tomé", "both too old")),
		"reply to channel: Mon 29 Jun and Tue 30 Jun are more than 60 days back, so nothing is logged. Your coach can log them for you, or say the day again.")
}

// TestSeveralDaysByCommand logs them for oneself and for a member, and refuses a
// day beside them and a correction with them.
func TestSeveralDaysByCommand(t *testing.T) {
	h := newScripted(t)
	h.says("2026-10-08 19:00", "Priya", "/log two days")
	h.wants("by a member", h.sessions("Priya"), "10-01 support++, 10-05 deep-hang++, 10-08 deep-hang++")
	h.says("2026-10-08 19:01", "Ilda", `/log member:Wen text:"two days"`)
	h.wants("by a coach", h.sessions("Wen"), "10-05 deep-hang++, 10-08 deep-hang++")
	h.wants("beside a day", texts(h.says("2026-10-08 19:02", "Priya", `/log text:"two days" day:yesterday`)),
		"reply to channel: The text is of several days, and day: of one. Say the days in one place.")
	h.wants("a correction", texts(h.says("2026-10-08 19:03", "Ilda", `/coach correct member:Wen day:yesterday text:"two days"`)),
		"reply to private: That is of several days. Correct one day at a time.")
	h.wants("a paused member's", texts(answers(h.pausedSays("2026-10-08 19:04", "Bako", "two days"))),
		"reply to channel: Mon 5 Oct: 3×30 s deep hang.\nThu 8 Oct: 3×30 s deep hang.")
}

func (h *house) pausedSays(stamp, name, text string) []bot.Post {
	h.says(stamp, name, "/pause")
	return h.says(stamp, name, text)
}

// TestDoubtOfSeveralDays keeps a reading of two days, one of which the coach has
// corrected meanwhile.
func TestDoubtOfSeveralDays(t *testing.T) {
	h := newScripted(t)
	posts := h.says("2026-10-08 19:00", "Priya", "two days, or so")
	id := h.last
	h.wants("the question", texts(posts), `reply to channel: I read:
Tue 6 Oct: 3×30 s deep hang.
Thu 8 Oct: 3×30 s deep hang.
Is that of both days? Nothing is stored yet.`)
	h.wants("before it is kept", h.sessions("Priya"), "10-01 support++")
	h.says("2026-10-08 19:01", "Ilda", "/coach correct member:Priya day:2026-10-06 text:none")
	h.taps("2026-10-08 19:02", "Priya", bot.TapKeep, id, "Priya")
	h.wants("kept", h.sessions("Priya"), "10-01 support++, 10-08 deep-hang++")
}

// TestQuestionIsForgottenAfterAWeek leaves nothing of a reading that nobody kept.
func TestQuestionIsForgottenAfterAWeek(t *testing.T) {
	h := newScripted(t)
	h.says("2026-10-08 19:00", "Priya", "two days, or so")
	id := h.last
	for _, at := range []string{"2026-10-15 18:59", "2026-10-15 19:01"} {
		if err := h.bot.Housekeep(t.Context(), h.at(at)); err != nil {
			t.Fatal(err)
		}
		var log training.Log
		err := h.db.View(t.Context(), func(tx *store.Tx) (err error) {
			log, _, err = tx.Log(id)
			return err
		})
		if waits := log.State == training.LogAsked && len(log.Sets()) == 6; err != nil || waits != (at == "2026-10-15 18:59") {
			t.Errorf("at %s: %+v, error %v", at, log, err)
		}
	}
	h.wants("a tap too late", texts(h.taps("2026-10-15 20:00", "Priya", bot.TapKeep, id, "Priya")),
		"reply to private: That is no longer asked, and nothing of it is stored. Write the sets again to log them.")
}

// TestKeptAnswerIsSaidAgain loses the answers to keep and to drop on their way:
// the message that is read again brings them.
func TestKeptAnswerIsSaidAgain(t *testing.T) {
	for _, button := range []bot.Button{bot.TapKeep, bot.TapDrop} {
		h := newScripted(t)
		at := h.at("2026-10-08 19:00")
		message := bot.Message{Team: team, Author: h.cast["Priya"], Place: bot.Channel, Text: "two days, or so", At: at, Redelivered: true}
		first := h.says("2026-10-08 19:00", "Priya", message.Text)
		message.ID = h.last
		h.wants("the question again", texts(h.step(message)), texts(first))
		h.pay(message.ID)
		done := h.taps("2026-10-08 19:01", "Priya", button, message.ID, "Priya")
		if !h.owes(message.ID) {
			t.Errorf("after %s nothing is owed", button)
		}
		edited := message
		edited.Edited = at
		for _, event := range []bot.Event{message, bot.Edit{Message: edited}} {
			h.wants("the answer to "+string(button)+" again", texts(h.step(event)), texts(done))
		}
		again := h.taps("2026-10-08 19:02", "Priya", button, message.ID, "Priya")
		if len(again) != 1 || again[0].To != bot.ToPrivate || again[0].Facts != nil {
			t.Errorf("a second %s: %s", button, texts(again))
		}
	}
}

// TestReadBackNamesWhatIsNotRead names unread words and what is not counted, but
// no word of a message that may speak of a body.
func TestReadBackNamesWhatIsNotRead(t *testing.T) {
	h := newScripted(t)
	first, _, _ := strings.Cut(texts(h.says("2026-10-05 19:00", "Priya", "hangs, spicy")), "\n")
	h.wants("read back", first, "reply to channel: Mon 5 Oct: 3×30 s deep hang (not read: “spicy”, “whoa”; not counted: squats).")
	first, _, _ = strings.Cut(texts(h.says("2026-10-08 19:00", "Priya", "hangs, odd")), "\n")
	h.wants("with care", first, "reply to channel: Thu 8 Oct: 3×30 s deep hang.")
}

// TestJointIsAskedAlone asks a member, alone, once in twelve hours, behind the
// answer to what they logged; a yes is a stop, and of a no nothing is kept.
func TestJointIsAskedAlone(t *testing.T) {
	h := newScripted(t)
	h.says("2026-10-05 18:00", "Wen", "3x10s support")
	asks := "reply to private: Does a joint hurt? I ask only you, and keep no answer but yes."
	posts := h.says("2026-10-05 19:00", "Priya", "hangs, odd")
	if len(posts) != 2 || posts[0].Facts == nil || posts[0].To != bot.ToChannel {
		t.Errorf("beside a log:\n%s", texts(posts))
	}
	h.wants("behind it", texts(posts[len(posts)-1:]), asks)
	id := h.last
	h.wants("once more", texts(h.says("2026-10-05 21:00", "Priya", "elbow feels odd")), "")
	h.wants("a stranger", texts(h.says("2026-10-05 21:01", "Noor", "elbow feels odd")), "")
	h.wants("another member", texts(h.says("2026-10-05 21:02", "Wen", "elbow feels odd")), asks)
	wens := h.last

	before := h.dump()
	h.wants("fine, by another", texts(h.taps("2026-10-05 21:03", "Bako", bot.TapFine, wens, "Wen")),
		"reply to private: Only whoever was asked that can answer it.")
	posts = h.taps("2026-10-05 21:04", "Wen", bot.TapFine, wens, "Wen")
	h.wants("fine", texts(posts), "withdraw to private:")
	if !posts[0].Tapped {
		t.Error("that takes the answer to the message down")
	}
	h.wants("kept of it", h.dump(), before)

	posts = h.taps("2026-10-05 21:05", "Priya", bot.TapHurts, id, "Priya")
	if got := texts(posts); !strings.HasPrefix(got, "withdraw to private:\nreply to private: Please stop ring work now.") ||
		!strings.Contains(got, "notice to coach: Priya is paused from ring work.") {
		t.Errorf("hurts: %s", got)
	}
	h.wants("hurts again", texts(h.taps("2026-10-05 21:06", "Priya", bot.TapHurts, id, "Priya")),
		"withdraw to private:\nreply to private: That is taken in already.")
	h.wants("misread", texts(h.taps("2026-10-05 21:07", "Priya", bot.TapMisread, id, "Priya")),
		"reply to private: Taken back: you are not paused, and it is as if it had never been.")
	h.wants("twelve hours on", texts(h.says("2026-10-06 08:00", "Priya", "elbow feels odd")), asks)
	h.says("2026-10-06 08:01", "Wen", "/pause")
	h.wants("to somebody paused", texts(h.says("2026-10-06 20:00", "Wen", "elbow feels odd")), "")
}

// TestJointByCommand is asked behind a command too, and a command is answered
// also where it may not be asked.
func TestJointByCommand(t *testing.T) {
	h := newScripted(t)
	asks := "reply to private: Does a joint hurt? I ask only you, and keep no answer but yes."
	h.wants("/log of no sets", texts(h.says("2026-10-05 19:00", "Priya", "/log elbow feels odd")), asks)
	h.wants("and again", texts(h.says("2026-10-05 19:01", "Priya", "/log elbow feels odd")),
		"reply to channel: I read no sets in that. Try 3x30s deep hang.")
	h.wants("behind another command", texts(h.says("2026-10-05 19:02", "Priya", "/next elbow feels odd")),
		"reply to private: I can't take those words behind a command. /help lists what I do.")
}

// TestJointAskedIsForgotten keeps that somebody was asked to the hour, and no
// longer than it must.
func TestJointAskedIsForgotten(t *testing.T) {
	h := newScripted(t)
	h.says("2026-10-05 19:20", "Priya", "elbow feels odd")
	asked := func(at string) bool {
		t.Helper()
		first := false
		err := h.db.Update(t.Context(), func(tx *store.Tx) (err error) {
			first, err = tx.AskJoint(team, h.cast["Priya"].ID, h.at(at), h.at(at).Add(time.Minute))
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		return !first
	}
	if !asked("2026-10-06 07:59") || asked("2026-10-06 08:00") {
		t.Error("not held to the whole hour behind twelve")
	}
	if err := h.bot.Housekeep(t.Context(), h.at("2026-10-06 09:00")); err != nil {
		t.Fatal(err)
	}
	if asked("2026-10-06 08:30") {
		t.Error("kept beyond its time")
	}
}
