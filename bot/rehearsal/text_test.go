package rehearsal_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// conversation has each form of a bot's line, on the fake bot. It is written as
// it must come out, so that it is input and expectation in one.
const conversation = `# Tidewater Rings, for the renderer

` + header + `2026-10-05 08:00 Priya: morning all
~ (silence)
# before the nudge

~ 2026-10-05 17:30 nudge in the channel: a session today?
# attached to the message
2026-10-05 19:12 Priya: 3x18s high hold
    | 3x20s toe support
~ in the channel: read 3x18s high hold / 3x20s toe support
2026-10-05 19:13 Tomé > 12
~ to Tomé alone: read 12
2026-10-05 19:20 Priya edits 19:12: 3x20s
~ in the channel, instead: now 3x20s
2026-10-05 19:21 Tomé: lines please
~ in the channel: one
~ |
~ | two & three [withdraw] [gates] (file gates.png) (file data.csv)
2026-10-05 19:22 Tomé: an elbow ow
~ to Tomé alone: stop now
~ notice to coach Ilda: a word please [resume]
2026-10-05 19:23 Ilda taps resume on 19:22
~ to Ilda alone: tapped resume
2026-10-05 19:25 Priya deletes 19:12
~ the answer to Priya's 19:12 is taken down
2026-10-05 23:30 offline
2026-10-05 23:40 Wen: 5 pull-ups
2026-10-05 23:41 Wen: /gates
2026-10-05 23:42 Wen edits 23:41: 3x30
2026-10-05 23:43 Wen taps gates on 23:40
2026-10-06 08:00 Tomé deletes 2026-10-05 19:13
2026-10-06 09:00 online
~ ✓ on Wen's 2026-10-05 23:40
~ the answer to Tomé's 2026-10-05 19:13 is taken down
2026-10-06 09:05 restart
2026-10-06 09:10 Priya: /gates
~ to Priya alone: done </gates>
2026-10-06 09:11 Priya edits 09:10: 3x30
~ (silence)

# the last day

~ 2026-10-08 17:30 nudge in the channel: a session today?
2026-10-08 17:30 end

# the end
`

func TestText(t *testing.T) {
	got, err := render(&fakeHouse{}, conversation)
	if err != nil {
		t.Fatal(err)
	}
	if got != conversation {
		t.Errorf("got\n%s", diff(got, conversation))
	}
}

// The welcome is written in short only where the header asks for it; either
// form may stand in what is read.
func TestWelcomeInShort(t *testing.T) {
	const said = "2026-10-05 19:12 Priya: my first\n"
	const full = "~ notice to Priya alone: Welcome. One\n~ | two\n~ notice to Priya alone: Welcome back.\n"
	const short = "~ notice to Priya alone: (welcome)\n~ notice to Priya alone: Welcome back.\n"
	for _, test := range []struct{ key, want string }{
		{"", full}, {"welcome  full\n", full}, {"welcome  short\n", short},
	} {
		for _, before := range []string{"", full, short} {
			head := strings.TrimSuffix(header, "\n") + test.key + "\n" + said
			got, err := render(&fakeHouse{}, head+before)
			if err != nil || got != head+test.want {
				t.Errorf("header %q: %v\n%s", test.key, err, diff(got, head+test.want))
			}
		}
	}
}

// diff shows the first line that differs, and what stands around it.
func diff(got, want string) string {
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range max(len(g), len(w)) {
		if i >= len(g) || i >= len(w) || g[i] != w[i] {
			from := max(i-2, 0)
			return strings.Join(g[from:min(i+3, len(g))], "\n") + "\nwant\n" + strings.Join(w[from:min(i+3, len(w))], "\n")
		}
	}
	return "the same"
}

// Without the bot's lines the same conversation comes out again.
func TestTextWithoutTheBotsLines(t *testing.T) {
	var input []string
	for line := range strings.Lines(conversation) {
		if !strings.HasPrefix(line, "~") {
			input = append(input, line)
		}
	}
	got, err := render(&fakeHouse{}, strings.Join(input, ""))
	if err != nil {
		t.Fatal(err)
	}
	if got != conversation {
		t.Errorf("got\n%s", diff(got, conversation))
	}
}

// A conversation without events is copied as it stands, and nothing is opened.
func TestTextOfAHeaderAlone(t *testing.T) {
	house := &fakeHouse{}
	got, err := render(house, "# only\n\n"+header+"# this")
	if err != nil || got != "# only\n\n"+header+"# this\n" || len(house.paths) > 0 {
		t.Errorf("%v, opened %v\n%s", err, house.paths, got)
	}
}

// Any conversation's rendering renders to itself.
func TestRenderingIsStable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		input := randomConversation(t)
		first, err := render(&fakeHouse{}, input)
		if err != nil {
			t.Fatalf("%v in\n%s", err, input)
		}
		second, err := render(&fakeHouse{}, first)
		if err != nil {
			t.Fatalf("%v in\n%s", err, first)
		}
		if first != second {
			t.Fatalf("not stable:\n%s", diff(second, first))
		}
		for line := range strings.Lines(input) {
			if !strings.HasPrefix(line, "~") && !strings.HasPrefix(line, "  |") && !strings.Contains(first, strings.TrimRight(line, "\r\n")+"\n") {
				t.Fatalf("line %q is not echoed in\n%s", line, first)
			}
		}
	})
}

var stray = []string{"", "# a comment", "  # another", "~ a line of the bot", "~ | more", "  | continued", " \t"}

// randomConversation puts events of every kind and stray lines together.
func randomConversation(t *rapid.T) string {
	var out strings.Builder
	out.WriteString(header)
	minute, offline, continues := 0, false, false
	said := ""
	for range rapid.IntRange(0, 20).Draw(t, "events") {
		for _, line := range rapid.SliceOfN(rapid.SampledFrom(stray), 0, 3).Draw(t, "between") {
			if line == "  | continued" && !continues {
				continue
			}
			out.WriteString(line + rapid.SampledFrom([]string{"\n", "\r\n"}).Draw(t, "end"))
		}
		minute += rapid.IntRange(0, 900).Draw(t, "minutes")
		stamp := clock(minute)
		kind := rapid.IntRange(0, 6).Draw(t, "kind")
		text := rapid.SampledFrom([]string{"hello", "3x30", "lines", "ow", "/gates", "~ x", "# y"}).Draw(t, "text")
		continues = true
		switch {
		case kind == 0 && said != "":
			out.WriteString(stamp + " Priya edits " + said + ": " + text + "\n")
		case kind == 1 && said != "":
			out.WriteString(stamp + " Priya deletes " + said + "\n")
			continues = false
		case kind == 2 && said != "":
			out.WriteString(stamp + " Ilda taps gates on " + said + "\n")
			continues = false
		case kind == 3:
			out.WriteString(stamp + " " + map[bool]string{false: "offline", true: "online"}[offline] + "\n")
			offline, continues = !offline, false
		case kind == 4:
			out.WriteString(stamp + " restart\n")
			continues = false
		default:
			out.WriteString(stamp + " Priya" + rapid.SampledFrom([]string{":", " >"}).Draw(t, "place") + " " + text + "\n")
			said = stamp
		}
	}
	if offline {
		out.WriteString(clock(minute) + " online\n")
	}
	if rapid.Bool().Draw(t, "ends") {
		out.WriteString(clock(minute+3000) + " end")
	}
	return out.String()
}
