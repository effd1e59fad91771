package programme

import (
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"rungbook/training"
)

// TestBuiltin holds the embedded file against the table of the design: ladders,
// gates and rest rule are common practice, no source.
func TestBuiltin(t *testing.T) {
	p := Builtin()
	var lines []string
	for _, l := range p.Ladders {
		line := l.Name + ":"
		for _, r := range l.Rungs {
			line += " " + r.Name
			if r.MoveOn != (training.Standard{}) {
				line += fmt.Sprintf(" %dx%d", r.MoveOn.Sets, r.MoveOn.Work)
			}
			if r.Cue == "" || r.SetUp == "" || r.Caution == "" || r.RepS != 3 {
				t.Errorf("%s lacks a cue, a set-up, a caution or its 3 s a rep", r.ID)
			}
		}
		lines = append(lines, fmt.Sprintf("%s counts=%v advice=%v tries=%v", line, l.Counts, l.Advice, l.Tries))
	}
	for _, g := range p.Gates {
		lines = append(lines, fmt.Sprintf("gate %s %dx%d q%d blocking=%v", p.NameOf(g.Rung), g.Sets, g.Work, g.RestS, g.Blocking))
	}
	want := []string{
		"pull: ring rows 3x8 band pull-ups 3x5 slow lowers 3x3 pull-ups counts=false advice=false tries=false",
		"false grip: high hold 1x30 mid hang 1x30 deep hang counts=true advice=false tries=false",
		"support: toe support 1x30 support counts=true advice=false tries=false",
		"transition: toe transitions 1x60 transitions counts=true advice=false tries=false",
		"dips: dips 1x5 ring dips counts=false advice=true tries=false",
		"attempts: muscle-up counts=true advice=false tries=true",
		"gate pull-ups 1x5 q0 blocking=true",
		"gate deep hang 3x30 q60 blocking=true",
		"gate support 3x30 q60 blocking=true",
		"gate transitions 3x60 q60 blocking=true",
		"gate ring dips 1x5 q0 blocking=false",
	}
	if !slices.Equal(lines, want) {
		t.Errorf("the built-in programme reads\n%s\nwant\n%s", strings.Join(lines, "\n"), strings.Join(want, "\n"))
	}
	if p.Rest != (training.RestRule{ClearDays: 2, Sessions: 2}) {
		t.Errorf("rest rule is %+v, want 2 clear days and 2 sessions", p.Rest)
	}
	shape := training.Shape{
		WarmUp: p.Shape.WarmUp, // in the file's own words

		Sets: 3, Tries: 5, TryRestS: 150, Replaces: "transition", LighterAfterWeeks: 6,
		Alternate: []string{"false grip", "support"},
		RestS:     map[string]int{"pull": 120, "false grip": 60, "support": 60, "transition": 60, "dips": 120},
	}
	if !reflect.DeepEqual(p.Shape, shape) {
		t.Errorf("shape is %+v\nwant %+v", p.Shape, shape)
	}
}

// TestShipped loads every programme of the binary and looks each rung up.
func TestShipped(t *testing.T) {
	for _, s := range shipped {
		p, err := Load(s.file, s.data)
		if err != nil {
			t.Fatalf("%s: %v", s.file, err)
		}
		if p.ID != s.id {
			t.Errorf("%s has the id %q, want %q", s.file, p.ID, s.id)
		}
		for _, l := range p.Ladders {
			for _, r := range l.Rungs {
				if ladder, rung, ok := p.Find(r.ID); !ok || ladder.Name != l.Name || rung.Name != r.Name {
					t.Errorf("%s: rung %s is not found where it stands", s.file, r.ID)
				}
			}
		}
		if named, ok := Named(s.id); !ok || named.Name != p.Name {
			t.Errorf("Named(%q) = %v, %v", s.id, named, ok)
		}
	}
	if !slices.Contains(IDs(), Builtin().ID) {
		t.Errorf("IDs() = %v lacks the built-in programme", IDs())
	}
	if _, ok := Named("no-such"); ok {
		t.Error("Named finds a programme that is not there")
	}
}

