package rehearsal_test

import (
	"strings"
	"testing"

	"rungbook/bot/rehearsal"
)

// One object for each thing the bot does, in order: answers and line stand
// where a message is answered, the line being that of the event which caused
// the object; at has the team's offset; nothing is escaped for a web page.
func TestJSONLines(t *testing.T) {
	got, err := playAs(&fakeHouse{}, conversation, "", rehearsal.NewJSON)
	if err != nil {
		t.Fatal(err)
	}
	line := lineOf(conversation)
	want := strings.NewReplacer(
		"L1", line("19:12 Priya: 3x18s"), "L2", line("19:13 Tomé"), "L3", line("19:20 Priya edits"), "L4", line("19:21 Tomé"),
		"L5", line("19:22 Tomé"), "L6", line("19:23 Ilda"), "L7", line("19:25 Priya"), "L8", line("23:40 Wen"),
		"L9", line("08:00 Tomé deletes"), "L0", line("09:10 Priya"),
	).Replace(`{"at":"2026-10-05T17:30:00+01:00","kind":"nudge","to":"channel","text":"a session today?","facts":{}}
{"at":"2026-10-05T19:12:00+01:00","kind":"reply","to":"channel","member":"Priya","answers":"2026-10-05 19:12","line":L1,"text":"read 3x18s high hold / 3x20s toe support","facts":{}}
{"at":"2026-10-05T19:13:00+01:00","kind":"reply","to":"private","member":"Tomé","answers":"2026-10-05 19:13","line":L2,"text":"read 12","facts":{}}
{"at":"2026-10-05T19:20:00+01:00","kind":"revise","to":"channel","member":"Priya","answers":"2026-10-05 19:12","line":L3,"text":"now 3x20s","facts":{}}
{"at":"2026-10-05T19:21:00+01:00","kind":"reply","to":"channel","member":"Tomé","answers":"2026-10-05 19:21","line":L4,"text":"one\r\n\ntwo & three","pictures":["gates.png"],"facts":{}}
{"at":"2026-10-05T19:22:00+01:00","kind":"reply","to":"private","member":"Tomé","answers":"2026-10-05 19:22","line":L5,"text":"stop now","facts":{}}
{"at":"2026-10-05T19:22:00+01:00","kind":"notice","to":"coach","member":"Ilda","text":"a word please","facts":{}}
{"at":"2026-10-05T19:23:00+01:00","kind":"reply","to":"private","member":"Ilda","answers":"2026-10-05 19:22","line":L6,"text":"tapped resume","facts":{}}
{"at":"2026-10-05T19:25:00+01:00","kind":"withdraw","to":"channel","member":"Priya","answers":"2026-10-05 19:12","line":L7,"text":"","facts":{}}
{"at":"2026-10-06T09:00:00+01:00","kind":"mark","to":"channel","member":"Wen","answers":"2026-10-05 23:40","line":L8,"text":"","facts":{}}
{"at":"2026-10-06T09:00:00+01:00","kind":"withdraw","to":"private","member":"Tomé","answers":"2026-10-05 19:13","line":L9,"text":"","facts":{}}
{"at":"2026-10-06T09:10:00+01:00","kind":"reply","to":"private","member":"Priya","answers":"2026-10-06 09:10","line":L0,"text":"done </gates>","facts":{}}
{"at":"2026-10-08T17:30:00+01:00","kind":"nudge","to":"channel","text":"a session today?","facts":{}}
`)
	if got != want {
		t.Errorf("got\n%s", diff(got, want))
	}
}

// In winter the zone's offset is written out as well.
func TestJSONOffsetOfZero(t *testing.T) {
	got, err := playAs(&fakeHouse{}, header+"2026-11-05 08:00 Priya: 1\n", "", rehearsal.NewJSON)
	if err != nil || !strings.HasPrefix(got, `{"at":"2026-11-05T08:00:00+00:00","kind":"reply"`) {
		t.Errorf("%v\n%s", err, got)
	}
}
