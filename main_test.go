package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

// ran is what one run of the binary left.
type ran struct {
	status   int
	out, err string
}

// run runs the program with stdin and an environment of its own.
func run(t *testing.T, stdin string, env map[string]string, args ...string) ran {
	t.Helper()
	var out, errs bytes.Buffer
	status := program{
		args: args, getenv: func(name string) string { return env[name] }, stdin: strings.NewReader(stdin),
		stdout: &out, stderr: &errs, now: func() time.Time { return time.Unix(0, 0) },
	}.run(t.Context())
	return ran{status, out.String(), errs.String()}
}

func file(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestMisuse gives one line that names what is wrong and exit status 2, and
// prints nothing on stdout.
func TestMisuse(t *testing.T) {
	header := "team Tidewater Rings\nzone Europe/Lisbon\ndays Mon Thu\ncoach Ilda\nmembers Priya\n\n"
	for _, c := range []struct {
		name string
		args []string
		want []string
	}{
		{"no command", nil, []string{"say what to do"}},
		{"an unknown command", []string{"train"}, []string{`"train"`, "help"}},
		{"an unknown flag", []string{"rehearse", "--frob"}, []string{"frob", "help"}},
		{"two transcripts", []string{"rehearse", "a", "b"}, []string{"one transcript"}},
		{"a transcript that is not there", []string{"rehearse", "nowhere.chat"}, []string{"nowhere.chat"}},
		{"a bad day", []string{"parse", "--day", "25.11.2026"}, []string{"--day", "YYYY-MM-DD"}},
		{"a programme that is not there", []string{"parse", "--programme", "nowhere.yaml"}, []string{"nowhere.yaml"}},
		{"a bad programme", []string{"parse", "--programme", file(t, "p.yaml", "id: x\nname: y\nladdrs: []\n")}, []string{"p.yaml:3", "laddrs"}},
		{"a bad line", []string{"rehearse", file(t, "t.chat", header+"2026-10-05 19:12 Priya: hi\n2026-10-05 Priya: hi\n")}, []string{"t.chat:8"}},
		{"an unknown name", []string{"rehearse", file(t, "t.chat", header+"2026-10-05 19:12 Nobody: hi\n")}, []string{"t.chat:7", "Nobody"}},
		{"time that goes back", []string{"rehearse", file(t, "t.chat", header+"2026-10-05 19:12 Priya: hi\n2026-10-05 19:11 Priya: hi\n")}, []string{"t.chat:8"}},
		{"a zone that is none", []string{"rehearse", file(t, "t.chat", "team T\nzone Europe/Avalon\n\n")}, []string{"t.chat:2", "Europe/Avalon"}},
		{"days that are none", []string{"rehearse", file(t, "t.chat", "team T\nzone Europe/Lisbon\ndays Mon Foo\n\n")}, []string{"t.chat:3", "Foo"}},
		{"a database that is none", []string{"rehearse", "--db", file(t, "t.db", strings.Repeat("no database ", 400))}, []string{"t.db", "database"}},
		{"an export of nobody", []string{"export"}, []string{"--member"}},
		{"a backup to nowhere", []string{"backup"}, []string{"one file"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := run(t, "", nil, c.args...)
			if got.status != statusUse {
				t.Errorf("exit status %d, want %d", got.status, statusUse)
			}
			if got.out != "" {
				t.Errorf("stdout says %q", got.out)
			}
			if strings.Count(got.err, "\n") != 1 {
				t.Errorf("want one line, got %q", got.err)
			}
			for _, want := range c.want {
				if !strings.Contains(got.err, want) {
					t.Errorf("%q does not say %q", got.err, want)
				}
			}
		})
	}
}

// TestParse reads a message a line, the two characters \n as a new line.
func TestParse(t *testing.T) {
	got := run(t, "3x30s deep hang, 2x1min transitions\n\nsupport 20s\\n5 pull-ups", nil, "parse")
	lines := strings.Split(strings.TrimSuffix(got.out, "\n"), "\n")
	if got.status != statusDone || len(lines) != 3 {
		t.Fatalf("status %d, %d lines:\n%s%s", got.status, len(lines), got.out, got.err)
	}
	want := `{"text":"3x30s deep hang, 2x1min transitions","verdict":"log","day":"2026-11-25","sets":[` +
		`{"rung":"deep hang","work_s":30},{"rung":"deep hang","work_s":30},{"rung":"deep hang","work_s":30},` +
		`{"rung":"transitions","work_s":60},{"rung":"transitions","work_s":60}]}`
	if lines[0] != want {
		t.Errorf("got  %s\nwant %s", lines[0], want)
	}
	var last struct{ Sets []any }
	if err := json.Unmarshal([]byte(lines[2]), &last); err != nil || len(last.Sets) != 2 {
		t.Errorf("two lines in one message read as %s", lines[2])
	}
}

// TestRehearsalIsTheSameOnAnyMachine plays the built-in weeks with 1, 2 and 8
// processors, as text and as JSON; the text renders to itself.
func TestRehearsalIsTheSameOnAnyMachine(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for _, args := range [][]string{{"rehearse"}, {"rehearse", "--json"}} {
		var first string
		for _, processors := range []int{1, 2, 8} {
			runtime.GOMAXPROCS(processors)
			got := run(t, "", nil, args...)
			if got.status != statusDone || got.err != "" {
				t.Fatalf("%v: status %d: %s", args, got.status, got.err)
			}
			if first == "" {
				first = got.out
			}
			if got.out != first {
				t.Errorf("%v: other bytes with %d processors", args, processors)
			}
		}
		if len(args) == 1 {
			if again := run(t, first, nil, "rehearse", "-"); again.out != first {
				t.Error("the text does not render to itself")
			}
		}
	}
}

// TestHost takes a database from a rehearsal through check, export, backup and
// restore.
func TestHost(t *testing.T) {
	dir := t.TempDir()
	db := filepath.Join(dir, "rungbook.db")
	env := map[string]string{"RUNGBOOK_DB": db}
	if got := run(t, "", nil, "rehearse", "--db", db); got.status != statusDone {
		t.Fatal(got.err)
	}
	if got := run(t, "", env, "check"); got.status != statusDone || strings.Contains(got.out, "fault") {
		t.Errorf("check: %d\n%s%s", got.status, got.out, got.err)
	}
	before := run(t, "", env, "export", "--member", "Priya")
	if before.status != statusDone || !json.Valid([]byte(before.out)) {
		t.Fatalf("export: %d %s%s", before.status, before.out, before.err)
	}
	copied := filepath.Join(dir, "copy.db")
	if got := run(t, "", env, "backup", copied); got.status != statusDone {
		t.Fatal(got.err)
	}
	moved := filepath.Join(t.TempDir(), "moved.db")
	env["RUNGBOOK_DB"] = moved
	if got := run(t, "", env, "restore", copied); got.status != statusUse || !strings.Contains(got.err, ".key") {
		t.Errorf("a restore without the key: %d %s", got.status, got.err)
	}
	key, err := os.ReadFile(db + ".key")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(moved+".key", key, 0o600); err != nil {
		t.Fatal(err)
	}
	if got := run(t, "", env, "restore", copied); got.status != statusDone {
		t.Fatal(got.err)
	}
	if after := run(t, "", env, "export", "--member", "Priya"); after.out != before.out {
		t.Errorf("after the restore\n%s\nbefore\n%s", after.out, before.out)
	}
}

// TestCheckFindsFaults gives each fault a line with its mend and exit status 1.
func TestCheckFindsFaults(t *testing.T) {
	env := map[string]string{
		"RUNGBOOK_DB": file(t, "bad.db", strings.Repeat("no database ", 400)), "RUNGBOOK_LOG": "loud", "RUNGBOOK_LISTEN": "everywhere",
		"RUNGBOOK_DISCORD_API": "nowhere", "RUNGBOOK_TOKEN_FILE": "/nowhere/token",
	}
	got := run(t, "", env, "check", "--programme", file(t, "p.yaml", "id: x\n"))
	if got.status != statusFaults || got.err != "" {
		t.Errorf("status %d, stderr %q", got.status, got.err)
	}
	for _, want := range []string{"RUNGBOOK_LOG", "RUNGBOOK_LISTEN", "RUNGBOOK_DISCORD_API", "RUNGBOOK_TOKEN_FILE", "bad.db.key", "not a database", "p.yaml:"} {
		if !strings.Contains(got.out, want) {
			t.Errorf("nothing said of %s in\n%s", want, got.out)
		}
	}
	if strings.Contains(got.out, "sound: settings") {
		t.Errorf("settings are not sound:\n%s", got.out)
	}
}

// TestReadmeShowsWhatIsPrinted holds every line of the README's excerpt, in
// its order, against what the first command prints.
func TestReadmeShowsWhatIsPrinted(t *testing.T) {
	readme, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, tour, _ := strings.Cut(string(readme), "## A short tour")
	_, tour, found := strings.Cut(tour, "```\n")
	excerpt, _, ended := strings.Cut(tour, "```")
	if !found || !ended || strings.Count(excerpt, "\n") < 8 {
		t.Fatalf("no excerpt in the README's tour: %q", excerpt)
	}
	rest := run(t, "", nil, "rehearse").out
	for line := range strings.Lines(excerpt) {
		_, after, ok := strings.Cut(rest, line)
		if !ok {
			t.Fatalf("not printed, or not in this order: %s", line)
		}
		rest = after
	}
}