// faultCases change one place of the built-in file each. key and say are the
// fault's, say its beginning; its line is that of the change, or of the first
// line that holds at.
var faultCases = []struct {
	name, old, new, at string
	key, say           string
}{
	{"unknown key", "  clear_days: 2 ", "  rest_days: 2\n  clear_days: 2 ", "", "rest.rest_days", "is not known here; use one of clear_days, sessions"},
	{"unknown key of a rung", "unit: reps\n        move_on: {sets: 3, work: 8}", "unit: reps\n        goal: 4\n        move_on: {sets: 3, work: 8}", "goal: 4", "ladders.rungs.goal", "is not known here"},
	{"key twice", "id: ring-muscle-up\n", "id: ring-muscle-up\nid: other\n", "id: other", "id", "stands twice; keep one"},
	{"missing key", "  - name: pull\n    counts: false\n", "  - name: pull\n", "", "ladders.counts", "is missing; add it"},
	{"clear days below 0", "clear_days: 2", "clear_days: -1", "", "rest.clear_days", "is -1; it must be from 0 to 6"},
	{"clear days above 6", "clear_days: 2", "clear_days: 7", "", "rest.clear_days", "is 7; it must be from 0 to 6"},
	{"no sessions", "sessions: 2 ", "sessions: 0 ", "", "rest.sessions", "is 0; it must be from 1 to 7"},
	{"too many sessions", "sessions: 2 ", "sessions: 8 ", "", "rest.sessions", "is 8; it must be from 1 to 7"},
	{"sessions that do not fit a week", "sessions: 2 ", "sessions: 3 ", "rest:", "rest", "3 sessions with 2 clear days between do not fit a week"},
	{"not a number", "clear_days: 2", "clear_days: two", "", "rest.clear_days", `is "two"; write a whole number from 0 to 6`},
	{"a fraction", "clear_days: 2", "clear_days: 2.5", "", "rest.clear_days", `is "2.5"; write a whole number`},
	{"not a flag", "advice: true", "advice: maybe", "", "ladders.advice", `is "maybe"; write true or false`},
	{"empty ladder", "tries: true\n    rungs:\n", "tries: true\n    rungs: []\n    was:\n", "rungs: []", "ladders.rungs", "is an empty list"},
	{"ladder name twice", "- name: support\n    counts", "- name: pull\n    counts", "", "ladders", `two ladders are called "pull"`},
	{"second ladder of tries", "  - name: dips\n    counts: false\n    advice: true", "  - name: dips\n    counts: false\n    advice: true\n    tries: true", "  - name: attempts", "ladders", `"attempts" is a second ladder of tries`},
	{"two rungs of tries", "advice: true", "advice: true\n    tries: true", "- name: dips", "ladders", `ladder "dips" has 2 rungs; tries are of one thing`},
	{"rung id twice", "- id: mid-hang", "- id: high-hold", "", "ladders.rungs", `two rungs have the id "high-hold"`},
	{"rung name twice", "name: mid hang", "name: high hold", "", "ladders.rungs.name", `"high hold" stands already in line`},
	{"alias twice", "aliases: [dip,", "aliases: [dip, row,", "", "ladders.rungs.aliases", `"row" stands already in line`},
	{"alias that is another's name", "aliases: [dip,", "aliases: [dip, support,", "", "ladders.rungs.aliases", `"support" stands already in line`},
	{"capital letters", "name: mid hang", "name: Mid hang", "", "ladders.rungs.name", `is "Mid hang"; write it in small letters`},
	{"bad id", "id: mid-hang", "id: mid hang", "", "ladders.rungs.id", `is "mid hang"; use small letters, digits and single hyphens`},
	{"unknown unit", "name: mid hang\n", "name: mid hang\n        unit: minutes\n        was: x\n", "unit: minutes", "ladders.rungs.unit", `is "minutes"; use seconds, reps or tries`},
	{"reps among tries", "unit: tries", "unit: reps", "- id: muscle-up", "ladders.rungs", `"muscle-up" is measured in reps; tries are for`},
	{"tries with a standard", "unit: tries", "unit: tries\n        move_on: {sets: 1, work: 1}", "- id: muscle-up", "ladders.rungs", `"muscle-up" has a move_on; tries have none`},
	{"two gates on a ladder", "{rung: transitions,", "{rung: toe-support,", "- name: support", "ladders", `ladder "support" has 2 gates; keep one`},
	{"a harder rung in another unit", "gates:\n  - {rung: pull-ups,", "gates:\n  - {rung: ring-rows,", "- id: ring-rows", "ladders.rungs", `"ring-rows" has a gate and a move_on`},
	{"work of zero", "move_on: {sets: 3, work: 8}", "move_on: {sets: 3, work: 0}", "", "ladders.rungs.move_on.work", "is 0; it must be from 1"},
	{"gate of zero sets", "{rung: pull-ups, sets: 1,", "{rung: pull-ups, sets: 0,", "", "gates.sets", "is 0; it must be from 1"},
	{"gate of zero work", "{rung: pull-ups, sets: 1, work: 5", "{rung: pull-ups, sets: 1, work: 0", "", "gates.work", "is 0; it must be from 1"},
	{"gate on no ladder", "{rung: deep-hang,", "{rung: deep-dive,", "", "gates", `the gate stands on no ladder: no rung has the id "deep-dive"`},
	{"gate on tries", "{rung: ring-dips,", "{rung: muscle-up,", "", "gates", "the gate stands on tries"},
	{"advice that blocks", "work: 5, blocking: false}", "work: 5, blocking: true}", "", "gates", `the gate on "ring-dips" blocks`},
	{"two gates on a rung", "{rung: support, sets", "{rung: deep-hang, sets", "", "gates", `"deep-hang" has 2 gates`},
	{"rung without a standard", "move_on: {sets: 3, work: 3}", "stop_gap: 3", "- id: slow-lowers", "ladders.rungs", `"slow-lowers" has neither move_on nor a gate`},
	{"gate and move_on", "{rung: pull-ups,", "{rung: slow-lowers,", "- id: slow-lowers", "ladders.rungs", `"slow-lowers" has a gate and a move_on`},
	{"helped form of nothing", "{of: pull-ups, help: band}", "{of: push-ups, help: band}", "", "ladders.rungs.helped", `no rung has the id "push-ups"`},
	{"helped form of an easier rung", "{of: pull-ups, help: band}", "{of: ring-rows, help: band}", "", "ladders.rungs.helped", `"ring-rows" is no harder rung`},
	{"alternate names no ladder", "alternate: [false grip, support]", "alternate: [false grip, hang]", "", "shape.alternate", `no ladder is called "hang"`},
	{"alternate with one", "alternate: [false grip, support]", "alternate: [support]", "", "shape.alternate", "one ladder cannot take turns"},
	{"alternate names one twice", "alternate: [false grip, support]", "alternate: [support, support]", "", "shape.alternate", `"support" stands twice`},
	{"alternate names tries", "alternate: [false grip, support]", "alternate: [support, attempts]", "", "shape.alternate", `"attempts" is the ladder of tries`},
	{"rest names no ladder", "rest_s: {pull: 120,", "rest_s: {push: 9, pull: 120,", "", "shape.rest_s.push", `no ladder is called "push"`},
	{"ladder without rest", "transition: 60, dips: 120}", "dips: 120}", "", "shape.rest_s", `ladder "transition" has no rest`},
	{"replaces names no ladder", "replaces: transition", "replaces: turn", "", "shape.replaces", `no ladder is called "turn"`},
	{"tries without a dose", "  tries: 5\n", "", "shape:", "shape", "there is a ladder of tries; add tries and try_rest_s"},
	{"no cautions", "safety:\n", "safety: []\nwas:\n", "", "safety", "is an empty list"},
	{"text over two lines", "name: ring muscle-up", `name: "ring\nmuscle-up"`, "", "name", "holds a line break"},
	{"empty text", "name: ring muscle-up", `name: ""`, "", "name", "is empty"},
	{"nothing", "name: ring muscle-up", "name:", "", "name", "is empty; write text here"},
	{"a list for a text", "name: ring muscle-up", "name: [ring]", "", "name", "is a list; write text here"},
	{"a reference", "id: ring-muscle-up\nname: ring muscle-up", "id: &n ring-muscle-up\nname: *n", "name: *n", "name", "is a reference to another place; write text here"},
	{"a reference to nothing", "name: ring muscle-up", "name: *n", "# The built-in", "file", "is no YAML (unknown anchor 'n' referenced)"},
	{"no YAML", "name: ring muscle-up", "name: [ring muscle-up", "id: ring-muscle-up", "file", "is no YAML"},
	{"a second document", "name: ring muscle-up", "name: ring muscle-up\n---\nother: 1\n---", "---", "file", "holds a second document"},
}

