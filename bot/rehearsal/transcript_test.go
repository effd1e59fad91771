package rehearsal_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"rungbook/bot"
	"rungbook/bot/rehearsal"
	"rungbook/training"
)

const header = `team     Tidewater Rings
zone     Europe/Lisbon
days     Mon Thu
nudge    17:30
digest   Sun 18:00
quiet    22:00-07:00
coach    Ilda
members  Tomé Priya Wen Sanna
member   Wen zone America/Sao_Paulo

`

func parse(t *testing.T, text string) *rehearsal.Transcript {
	t.Helper()
	transcript, err := rehearsal.Parse("test.chat", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return transcript
}

func TestHeader(t *testing.T) {
	transcript := parse(t, header)
	team := transcript.Team
	got := fmt.Sprintf("%s in %s on %s, nudge %s, digest %s %s, quiet %s to %s",
		team.Name, team.Zone, team.Days, team.Nudge, team.DigestDay, team.Digest, team.Quiet.From, team.Quiet.Until)
	if got != "Tidewater Rings in Europe/Lisbon on Mon Thu, nudge 17:30, digest Sunday 18:00, quiet 22:00 to 07:00" {
		t.Errorf("team %s", got)
	}
	var people []string
	for _, p := range transcript.People {
		zone := "the team's"
		if p.Zone != nil {
			zone = p.Zone.String()
		}
		people = append(people, fmt.Sprintf("%s %s member=%t coach=%t", p.Name, zone, p.Member, p.Coach))
	}
	want := []string{
		"Ilda the team's member=false coach=true", "Tomé the team's member=true coach=false",
		"Priya the team's member=true coach=false", "Wen America/Sao_Paulo member=true coach=false",
		"Sanna the team's member=true coach=false",
	}
	if !slices.Equal(people, want) {
		t.Errorf("people\n%q, want\n%q", people, want)
	}
}

// Where the header is silent: quiet hours as the contract's example shows; the
// other times those of the example as well; no team days, so no nudge.
func TestHeaderDefaults(t *testing.T) {
	team := parse(t, "team A\nzone UTC\n").Team
	want := training.Team{Name: "A", Zone: time.UTC, Nudge: 1050, DigestDay: time.Sunday, Digest: 1080, Quiet: training.Quiet{From: 1320, Until: 420}}
	if team != want {
		t.Errorf("got %+v, want %+v", team, want)
	}
}

func TestNamesSplit(t *testing.T) {
	for _, test := range []struct{ lines, want string }{
		{"members Tomé Priya", "Tomé|Priya"},
		{"members  Tomé\tPriya ", "Tomé|Priya"},
		{"members Ana Rita, Wen", "Ana Rita|Wen"},
		{"members Ana Rita,", "Ana Rita"},
		{"coach Ilda\ncoach Sanna, Rui Pedro\nmembers Wen", "Ilda|Sanna|Rui Pedro|Wen"},
		{"guest Rui Pedro\nguest Bako", "Rui Pedro|Bako"},
		{"manager Mirela\nmembers Mirela", "Mirela"},
		{"coach Ilda\nmembers Wen Ilda", "Ilda|Wen"},
	} {
		var names []string
		for _, person := range parse(t, "team A\nzone UTC\n"+test.lines+"\n").People {
			names = append(names, person.Name)
		}
		if got := strings.Join(names, "|"); got != test.want {
			t.Errorf("%q gives %s, want %s", test.lines, got, test.want)
		}
	}
}

// describe says an event in one line.
func describe(e *rehearsal.Event) string {
	out := fmt.Sprintf("%d %s %s", e.Line, e.At.UTC().Format("01-02 15:04"), e.Kind)
	if e.Who != nil {
		out += fmt.Sprintf(" %s %s %q", e.Who.Name, e.Place, e.Text)
	}
	if e.On != nil {
		out += fmt.Sprintf(" on %d", e.On.Line)
	}
	if e.Button != "" {
		out += " " + string(e.Button)
	}
	return out
}

func TestEvents(t *testing.T) {
	transcript := parse(t, header+`# a comment
2026-10-05 19:12 Priya: 3x18s high hold, 3x20s toe support
2026-10-05 19:13 Priya: /gates
2026-10-05 19:20 Priya edits 19:12: 3x20s high hold
    | 3x20s toe support
2026-10-05 19:25 Priya deletes 19:12
2026-10-05 19:30 Priya > a question: for the bot alone
	|  with a second line
~ a line of the bot
~ | and its second
  | and one that continues it
2026-10-06 08:00 restart
2026-10-06 08:00 offline
2026-10-06 08:00+00:00 Wen: hm > that: was it
2026-10-06 10:30 online
2026-10-06 10:31 Ilda taps resume on 2026-10-05 19:30
2026-10-06 10:32 Priya taps gates on 2026-10-05 19:12
2026-10-06 10:32 Ilda taps witness on Priya's 2026-10-05 19:30
2026-10-06 10:33 Wen edits 09:00: x
2026-10-18 20:00 end
# nothing more
`)
	want := []string{
		`12 10-05 18:12 says Priya channel "3x18s high hold, 3x20s toe support"`,
		`13 10-05 18:13 says Priya channel "/gates"`,
		`14 10-05 18:20 edits Priya channel "3x20s high hold\n3x20s toe support" on 12`,
		`16 10-05 18:25 deletes Priya channel "" on 12`,
		`17 10-05 18:30 says Priya private "a question: for the bot alone\n with a second line"`,
		`22 10-06 07:00 restart`,
		`23 10-06 07:00 offline`,
		`24 10-06 08:00 says Wen channel "hm > that: was it"`,
		`25 10-06 09:30 online`,
		`26 10-06 09:31 taps Ilda private "" on 17 resume`,
		`27 10-06 09:32 taps Priya channel "" on 12 gates`,
		`28 10-06 09:32 taps Ilda private "" on 17 witness`,
		`29 10-06 09:33 edits Wen channel "x" on 24`,
		`30 10-18 19:00 end`,
	}
	var got []string
	for _, event := range transcript.Events {
		got = append(got, describe(event))
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// The number of a message is its instant in milliseconds times a million plus
// its line, so that it grows with time and with the line.
func TestMessageNumber(t *testing.T) {
	event := parse(t, header+"2026-10-05 19:12 Priya: hello\n").Events[0]
	if got, want := event.ID(), training.MessageID(1791223920000*1_000_000+11); got != want {
		t.Errorf("got %d, want %d", got, want)
	}
}

// The latest message of the minute is meant; one deleted gives way to the one
// before it, and the last one left is still found.
func TestLatestOfTheMinute(t *testing.T) {
	transcript := parse(t, header+`2026-10-05 19:12 Priya: one
2026-10-05 19:12 Priya > two
2026-10-05 19:12 Tomé: three
2026-10-05 19:13 Priya edits 19:12: two again
2026-10-05 19:13 Priya deletes 19:12
2026-10-05 19:14 Priya edits 19:12: one again
2026-10-05 19:14 Priya deletes 19:12
2026-10-05 19:15 Priya deletes 19:12
2026-10-05 19:16 Ilda taps gates on 19:12
`)
	var on []int
	var places []bot.Place
	for _, event := range transcript.Events[3:] {
		on = append(on, event.On.Line)
		places = append(places, event.Place)
	}
	if want := []int{12, 12, 11, 11, 11, 13}; !slices.Equal(on, want) {
		t.Errorf("named lines %v, want %v", on, want)
	}
	if places[0] != bot.Private || places[2] != bot.Channel {
		t.Errorf("places %v", places)
	}
}

// Europe/Lisbon sets its clock forward at 01:00 on 2026-03-29 and back at 02:00
// on 2026-10-25 (IANA zone data); Lord Howe shifts by half an hour.
func TestStamps(t *testing.T) {
	for _, test := range []struct{ zone, stamp, want string }{
		{"Europe/Lisbon", "2026-10-05 19:12", "2026-10-05T18:12Z"},
		{"Europe/Lisbon", "2026-10-25 01:30", "2026-10-25T00:30Z"}, // the first of two
		{"Europe/Lisbon", "2026-10-25 01:30+01:00", "2026-10-25T00:30Z"},
		{"Europe/Lisbon", "2026-10-25 01:30+00:00", "2026-10-25T01:30Z"},
		{"Europe/Lisbon", "2026-10-25 01:30Z", "2026-10-25T01:30Z"},
		{"Europe/Lisbon", "2026-10-25 01:30 +00:00", "2026-10-25T01:30Z"},
		{"Europe/Lisbon", "2026-10-25 01:30 -0330", "2026-10-25T05:00Z"},
		{"Europe/Lisbon", "2026-10-25 01:30 +05", "2026-10-24T20:30Z"},
		{"Europe/Lisbon", "2026-10-25 00:59", "2026-10-24T23:59Z"},
		{"Europe/Lisbon", "2026-10-25 02:00", "2026-10-25T02:00Z"},
		{"Europe/Lisbon", "2026-03-29 00:59", "2026-03-29T00:59Z"},
		{"Europe/Lisbon", "2026-03-29 02:00", "2026-03-29T01:00Z"},
		{"Australia/Lord_Howe", "2026-04-05 01:45", "2026-04-04T14:45Z"},
		{"America/New_York", "2026-11-01 01:15", "2026-11-01T05:15Z"},
		{"Pacific/Apia", "2011-12-29 23:59", "2011-12-30T09:59Z"},
		{"Pacific/Apia", "2011-12-31 00:00", "2011-12-30T10:00Z"},
	} {
		text := "team A\nzone " + test.zone + "\nmembers Wen\n\n" + test.stamp + " Wen: hello\n"
		transcript, err := rehearsal.Parse("test.chat", []byte(text))
		if err != nil {
			t.Errorf("%s in %s: %v", test.stamp, test.zone, err)
			continue
		}
		if got := transcript.Events[0].At.UTC().Format("2006-01-02T15:04Z07:00"); got != test.want {
			t.Errorf("%s in %s is %s, want %s", test.stamp, test.zone, got, test.want)
		}
	}
}

// The second reading of a doubled hour is named by its offset.
func TestReferenceInTheDoubledHour(t *testing.T) {
	transcript := parse(t, header+`2026-10-25 01:30 Priya: one
2026-10-25 01:30+00:00 Priya: two
2026-10-25 01:40Z Priya edits 01:30: two again
2026-10-25 01:40Z Priya edits 01:30+01:00: one again
2026-10-25 01:41Z Priya deletes 2026-10-25 01:30+00:00
`)
	for i, want := range []int{12, 11, 12} {
		if got := transcript.Events[2+i].On.Line; got != want {
			t.Errorf("event %d is about line %d, want %d", 2+i, got, want)
		}
	}
}

func TestFaults(t *testing.T) {
	const said = header + "2026-10-05 19:12 Priya: 3x18s\n" // line 11
	long := strings.Repeat("# a line\n", 1_000_000)
	for name, test := range map[string]struct {
		text string
		line int
		say  string
	}{
		"empty file":           {"", 1, "the header has no team"},
		"no team":              {"zone UTC\n\n", 2, "the header has no team; add a line"},
		"no zone":              {"team A\n\n", 2, "the header has no zone; add a line"},
		"no header":            {"2026-10-05 19:12 Priya: x\n", 1, "the header is missing"},
		"no blank line":        {"team A\nzone UTC\nmembers Wen\n2026-10-05 19:12 Wen: x\n", 4, "a blank line must stand"},
		"welcome":              {"team A\nwelcome brief\n", 2, `welcome "brief": write short, to print it as (welcome), or full`},
		"unknown key":          {"team A\ncolour blue\n", 2, `unknown header key "colour"; the keys are team, zone`},
		"key without value":    {"team A\nzone\n", 2, "zone has no value"},
		"repeated key":         {"team A\nzone UTC\nteam B\n", 3, "team stands on line 1 already"},
		"repeated members":     {"team A\nzone UTC\nmembers B\nmembers C\n", 4, "members stands on line 3 already"},
		"unknown zone":         {"team A\nzone Europe/Aveiro\n", 2, `unknown zone "Europe/Aveiro"; use an IANA name`},
		"the host's zone":      {"team A\nzone Local\n", 2, `unknown zone "Local"`},
		"wrong day":            {"team A\ndays Mon Thx\n", 2, `"Thx"`},
		"wrong nudge":          {"team A\nnudge 7:30\n", 2, `"7:30"`},
		"nudge too early":      {"team A\nnudge 03:59\n", 2, "nudge 03:59 is too early; choose a time from 04:00 to 23:59"},
		"digest without time":  {"team A\ndigest Sun\n", 2, "write a weekday and a time, as Sun 18:00"},
		"digest wrong day":     {"team A\ndigest Sux 18:00\n", 2, `"Sux"`},
		"digest too early":     {"team A\ndigest Sun 03:00\n", 2, "digest 03:00 is too early"},
		"quiet without end":    {"team A\nquiet 22:00\n", 2, "write two times, as 22:00-07:00"},
		"quiet wrong":          {"team A\nquiet 22:00-25:00\n", 2, `"25:00"`},
		"member named twice":   {"team A\nmembers Wen Wen\n", 2, "Wen is named as member twice"},
		"coach named twice":    {"team A\ncoach Wen\ncoach Ilda Wen\n", 3, "Wen is named as coach twice"},
		"guest and member":     {"team A\nguest Wen\nmembers Wen\n", 3, "Wen can't be a guest and of the team"},
		"names alike":          {"team A\nmembers Wen wen\n", 2, "Wen and wen differ by capitals alone"},
		"empty name":           {"team A\nmembers Wen,, Ana\n", 2, "an empty name between two commas"},
		"name with a colon":    {"team A\nmembers Wen: Ana\n", 2, `the name "Wen:" would not be told from the text`},
		"zone of a stranger":   {"team A\nzone UTC\nmember Wen zone UTC\nmembers Ana\n\n", 3, "Wen is no member"},
		"zone of a guest":      {"team A\nzone UTC\nguest Wen\nmember Wen zone UTC\n\n", 4, "Wen is no member"},
		"member without zone":  {"team A\nzone UTC\nmembers Wen\nmember Wen\n", 4, "write a name, the word zone and the zone"},
		"member's zone":        {"team A\nmember Wen zone Mars/Base\n", 2, `unknown zone "Mars/Base"`},
		"two zones":            {"team A\nzone UTC\nmembers Wen\nmember Wen zone UTC\nmember Wen zone UTC\n", 5, "Wen has a zone already"},
		"header line below":    {header + "days Tue\n", 11, "days is a header line; move it above"},
		"no stamp":             {header + "Priya: hello\n", 11, "an event begins with a date and a time"},
		"wrong date":           {header + "2026-02-30 19:12 Priya: hello\n", 11, "there is no 2026-02-30 19:12"},
		"wrong time":           {header + "2026-02-28 24:00 Priya: hello\n", 11, "there is no 2026-02-28 24:00"},
		"wrong offset":         {header + "2026-02-28 12:00+16:00 Priya: hello\n", 11, "there is no offset +16:00"},
		"wrong minutes":        {header + "2026-02-28 12:00+01:60 Priya: hello\n", 11, "there is no offset +01:60"},
		"out of reach":         {header + "1969-12-31 12:00 Priya: hello\n", 11, "the year 1969 is out of reach"},
		"never was":            {header + "2026-03-29 01:30 Priya: hello\n", 11, "the clock in Europe/Lisbon never shows 2026-03-29 01:30"},
		"a day that never was": {"team A\nzone Pacific/Apia\nmembers B\n\n2011-12-30 12:00 B: hi\n", 5, "never shows 2011-12-30 12:00"},
		"back in time":         {said + "2026-10-05 19:11 Priya: x\n", 12, "this is earlier than line 11, 2026-10-05 19:12"},
		"clock set back":       {header + "2026-10-25 01:50 Priya: x\n2026-10-25 01:10 Priya: y\n", 12, "where the clock is set back give an offset"},
		"after the end":        {said + "2026-10-05 20:00 end\n2026-10-05 20:00 Priya: x\n", 13, "the end stands on line 12 already"},
		"unknown name":         {header + "2026-10-05 19:12 Prya: x\n", 11, `nobody is called "Prya"; the header names Ilda, Tomé, Priya, Wen, Sanna`},
		"nobody at all":        {"team A\nzone UTC\n\n2026-10-05 19:12 Prya > x\n", 4, `nobody is called "Prya": the header names no one`},
		"unknown deed":         {header + "2026-10-05 19:12 Priya sings\n", 11, "can't tell what Priya does"},
		"name alone":           {header + "2026-10-05 19:12 Priya\n", 11, "can't tell what Priya does"},
		"nothing":              {header + "2026-10-05 19:12\n", 11, `nobody is called ""`},
		"edit of nothing":      {said + "2026-10-05 19:13 Priya edits 19:11: x\n", 12, "there is no message of Priya at 2026-10-05 19:11"},
		"edit of another's":    {said + "2026-10-05 19:13 Wen edits 19:12: x\n", 12, "there is no message of Wen at 2026-10-05 19:12"},
		"edit of yesterday's":  {said + "2026-10-06 00:10 Priya edits 19:12: x\n", 12, "there is no message of Priya at 2026-10-06 19:12"},
		"edit without text":    {said + "2026-10-05 19:13 Priya edits 19:12\n", 12, "can't read what is edited"},
		"deletion of nothing":  {said + "2026-10-05 19:13 Priya deletes\n", 12, "can't read what is deleted"},
		"deletion unread":      {said + "2026-10-05 19:13 Priya deletes it\n", 12, `can't read which message "it" is`},
		"tap of nothing":       {said + "2026-10-05 19:13 Ilda taps resume on 19:11\n", 12, "there is no message of anybody at"},
		"tap of another's":     {said + "2026-10-05 19:13 Ilda taps resume on Wen's 19:12\n", 12, "there is no message of Wen at"},
		"unknown button":       {said + "2026-10-05 19:13 Ilda taps green on 19:12\n", 12, `there is no button "green"; the buttons are withdraw, gates`},
		"tap without message":  {said + "2026-10-05 19:13 Ilda taps resume\n", 12, "can't read what is tapped"},
		"offline twice":        {said + "2026-10-05 19:13 offline\n2026-10-05 19:13 offline\n", 13, "offline since line 12 already"},
		"online twice":         {said + "2026-10-05 19:13 online\n", 12, "the bot is online already"},
		"offline for good":     {said + "2026-10-05 19:13 offline\n2026-10-05 19:13 end\n", 12, "offline has no online"},
		"continues nothing":    {header + "  | more\n", 11, "there is none above it"},
		"continues the header": {"team A\n  | more\n", 2, "there is none above it"},
		"continues a restart":  {said + "2026-10-05 19:13 restart\n  | more\n", 13, `"restart" above it has none`},
		"continues a deletion": {said + "2026-10-05 19:13 Priya deletes 19:12\n  | more\n", 13, `"deletes" above it has none`},
		"not UTF-8":            {header + "2026-10-05 19:12 Priya: \xff\n", 11, "this is not UTF-8"},
		"too long":             {long, 1_000_000, "too long"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := rehearsal.Parse("test.chat", []byte(test.text))
			var fault *rehearsal.Fault
			if !errors.As(err, &fault) {
				t.Fatalf("got %v, want a fault", err)
			}
			if fault.Line != test.line || !strings.Contains(fault.Say, test.say) {
				t.Errorf("got %v, want line %d: %s", err, test.line, test.say)
			}
			if strings.Contains(err.Error(), "\n") || !strings.HasPrefix(err.Error(), fmt.Sprintf("test.chat:%d: ", fault.Line)) {
				t.Errorf("%q is not one line of file:line: what", err)
			}
		})
	}
}

// A byte order mark and carriage returns come from other systems' editors: they
// are no part of what was said.
func TestForeignFiles(t *testing.T) {
	plain := header + "2026-10-05 19:12 Priya: 3x18s\n    | 2x5\n2026-10-06 19:12 end"
	want, err := render(&fakeHouse{}, plain)
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{
		"byte order mark":   "\ufeff" + plain,
		"carriage returns":  strings.ReplaceAll(plain, "\n", "\r\n"),
		"both, and doubled": "\ufeff" + strings.ReplaceAll(plain, "\n", "\r\r\n") + "\r",
	} {
		if got, err := render(&fakeHouse{}, text); err != nil || got != want {
			t.Errorf("%s: got %v\n%s\nwant\n%s", name, err, got, want)
		}
	}
}

// TestEveryButton is read in a transcript.
func TestEveryButton(t *testing.T) {
	for _, button := range bot.Buttons() {
		lines := fmt.Sprintf("2026-10-05 19:12 Priya: 3x18s\n2026-10-05 19:13 Ilda taps %s on 19:12\n", button)
		transcript, err := rehearsal.Parse("x.chat", []byte(header+lines))
		if err != nil {
			t.Errorf("%s: %v", button, err)
			continue
		}
		if last := transcript.Events[len(transcript.Events)-1]; last.Button != button {
			t.Errorf("%s is read as %s", button, last.Button)
		}
	}
}
