package rehearsal_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"rungbook/bot/rehearsal"
	"rungbook/training"
)

// clock is a stamp so many minutes after the first.
func clock(minutes int) string {
	return time.Date(2026, 4, 6, 8, minutes, 0, 0, time.UTC).Format("2006-01-02 15:04")
}

// lineOf returns a look-up of the line that holds a text.
func lineOf(input string) func(part string) string {
	return func(part string) string {
		before, _, ok := strings.Cut(input, part)
		if !ok {
			panic(part)
		}
		return strconv.Itoa(strings.Count(before, "\n") + 1)
	}
}

// heard plays the events and returns all that the bots of the house were told.
func heard(t *testing.T, events string) string {
	t.Helper()
	house := &fakeHouse{}
	if _, err := render(house, header+events); err != nil {
		t.Fatal(err)
	}
	return strings.Join(house.heard, "\n")
}

func check(t *testing.T, got, want string) {
	t.Helper()
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestWhatTheBotHears(t *testing.T) {
	check(t, heard(t, `2026-10-06 19:12 Priya: 3x18s
2026-10-06 19:12 Ilda > a word
2026-10-06 19:13 Priya: İİ @Rungbook, how far
2026-10-06 19:14 Priya edits 19:12: 3x20s @rungbook
2026-10-06 19:15 Priya deletes 19:13
2026-10-06 19:16 Ilda taps gates on 19:12
`), `resumes
Priya says "3x18s" in channel at 18:12
Ilda says "a word" in private at 18:12 coach
Priya says "İİ how far" in channel at 18:13 to-bot
Priya edits 11 to "3x20s"
Priya deletes 13
Ilda taps gates on 12 of 1`)
}

// What is due at an event's time or before it happens before it, at its own
// instant; the end includes its minute.
func TestDueBeforeEvents(t *testing.T) {
	check(t, heard(t, `2026-10-05 17:29 Priya: a
2026-10-05 17:30 Priya: b
2026-10-05 17:30 Priya: c
2026-10-15 17:30 end
`), `resumes
Priya says "a" in channel at 16:29
nudges at 2026-10-05 16:30:00
Priya says "b" in channel at 16:30
Priya says "c" in channel at 16:30
nudges at 2026-10-08 16:30:00
nudges at 2026-10-12 16:30:00
nudges at 2026-10-15 16:30:00`)
}

// The last instant of the end's minute counts, the next one does not.
func TestEndIncludesItsMinute(t *testing.T) {
	for due, want := range map[time.Duration]int{59*time.Second + 999*time.Millisecond: 1, time.Minute: 0} {
		house := &dueOnce{at: time.Date(2026, 10, 5, 18, 0, 0, 0, time.UTC).Add(due)}
		if err := house.play(header + "2026-10-05 19:00 end\n"); err != nil {
			t.Fatal(err)
		}
		if got := len(house.beats) - 1; got != want { // one when the bot wakes
			t.Errorf("due %v into the end's minute: %d beats", due, got)
		}
	}
}

// Before the clock moves on from events, the bot is asked whether they have
// made something overdue; not between events of one instant, not while offline.
func TestOverdueAtOnce(t *testing.T) {
	house := &dueOnce{at: time.Date(2026, 10, 5, 18, 30, 0, 0, time.UTC)}
	err := house.play(header + `2026-10-05 19:00 Priya: a
2026-10-05 19:00 Priya: b
2026-10-05 19:10 Priya: c
2026-10-05 19:20 offline
2026-10-05 19:25 Priya: d
2026-10-05 19:40 online
2026-10-05 19:50 end
`)
	if err != nil {
		t.Fatal(err)
	}
	// waking; what a and b stirred up; c; online, which misses the due instant
	// at 19:30, and what it stirred up
	check(t, strings.Join(house.beats, " "), "19:00 19:00 19:10 19:40 19:40")
}

// A bot for which nothing falls due hears nothing between events.
func TestWithoutEndTheClockStopsAtTheLastEvent(t *testing.T) {
	if got := heard(t, "2026-10-05 17:29 Priya: a\n"); strings.Contains(got, "nudges") {
		t.Error(got)
	}
}

func TestRestart(t *testing.T) {
	house := &fakeHouse{}
	got, err := render(house, header+`2026-10-05 17:00 Priya: 1
2026-10-05 17:30 restart
2026-10-05 17:31 Priya: 2
`)
	if err != nil {
		t.Fatal(err)
	}
	check(t, strings.Join(house.heard, "\n"), `resumes
Priya says "1" in channel at 16:00
nudges at 2026-10-05 16:30:00
resumes
Priya says "2" in channel at 16:31`)
	if len(house.paths) != 2 || house.paths[0] != house.paths[1] {
		t.Errorf("opened %v", house.paths)
	}
	if house.now.open {
		t.Error("the last bot was left open")
	}
	if !strings.Contains(got, "restart\n2026-10-05 17:31") {
		t.Errorf("a restart is met with something:\n%s", got)
	}
}

// While the bot is offline nothing falls due; on return it first takes in what
// it can still read, in order, and then asks what is due. Commands and taps
// never reach it, nor do edits of commands. A restart meanwhile changes nothing.
func TestOffline(t *testing.T) {
	check(t, heard(t, `2026-10-05 17:00 Priya: hello
2026-10-05 17:10 offline
2026-10-05 17:20 Priya: 1
2026-10-05 17:21 Priya: /gates
2026-10-05 17:22 Priya taps gates on 17:20
2026-10-05 17:40 Priya edits 17:20: 2
2026-10-05 17:41 Priya edits 17:21: 3
2026-10-05 17:42 Priya deletes 17:00
2026-10-05 17:43 restart
2026-10-05 17:50 online
2026-10-05 17:51 Priya: back
`), `resumes
Priya says "hello" in channel at 16:00
catches up on 3
Priya says "1" in channel at 16:20
Priya edits 13 to "2"
Priya deletes 11
resumes
Priya says "back" in channel at 16:51`)
}

// What was left unsent is sent when the bot comes up, under the restart.
func TestResume(t *testing.T) {
	house := &fakeHouse{set: func(b *fakeBot) {
		if len(b.store.roster) > 0 {
			b.store.unsent = append(b.store.unsent, b.post("notice", "private", authorOf("Wen"), 0, "still to say"))
		}
	}}
	got, err := render(house, header+"2026-10-06 17:00 Priya: hello\n2026-10-06 17:30 restart\n2026-10-06 17:40 end\n")
	if err != nil {
		t.Fatal(err)
	}
	check(t, got, header+`2026-10-06 17:00 Priya: hello
~ (silence)
2026-10-06 17:30 restart
~ notice to Wen alone: still to say
2026-10-06 17:40 end
`)
}

// roster says who is on it, in order.
func roster(s *fakeStore) string {
	var out []string
	for _, m := range s.roster {
		out = append(out, fmt.Sprintf("%d %s %s joined=%s since=%s trains=%t coach=%t nudges=%t",
			m.ID, m.Name, m.Zone, m.Joined, m.Since.UTC().Format("01-02 15:04"), m.Trains, m.Coach, m.Nudges))
	}
	return strings.Join(out, "\n")
}

// The header's members are enrolled in its order at the first event's instant;
// coaches who do not train stand before them. Numbers are given in the order of
// first mention. Strangers and managers are not enrolled.
func TestEnrolment(t *testing.T) {
	house := &fakeHouse{}
	_, err := render(house, `team A
zone Europe/Lisbon
guest Bako
manager Mirela
coach Ilda Tomé
members Priya Tomé Wen
member Wen zone Pacific/Auckland

2026-10-05 19:12 Mirela: hello
2026-10-05 19:12 Bako: hello
`)
	if err != nil {
		t.Fatal(err)
	}
	store := house.disk[house.paths[0]]
	check(t, roster(store), `3 Ilda Europe/Lisbon joined=none since=10-05 18:12 trains=false coach=true nudges=true
5 Priya Europe/Lisbon joined=2026-10-05 since=10-05 18:12 trains=true coach=false nudges=true
4 Tomé Europe/Lisbon joined=2026-10-05 since=10-05 18:12 trains=true coach=true nudges=true
6 Wen Pacific/Auckland joined=2026-10-06 since=10-05 18:12 trains=true coach=false nudges=true`)
	if !strings.HasSuffix(house.heard[1], " manager") || strings.HasSuffix(house.heard[2], "manager") {
		t.Errorf("who may manage: %q", house.heard)
	}
}

// A kept database is continued: people are known by their names, new ones get
// numbers of their own, what the header does not say stays.
func TestContinuedDatabase(t *testing.T) {
	db := filepath.Join(t.TempDir(), "team.db")
	house := &fakeHouse{}
	if _, err := playAs(house, header+"2026-10-05 19:12 Priya: hello\n", db, rehearsal.NewText); err != nil {
		t.Fatal(err)
	}
	store := house.disk[db]
	store.roster[2].Nudges = false
	_, err := playAs(house, `team Tidewater
zone Europe/Madrid
days Tue
guest Bako
coach Sanna
members Mirela Priya

2026-11-05 19:12 Bako: hello
2026-11-05 19:12 Priya: hello
`, db, rehearsal.NewText)
	if err != nil {
		t.Fatal(err)
	}
	check(t, roster(store), `1 Ilda Europe/Lisbon joined=none since=10-05 18:12 trains=false coach=true nudges=true
2 Tomé Europe/Lisbon joined=2026-10-05 since=10-05 18:12 trains=true coach=false nudges=true
3 Priya Europe/Lisbon joined=2026-10-05 since=10-05 18:12 trains=true coach=false nudges=false
4 Wen America/Sao_Paulo joined=2026-10-05 since=10-05 18:12 trains=true coach=false nudges=true
5 Sanna Europe/Lisbon joined=2026-10-05 since=10-05 18:12 trains=true coach=true nudges=true
7 Mirela Europe/Madrid joined=2026-11-05 since=11-05 18:12 trains=true coach=false nudges=true`)
	team := store.team
	if team.Name != "Tidewater" || team.Zone.String() != "Europe/Madrid" || team.Days.String() != "Tue" || team.Nudge.String() != "17:30" || team.Digest.String() != "18:00" {
		t.Errorf("team %+v", team)
	}
	if _, err := os.Stat(db); err != nil {
		t.Errorf("the database was not kept: %v", err)
	}
}

// Whoever had themselves erased stays out, though the header names them.
func TestErasedStayOut(t *testing.T) {
	db := filepath.Join(t.TempDir(), "team.db")
	house := &fakeHouse{disk: fakeDisk{db: {blocked: map[training.PersonID]bool{3: true}, decided: map[string]bool{}}}}
	if _, err := playAs(house, header+"2026-10-05 19:12 Tomé: hello\n", db, rehearsal.NewText); err != nil {
		t.Fatal(err)
	}
	if got := roster(house.disk[db]); strings.Contains(got, "Priya") {
		t.Error(got)
	}
}

// A database that nobody wants to keep is gone afterwards, whatever ended the
// rehearsal.
func TestThrowawayDatabase(t *testing.T) {
	t.Setenv("TMPDIR", t.TempDir())
	for name, events := range map[string]string{"well": "2026-10-05 19:12 Priya: hello\n", "badly": "2026-10-05 19:12 Priya: fail\n"} {
		house := &fakeHouse{set: func(b *fakeBot) { b.fails = "fail" }}
		_, err := render(house, header+events)
		if (err != nil) != (name == "badly") {
			t.Errorf("%s: %v", name, err)
		}
		gone(t, house)
	}
}

func gone(t *testing.T, house *fakeHouse) {
	t.Helper()
	if house.now.open {
		t.Error("the bot was left open")
	}
	if _, err := os.Stat(filepath.Dir(house.paths[0])); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("%s is still there: %v", filepath.Dir(house.paths[0]), err)
	}
}