func TestFaults(t *testing.T) {
	whole := string(ringMuscleUp)
	for _, c := range faultCases {
		t.Run(c.name, func(t *testing.T) {
			if n := strings.Count(whole, c.old); n != 1 {
				t.Fatalf("%q stands %d times in the built-in file", c.old, n)
			}
			changed := strings.Replace(whole, c.old, c.new, 1)
			at := strings.Index(whole, c.old)
			if c.at != "" {
				at = strings.Index(changed, c.at)
			}
			line := strings.Count(changed[:at], "\n") + 1
			_, err := Load("team.yaml", []byte(changed))
			want := fmt.Sprintf("team.yaml:%d: %s: %s", line, c.key, c.say)
			if err == nil || !slices.ContainsFunc(Faults(err), func(f *Fault) bool { return strings.HasPrefix(f.Error(), want) }) {
				t.Errorf("got\n%v\nwant a line that starts with\n%s", err, want)
			}
		})
	}
}

// TestMixedUnits puts a rung in reps above a gate in seconds.
func TestMixedUnits(t *testing.T) {
	text := strings.NewReplacer("{rung: transitions, sets: 3, work: 60, rest_s: 60,", "{rung: toe-transitions, sets: 3, work: 60,",
		"unit: seconds\n        move_on: {sets: 1, work: 60}", "unit: reps").Replace(string(ringMuscleUp))
	_, err := Load("x.yaml", []byte(text))
	if err == nil || !strings.Contains(err.Error(), `a rung above the gate's "toe-transitions" is measured otherwise`) {
		t.Errorf("got %v", err)
	}
}

// TestAllFaults reads a file with several faults: each is told, by line.
func TestAllFaults(t *testing.T) {
	text := strings.NewReplacer("clear_days: 2", "clear_days: 9", "rung: deep-hang", "rung: nowhere", "advice: true", "advice: 3").Replace(string(ringMuscleUp))
	p, err := Load("x.yaml", []byte(text))
	if p != nil {
		t.Error("a faulty file gives a programme")
	}
	faults := Faults(err)
	if len(faults) < 3 || !slices.IsSortedFunc(faults, func(a, b *Fault) int { return a.Line - b.Line }) {
		t.Errorf("faults are %v, want at least three by line", faults)
	}
	for _, f := range faults {
		if strings.ContainsAny(f.Error(), "\n\r") {
			t.Errorf("%q is more than one line", f.Error())
		}
	}
	if Faults(errors.New("other")) != nil || Faults(nil) != nil {
		t.Error("Faults finds some in an error of another kind")
	}
}

func TestEmptyAndLong(t *testing.T) {
	for _, text := range []string{"", "# nothing\n", "- a\n", "word", strings.Repeat("#", maxBytes+1)} {
		if p, err := Load("x.yaml", []byte(text)); p != nil || len(Faults(err)) == 0 {
			t.Errorf("Load of %.10q gives %v and %v", text, p, err)
		}
	}
}

// FuzzLoad feeds any bytes: never a panic, a programme or faults of one line
// each, and what is read is whole.
func FuzzLoad(f *testing.F) {
	for _, s := range shipped {
		f.Add(s.data)
	}
	f.Add([]byte("a: &a [*a]"))
	f.Add([]byte("? [x]\n: y"))
	f.Add([]byte("id: !!binary x\n<<: {name: y}"))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := Load("f.yaml", data)
		if (p == nil) == (err == nil) {
			t.Fatalf("Load gives %v and %v", p, err)
		}
		for _, fault := range Faults(err) {
			if fault.Line < 1 || strings.ContainsAny(fault.Error(), "\n\r") {
				t.Errorf("a fault of line %d: %q", fault.Line, fault)
			}
		}
		if p == nil {
			return
		}
		for _, g := range p.Gates {
			if _, _, ok := p.Find(g.Rung); !ok {
				t.Errorf("gate on the unknown rung %q", g.Rung)
			}
		}
	})
}
